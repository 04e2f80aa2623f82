"""What a filer could declare of a filing, as far as its papers say it: a proposal for a person to correct."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator, Sequence

import msgspec

from preflight.facts.declared import DECLARATION
from preflight.papers.matter.identified import dockets_said, titles_said
from preflight.papers.matter.names import agreement, names_said
from preflight.papers.matter.titles import difference
from preflight.papers.model import OTHER, UNKNOWN, Filing, Paper, Said
from preflight.papers.money.claimed import entity_claimed
from preflight.papers.pages.dockets import fold
from preflight.papers.pages.scanned import as_read, scanned_pages


class Other(msgspec.Struct, frozen=True):
    """What another place says of the same."""

    said: str
    where: str


class Proposed(msgspec.Struct, frozen=True):
    """One value, "" or none where no paper says it; `known` says in words where it comes from."""

    key: str
    value: str | tuple[str, ...]
    known: str
    others: tuple[Other, ...] = ()


class FilePaper(msgspec.Struct, frozen=True):
    """A file and the papers in it; without any if it could not be told what it is."""

    file: str
    papers: tuple[Paper, ...]


class Proposal(msgspec.Struct, frozen=True):
    """Everything that is proposed, in the order in which it is best read."""

    values: tuple[Proposed, ...]
    files: tuple[FilePaper, ...]
    roles: tuple[str, ...]
    """The ids that a paper may be declared as."""


def proposed(filing: Filing) -> Proposal:
    """What the papers say, with what other papers say instead; what is declared already comes first.

    Title and docket number also as the pictures of scanned texts seem to read, if no other paper says them.
    """
    seen, scans = as_read(filing) or filing, scanned_pages(filing)
    titles, dockets = (_sure_first(said(seen), scans) for said in (titles_said, dockets_said))
    return Proposal(
        values=(
            Proposed("office", filing.office, "the rulebook that is used"),
            Proposed("kind", filing.kind, "the rulebook that is used"),
            _entity(filing),
            _said("title", filing, titles, lambda one, other: difference(one, other) == "same"),
            _said("docket", filing, dockets, lambda one, other: fold(one) == fold(other)),
            _inventors(filing),
        ),
        files=tuple(_files(filing)),
        roles=tuple(sorted(role.id for role in filing.roles)),
    )


def _sure_first(every: Iterable[Said], scans: Container[tuple[str, int]]) -> list[tuple[Said, str]]:
    """Each with where it stands; what was read from a picture comes last and says so."""
    told = [(said, (said.file, said.page) in scans) for said in every]
    told.sort(key=lambda one: one[1])
    return [(said, f"{_where(said)}, read from its picture" if scan else _where(said)) for said, scan in told]


def _entity(filing: Filing) -> Proposed:
    """Left open where the paper that seems to say it could not be read: it is a statement of the signer."""
    claimed = entity_claimed(filing)
    known = claimed.name is not None and claimed.sure
    return Proposed("entity", (claimed.name or "") if known else "", claimed.how_known if known else _silent(filing))


def _said(key: str, filing: Filing, every: Sequence[tuple[Said, str]], same: Callable[[str, str], bool]) -> Proposed:
    if not every:
        return Proposed(key, "", _silent(filing))
    (first, known), *rest = every
    apart = (Other(said.value, where) for said, where in rest if not same(first.value, said.value))
    return Proposed(key, first.value, known, _once(apart))


def _inventors(filing: Filing) -> Proposed:
    every = names_said(filing)
    if not every:
        return Proposed("inventors", (), _silent(filing))
    first = every[0]
    strange = [
        Other(said.value, _where(said))
        for names in every[1:]
        for said in names
        if all(agreement(ours.value, said.value) != "same" for ours in first)
    ]
    return Proposed("inventors", tuple(said.value for said in first), _where(first[0]), _once(strange))


def _silent(filing: Filing) -> str:
    unread = any(paper.text_unread for paper in filing.papers) or len(filing.papers) < len(filing.files)
    return "no paper that could be read says it" if unread else "no paper says it"


def _where(said: Said) -> str:
    return f"{said.file}, page {said.page}" if said.page else f"declared in {DECLARATION}"


def _once(others: Iterable[Other]) -> tuple[Other, ...]:
    """Each value with the first place that says it."""
    kept: dict[str, Other] = {}
    for other in others:
        kept.setdefault(other.said, other)
    return tuple(kept.values())


def _files(filing: Filing) -> Iterator[FilePaper]:
    for file in filing.files:
        papers = tuple(paper for paper in filing.papers if paper.file == file.name)
        known = all(paper.role not in (OTHER, UNKNOWN) for paper in papers)
        yield FilePaper(file.name, papers if known else ())
