"""Findings on the page: numbered, grouped by what follows, and the steps that mend them, file by file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple, get_args

from preflight.reporting.findings import MEANING, known_as
from preflight.reporting.page.pictures import Figure, Store, close_ups
from preflight.reporting.places import WHOLE_FOLDER, where
from preflight.reporting.report import Consequence, Finding, Report, SignedOff
from preflight.reporting.wording import counted, day, file_name, listed

_GROUPS = ("refusal", "notice", "unread", "advice", "signed")
"""What keeps the filing from passing stands before what does not."""
_UNCOUNTED = {"unread": "not read", "signed": "signed off"}
_MEANING: dict[str, str] = {
    **{str(level): said for level, said in MEANING.items()},
    "unread": "nothing is known for sure of these, they never count as met",
    "signed": "a reviewer accepted these as they are",
}


class Signed(NamedTuple):
    """A reviewer's acceptance."""

    by: str
    on: str
    reason: str


class Entry(NamedTuple):
    """One finding as it is shown."""

    number: int
    anchor: str
    group: str
    id: str
    state: str
    consequence: str
    label: str
    """The word in the margin: what follows, or that it was not read."""
    blocks: bool
    """It keeps the filing from passing."""
    message: str
    file: str
    """Or the folder as a whole."""
    where: tuple[str, ...]
    measured: str
    required: str
    covers: tuple[str, ...]
    fix: str
    why: str
    rule: str
    rule_id: str
    source: str
    signed: Signed | None
    pages: tuple[Figure, ...]
    close_ups: tuple[Figure, ...]
    unseen: str
    """The pages among them of which there is no picture, in words."""


class Group(NamedTuple):
    """Findings from which the same follows."""

    anchor: str
    title: str
    meaning: str
    entries: tuple[Entry, ...]


class Todo(NamedTuple):
    """One thing to do, for all findings that ask for it."""

    what: str
    entries: tuple[Entry, ...]


class Step(NamedTuple):
    """What to mend in one file, in one go; `also` is advice for the same file, while it is open."""

    file: str
    mend: tuple[Todo, ...]
    also: tuple[Todo, ...]


def entries_of(report: Report, store: Store) -> Iterator[Entry]:
    """All findings in the order in which they are shown, numbered from 1."""
    titles = {row.id: row.title for row in report.requirements}
    for number, finding in enumerate(_in_order(report.findings), 1):
        yield _entry(number, finding, report, titles, store)


def _in_order(findings: Sequence[Finding]) -> list[Finding]:
    """As they are grouped, within a group by consequence; else as the report has them."""
    rank = {level: number for number, level in enumerate(get_args(Consequence))}
    return sorted(findings, key=lambda f: (_GROUPS.index(_group_of(f)), rank[f.consequence]))


def _group_of(finding: Finding) -> str:
    if finding.signed_off:
        return "signed"
    return "unread" if finding.state == "unread" else finding.consequence


def _entry(number: int, finding: Finding, report: Report, titles: dict[str, str], store: Store) -> Entry:
    return Entry(
        number=number,
        anchor=f"finding-{number}",
        group=_group_of(finding),
        id=finding.id,
        state=finding.state,
        consequence=finding.consequence,
        label="not read" if finding.state == "unread" else finding.consequence,
        blocks=finding.signed_off is None and finding.consequence != "advice",
        message=finding.message,
        file=file_name(finding.file) if finding.file else WHOLE_FOLDER,
        where=tuple(where(finding, report.documents)),
        measured=finding.measured.text if finding.measured else "",
        required=finding.required.text if finding.required else "",
        covers=tuple(titles.get(name, name) for name in finding.covers),
        fix=finding.fix,
        why=finding.why,
        rule=titles.get(finding.requirement, finding.requirement),
        rule_id=finding.requirement,
        source="; ".join(finding.citations) + known_as(finding.known),
        signed=_signed(finding.signed_off) if finding.signed_off else None,
        pages=tuple(store.of(finding)),
        close_ups=tuple(close_ups(finding)),
        unseen=listed(store.lacking(finding)),
    )


def _signed(off: SignedOff) -> Signed:
    return Signed(off.by, day(off.on), off.reason)


def groups_of(entries: Sequence[Entry]) -> Iterator[Group]:
    """Only groups that have something in them."""
    for group in _GROUPS:
        if some := tuple(entry for entry in entries if entry.group == group):
            yield Group(group, _counted(group, len(some)), _MEANING[group], some)


def _counted(group: str, number: int) -> str:
    if group in _UNCOUNTED:
        return f"{number} {_UNCOUNTED[group]}"
    return f"{counted(number, 'piece')} of advice" if group == "advice" else counted(number, group)


def steps_of(entries: Iterable[Entry]) -> Iterator[Step]:
    """The files that must be mended, the gravest first: whoever opens a file mends all of it before the next export."""
    shown = [entry for entry in entries if not entry.signed]
    for file in dict.fromkeys(entry.file for entry in shown if entry.blocks):
        of_file = [entry for entry in shown if entry.file == file]
        mend, also = ([entry for entry in of_file if entry.blocks is must] for must in (True, False))
        yield Step(file, tuple(_todos(mend)), tuple(_todos(also)))


def _todos(entries: Sequence[Entry]) -> Iterator[Todo]:
    """The same words once, however many findings they mend."""
    for what in dict.fromkeys(entry.fix or entry.message for entry in entries):
        yield Todo(what, tuple(entry for entry in entries if (entry.fix or entry.message) == what))
