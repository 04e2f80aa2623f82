"""The flow: one folder in, one report out."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from pathlib import Path

import msgspec

from preflight.bundle import read_declared, read_folder, settle
from preflight.datafiles import DataMistakes, nearest
from preflight.facts import FileFacts, Manifest
from preflight.facts.declared import Declared, Settled
from preflight.judging import Examined, Review, Verdict, examine, judge, review
from preflight.papers import Filing, entity_claimed, find_papers
from preflight.plugging import Registry, examine_plugins
from preflight.reading import Cache, clip, read_files
from preflight.reporting import Pictures, Report, build_report, with_pictures
from preflight.rulebooks import Rulebook

CannotStart = DataMistakes
"""Raised when the command cannot start; `mistakes` holds a line for each reason."""


class Request(msgspec.Struct, frozen=True):
    """What the person asks for; None leaves it to filing.toml, then to the rulebook's defaults."""

    office: str | None = None
    kind: str | None = None
    filing_date: dt.date | None = None
    payment_date: dt.date | None = None
    ready_for: str | None = None
    entity: str | None = None


def check_folder(
    folder: Path,
    request: Request,
    *,
    now: dt.datetime,
    registry: Registry,
    tell: Callable[[str, int, int], None] | None = None,
    cache: Cache | None = None,
    pictures: Pictures = "none",
) -> Report:
    """Check one folder for one office; `now` must know its time zone, `tell` hears file, pages read, pages in all.
    Without a `cache` nothing is kept; `pictures` says which ones the report holds.

    Raises CannotStart for a folder, filing.toml or office that cannot be used, with all mistakes.
    """
    read = read_filing(folder, request, now=now, registry=registry, tell=tell, cache=cache)
    report = report_of(read, judge_filing(read, registry), registry, now)
    return with_pictures(report, read.filing.files, lambda cuts: clip(folder, read.manifest.files, cuts), pictures)


class ReadFiling(msgspec.Struct, frozen=True):
    """A folder read and understood, not yet checked."""

    manifest: Manifest
    settled: Settled
    rulebook: Rulebook
    filing: Filing


def read_filing(
    folder: Path,
    request: Request,
    *,
    now: dt.datetime,
    registry: Registry,
    tell: Callable[[str, int, int], None] | None = None,
    cache: Cache | None = None,
) -> ReadFiling:
    """The left half of the flow: the folder as papers of one filing, with what was assumed; nothing is checked yet.

    Raises CannotStart as `check_folder` does.
    """
    asked = Declared(**msgspec.structs.asdict(request))
    manifest = read_folder(folder)
    declared = read_declared(folder, manifest, registry.roles)
    rulebook = choose_rulebook(registry, asked, declared)
    settled = settle(asked, declared, timezone=rulebook.timezone, now=now)
    facts = read_files(folder, manifest.files, tell=tell, cache=cache)
    return ReadFiling(manifest, settled, rulebook, understand(settled, manifest, facts, registry, rulebook, now))


class Judged(msgspec.Struct, frozen=True):
    """A filing judged: what every check saw, what a person decided, the verdict, and that at the other strictness."""

    examined: tuple[Examined, ...]
    review: Review
    verdict: Verdict
    other: Verdict


def judge_filing(read: ReadFiling, registry: Registry) -> Judged:
    """The right half of the flow, as far as the verdict."""
    settled, rulebook, filing = read.settled, read.rulebook, read.filing
    examined = (
        examine_plugins(registry.plugins),
        *examine(
            filing,
            rulebook.in_force(settled.filing_date),
            registry.checks,
            entity_claimed(filing).name,
            registry.check_owner,
        ),
    )
    looked = review(filing, rulebook.questions, examined)
    verdict, other = (judge(examined, filing.digests, strictness, looked) for strictness in settled.strictnesses)
    return Judged(examined, looked, verdict, other)


def report_of(read: ReadFiling, judged: Judged, registry: Registry, now: dt.datetime) -> Report:
    """What was judged, told."""
    return build_report(
        read.filing,
        read.manifest,
        read.settled,
        entity_claimed(read.filing),
        read.rulebook,
        registry.plugins,
        judged.examined,
        judged.verdict,
        judged.other,
        now,
    )


def understand(
    settled: Settled,
    manifest: Manifest,
    facts: tuple[FileFacts, ...],
    registry: Registry,
    rulebook: Rulebook,
    now: dt.datetime,
) -> Filing:
    """The files' facts as papers of one filing."""
    roles = tuple(registry.roles.values())
    return Filing(
        office=settled.office,
        kind=settled.kind,
        entries=manifest.entries,
        files=facts,
        papers=find_papers(facts, roles, settled.declared),
        filing_date=settled.filing_date,
        payment_date=settled.payment_date,
        declared=settled.declared,
        fees=rulebook.fees,
        roles=roles,
        clock=now,
        office_zone=rulebook.timezone,
    )


def choose_rulebook(registry: Registry, asked: Declared, declared: Declared) -> Rulebook:
    """The rulebook of the office and kind asked for, declared, or the first there is.

    Raises CannotStart if there is none: without law nothing can pass.
    """
    if not registry.rulebooks:
        raise CannotStart([*registry.troubles(), "no rulebook is installed: there is nothing to check against"])
    office = asked.office or declared.office or registry.offices()[0]
    if office not in registry.offices():
        offices = registry.offices()
        unknown = f'office "{office}" is unknown{nearest(office, offices)}; known: {", ".join(offices)}'
        raise CannotStart([*registry.troubles(), unknown])
    kinds = {kind: book for (of, kind), book in registry.rulebooks.items() if of == office}
    kind = asked.kind or declared.kind or next(iter(kinds))
    if kind not in kinds:
        raise CannotStart(
            [f'kind "{kind}" is unknown for office {office}{nearest(kind, kinds)}; known: {", ".join(kinds)}']
        )
    return kinds[kind]
