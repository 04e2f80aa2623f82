"""The requirements of one office for one kind of filing, as data with an edition and dates."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from typing import Any, Literal, get_args

import msgspec

from preflight.facts.calendar import ClosedDay, Holiday, Period
from preflight.facts.descriptions import DocumentDescription
from preflight.facts.money import Fee, IncomeLimit

Level = Literal["refusal", "notice", "advice", "none"]
ORDER: tuple[Level, ...] = ("none", "advice", "notice", "refusal")
"""From harmless to fatal."""
Known = Literal["read", "third party", "practice", "memory"]
Reading = Literal[
    "reading the drawings",
    "other kinds of file",
    "the upload plan",
]
"""The kinds of reading that a requirement without a check may wait for, so that they can be counted by kind."""
About = Literal["proper", "receipt", "later", "office"]
"""What a note tells: what is proper as it is, what to see on receipts, what falls due later, how the office works."""


def worse(a: Level, b: Level) -> Level:
    """The graver of two consequences."""
    return max(a, b, key=ORDER.index)


class Citation(msgspec.Struct, frozen=True):
    """Where a requirement comes from and how sure that is."""

    source: str
    known: Known
    """read: compared with the published text or a word-for-word copy; third party: somebody's account of it;
    practice: what careful practitioners do, no source; memory: from memory."""
    read_on: dt.date | None = None
    stands_there: tuple[str, ...] = ()
    """The figures of the rule as the source writes them."""
    derived: dict[str, str] = {}
    """Numbers of the requirement that follow from those, and how."""
    house: dict[str, str] = {}
    """Numbers of the requirement that are ours, and why."""


def best_known(citations: Iterable[Citation]) -> Known:
    """The surest of several ways in which a rule is known."""
    return min((c.known for c in citations), key=get_args(Known).index)


class Grade(msgspec.Struct, frozen=True):
    """A consequence of its own for outcomes of one sort, or beyond one limit. The first that fits is taken."""

    filing: Level
    examination: Level
    sort: str | None = None
    """Fits outcomes that the check names so."""
    above: float | None = None
    """Fits measured values greater than this."""
    below: float | None = None
    """Fits measured values smaller than this."""
    message: str | None = None
    fix: str | None = None


class When(msgspec.Struct, frozen=True):
    """Conditions from a closed list; all that are given must hold."""

    entity: tuple[str, ...] = ()
    role: tuple[str, ...] = ()
    """At least one paper of one of these roles is there."""


class Requirement(msgspec.Struct, frozen=True):
    """One rule of law or practice. It is measured by `check`, or `asked_in` a question, or `waits_for` a reading.

    The consequences of one that is asked are those of the answer "no".
    """

    id: str
    title: str
    filing: Level
    examination: Level
    why: str
    citations: tuple[Citation, ...]
    check: str | None = None
    limits: dict[str, Any] = {}
    """What the check is given: `with` in the data file."""
    applies_to: tuple[str, ...] = ()
    """Roles of papers; empty: not bound to a role."""
    levels: tuple[Grade, ...] = ()
    yields_to: tuple[str, ...] = ()
    unread_yields_to: tuple[str, ...] = ()
    """Those whose breach already says why this could not be read. What was read is reported beside them."""
    when: When = When()
    message: str = ""
    fix: str = ""
    exceptions: str = ""
    """In words: what is proper although it looks like a breach."""
    also: tuple[str, ...] = ()
    """Further ids of the same rule; it speaks for them, and they are found under it."""
    asked_in: str | None = None
    """The question that covers it; its conditions hold for the requirement too."""
    waits_for: Reading | None = None
    since: dt.date | None = None
    until: dt.date | None = None

    @property
    def known(self) -> Known:
        """How well it is known: by its best citation."""
        return best_known(self.citations)

    @property
    def worst(self) -> tuple[Level, Level]:
        """The gravest consequences that it can have (for the filing, for the examination)."""
        filing, examination = self.filing, self.examination
        for grade in self.levels:
            filing, examination = worse(filing, grade.filing), worse(examination, grade.examination)
        return filing, examination

    def numbers(self) -> Iterator[tuple[str, float]]:
        """Every number that it holds, with its name, for comparison with the sources."""
        for name, value in self.limits.items():
            for number in _numbers_in(value):
                yield name, number
        for grade in self.levels:
            for name in ("above", "below"):
                if (limit := getattr(grade, name)) is not None:
                    yield name, float(limit)


def _numbers_in(value: object) -> Iterator[float]:
    if isinstance(value, bool):
        return
    if isinstance(value, int | float):
        yield float(value)
    elif isinstance(value, list | tuple):
        for item in value:
            yield from _numbers_in(item)
    elif isinstance(value, dict):
        yield from _numbers_in(list(value.values()))


class Question(msgspec.Struct, frozen=True):
    """What only a person can answer, once for all requirements that name it."""

    id: str
    text: str
    when: When = When()
    shows: str = ""
    """Role of the paper whose first page is to be looked at."""
    rests_on: tuple[str, ...] | None = None
    """Roles of the papers whose change voids an answer; None: of all papers."""


class Note(msgspec.Struct, frozen=True):
    """A rule that neither breaks nor asks anything in this folder, told so that nothing is left out in silence."""

    id: str
    title: str
    about: About
    text: str
    citations: tuple[Citation, ...]
    also: tuple[str, ...] = ()
    """Further ids of the same rule."""

    @property
    def known(self) -> Known:
        """How well it is known: by its best citation."""
        return best_known(self.citations)


class Extension(msgspec.Struct, frozen=True):
    """What a plug-in adds to a rulebook: requirements of a house, never of the law."""

    id: str
    extends: str
    """The id of the rulebook."""
    title: str
    edition: dt.date
    requirements: tuple[Requirement, ...] = ()
    questions: tuple[Question, ...] = ()
    notes: tuple[Note, ...] = ()
    sha256: str = ""
    """Over its data files."""
    plugin: str = ""
    """The plug-in that offers it, by name and version."""


class Rulebook(msgspec.Struct, frozen=True):
    """One office, one kind of filing, one edition."""

    id: str
    office: str
    kind: str
    title: str
    edition: dt.date
    timezone: str
    requirements: tuple[Requirement, ...]
    questions: tuple[Question, ...] = ()
    notes: tuple[Note, ...] = ()
    fees: tuple[Fee, ...] = ()
    fees_checked_on: dt.date | None = None
    fee_cautions: tuple[str, ...] = ()
    """What stands beside every amount."""
    income_limits: tuple[IncomeLimit, ...] = ()
    holidays: tuple[Holiday, ...] = ()
    closed_days: tuple[ClosedDay, ...] = ()
    periods: tuple[Period, ...] = ()
    """In the order in which they are shown."""
    document_descriptions: tuple[DocumentDescription, ...] = ()
    cautions: tuple[str, ...] = ()
    sha256: str = ""
    """Over the data files, so that a report names exactly what it was measured against."""
    extensions: tuple[Extension, ...] = ()
    """Whose requirements, questions and notes stand behind its own."""

    def in_force(self, day: dt.date) -> tuple[Requirement, ...]:
        """The requirements that bind a filing made on this day."""
        return tuple(
            r for r in self.requirements if (r.since is None or r.since <= day) and (r.until is None or day < r.until)
        )

    def added_by(self, name: str) -> Extension | None:
        """The extension that an id of a requirement, question or note comes from; None for the rulebook's own."""
        return next((e for e in self.extensions if name in names(e)), None)


def names(book: Rulebook | Extension) -> frozenset[str]:
    """Every id in it, also those of questions and those that an entry goes by too."""
    rules: tuple[Requirement | Note, ...] = (*book.requirements, *book.notes)
    return frozenset((*(i for r in rules for i in (r.id, *r.also)), *(q.id for q in book.questions)))
