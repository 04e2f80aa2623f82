"""What a filer could declare of a filing, as far as its papers say it: a proposal for a person to correct."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

import msgspec

from preflight.facts.declared import DECLARATION
from preflight.papers.matter.identified import dockets_said, titles_said
from preflight.papers.matter.names import agreement, names_said
from preflight.papers.matter.titles import difference
from preflight.papers.model import OTHER, UNKNOWN, Filing, Paper, Said
from preflight.papers.money.claimed import entity_claimed
from preflight.papers.pages.dockets import fold


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
    """What the papers say, with what other papers say instead; what is declared already comes first."""
    return Proposal(
        values=(
            Proposed("office", filing.office, "the rulebook that is used"),
            Proposed("kind", filing.kind, "the rulebook that is used"),
            _entity(filing),
            _said("title", filing, titles_said(filing), lambda one, other: difference(one, other) == "same"),
            _said("docket", filing, dockets_said(filing), lambda one, other: fold(one) == fold(other)),
            _inventors(filing),
        ),
        files=tuple(_files(filing)),
        roles=tuple(sorted(role.id for role in filing.roles)),
    )


def _entity(filing: Filing) -> Proposed:
    claimed = entity_claimed(filing)
    return Proposed("entity", claimed.name or "", claimed.how_known if claimed.name else _silent(filing))


def _said(key: str, filing: Filing, every: Sequence[Said], same: Callable[[str, str], bool]) -> Proposed:
    if not every:
        return Proposed(key, "", _silent(filing))
    first = every[0]
    apart = [said for said in every[1:] if not same(first.value, said.value)]
    return Proposed(key, first.value, _where(first), _once(Other(said.value, _where(said)) for said in apart))


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
