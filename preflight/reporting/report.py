"""The one report object: every output is made from it, adds nothing and loses nothing.

Its JSON is the contract `preflight-report/1` (schemas/report.schema.json).
"""

from __future__ import annotations

import datetime as dt
from typing import Literal

import msgspec

from preflight.facts import Box, Clipping
from preflight.papers import FigureRow, NotRead

PROGRAM = "preflight"
RECORD_CREATOR = f"{PROGRAM} record"
"""By this the record is known again as a file of ours."""
Consequence = Literal["refusal", "notice", "advice"]
State = Literal["met", "broken", "unread", "not applicable", "by hand", "not measured"]


class Named(msgspec.Struct, frozen=True):
    """A program or plug-in with its version; `trouble` says what kept a plug-in from working."""

    name: str
    version: str
    trouble: str | None = None


class Extension(msgspec.Struct, frozen=True):
    """House requirements that a plug-in added to the rulebook."""

    id: str
    title: str
    edition: dt.date
    sha256: str
    plugin: str
    """Name and version."""


class Book(msgspec.Struct, frozen=True):
    """The rulebook that was used."""

    id: str
    title: str
    edition: dt.date
    sha256: str
    """Of the law alone, whatever was added to it."""
    extensions: tuple[Extension, ...] = ()


class BundleHead(msgspec.Struct, frozen=True):
    """What was checked and under which assumptions; `how_known` says for each where it comes from."""

    folder: str
    office: str
    kind: str
    ready_for: str
    entity: str
    filing_date: dt.date
    payment_date: dt.date
    how_known: dict[str, str] = {}


class Reasons(msgspec.Struct, frozen=True):
    """Counts behind the verdict: findings that were not signed off, open questions, requirements without a check."""

    broken: int = 0
    unread: int = 0
    questions: int = 0
    not_measured: int = 0
    signed_off: int = 0
    answered_no: int = 0
    """Questions whose answer "no" fails the filing."""


class PaperRow(msgspec.Struct, frozen=True):
    """A run of pages with one role."""

    role: str
    first_page: int
    last_page: int
    how_known: str


class Document(msgspec.Struct, frozen=True):
    """One file of the folder. `note` says why it was not looked at or could not be read."""

    file: str
    sha256: str
    bytes: int
    media_type: str
    pages: int
    papers: tuple[PaperRow, ...] = ()
    note: str | None = None


class Place(msgspec.Struct, frozen=True):
    """Where a finding shows."""

    file: str
    sha256: str
    role: str | None = None
    page: int | None = None
    box_cm: Box | None = None
    picture: Clipping | None = None
    """The place with its surroundings; null where nobody asked for pictures, or the place is no small one."""


class Value(msgspec.Struct, frozen=True):
    """A number with its unit and the words that people read; `value` is null where it is not a number."""

    value: float | None
    unit: str | None
    text: str


class SignedOff(msgspec.Struct, frozen=True):
    """A reviewer's acceptance of one finding."""

    by: str
    on: dt.date
    reason: str


class Consequences(msgspec.Struct, frozen=True):
    """What happens if it is filed so, for the provisional itself and for the examination that follows."""

    filing: str
    examination: str


class Finding(msgspec.Struct, frozen=True):
    """One defect, or one thing that could not be read, with everything a person needs to mend it."""

    id: str
    requirement: str
    check: str
    state: Literal["broken", "unread"]
    consequence: Consequence
    consequences: Consequences
    covers: tuple[str, ...]
    file: str | None
    page: int | None
    box_cm: Box | None
    places: tuple[Place, ...]
    measured: Value | None
    required: Value | None
    message: str
    why: str
    fix: str
    citations: tuple[str, ...]
    known: str
    """How the rule is known: read, third party, practice, memory."""
    signed_off: SignedOff | None = None


class RequirementRow(msgspec.Struct, frozen=True):
    """One requirement and what became of it: every requirement is listed, so nothing is silently skipped."""

    id: str
    title: str
    state: State
    citations: tuple[str, ...]
    looked_at: int
    """Places that were measured."""
    why: str
    """In words: what the state rests on."""
    waits_for: str | None = None
    """The kind of reading that a requirement waits for which this version does not measure."""


class Answer(msgspec.Struct, frozen=True):
    """A reviewer's answer to a question."""

    value: Literal["yes", "no", "does not apply"]
    by: str
    on: dt.date
    note: str = ""


class Question(msgspec.Struct, frozen=True):
    """What only a person can check, asked once for all requirements that it covers."""

    id: str
    requirement: str
    """The gravest of those that it covers."""
    covers: tuple[str, ...]
    question: str
    file: str | None = None
    page: int | None = None
    """Of what it asks to look at."""
    picture: Clipping | None = None
    answer: Answer | None = None
    consequence: Literal["refusal", "notice", "advice", "none"] = "none"
    """What follows if the answer is no."""


class Void(msgspec.Struct, frozen=True):
    """A sign-off or an answer of filing.toml that holds no more: the finding or the question stands open again."""

    of: Literal["finding", "question"]
    id: str
    text: str
    """What was accepted, or answered."""
    by: str
    on: dt.date
    said: str
    """The reason, or the answer with its note."""
    why: str
    """Why it is void."""


class Later(msgspec.Struct, frozen=True):
    """What only the nonprovisional needs: never a finding for a provisional."""

    requirement: str
    message: str
    places: tuple[Place, ...] = ()


class FeeRow(msgspec.Struct, frozen=True):
    """One line of what is due."""

    id: str
    name: str
    code: str
    quantity: int
    each: int
    amount: int
    citation: str
    since: dt.date
    known: str


class Worksheet(msgspec.Struct, frozen=True):
    """What is due on the day of payment, by the table of that day."""

    currency: str
    entity: str
    payment_date: dt.date
    sheets: int
    """Pages of specification, claims, abstract and drawings that were counted."""
    lines: tuple[FeeRow, ...]
    total: int
    stated: int | None = None
    """What the papers or the filer say is paid; None if nothing says it."""
    note: str = ""


class PartName(msgspec.Struct, frozen=True):
    """A name of a part, in lower case, with how often it stands beside its reference character."""

    name: str
    times: int


class FirstNamed(msgspec.Struct, frozen=True):
    """Where a reference character first stands in the text."""

    file: str
    page: int


class CharacterUse(msgspec.Struct, frozen=True):
    """One reference character. Figures are labels ("FIG. 2A"), or "sheet 3" where the sheet shows none."""

    character: str
    names: tuple[PartName, ...]
    """The most used one first."""
    first: FirstNamed | None
    figures_in_text: tuple[str, ...]
    figures_drawn: tuple[str, ...]
    doubtful: bool
    """Drawn only where the reading was not sure."""


class Characters(msgspec.Struct, frozen=True):
    """The reference characters of text and drawings, as far as they could be read, and the figures."""

    characters: tuple[CharacterUse, ...] = ()
    figures: tuple[FigureRow, ...] = ()
    unread: tuple[NotRead, ...] = ()
    drawings: bool = False
    """Whether there are drawings at all."""


class PagePicture(msgspec.Struct, frozen=True):
    """A whole page as displayed; width and height in cm."""

    file: str
    page: int
    width: float
    height: float
    webp: bytes


class Report(msgspec.Struct, frozen=True, kw_only=True, rename={"schema_id": "schema"}):
    """The whole report."""

    schema_id: str = "preflight-report/1"
    tool: Named
    created: str
    rulebook: Book
    plugins: tuple[Named, ...]
    readers: dict[str, str]
    bundle: BundleHead
    verdict: Literal["pass", "fail"]
    headline: str
    """Verdict and why, in one line."""
    reasons: Reasons
    documents: tuple[Document, ...]
    findings: tuple[Finding, ...]
    requirements: tuple[RequirementRow, ...]
    by_hand: tuple[Question, ...]
    for_later: tuple[Later, ...]
    other_strictness: str
    """What the other --ready-for would change, in one line."""
    characters: Characters = Characters()
    fees: Worksheet | None
    dates: dict[str, str]
    cautions: tuple[str, ...]
    void: tuple[Void, ...] = ()
    page_pictures: tuple[PagePicture, ...] = ()
    """For outputs that show pages, made only for these. Never in the JSON: it would be ten times as large."""

    @property
    def told_with_others(self) -> tuple[RequirementRow, ...]:
        """The broken requirements that have no finding of their own; `why` names the one whose finding reports them."""
        own = {f.requirement for f in self.findings} | {later.requirement for later in self.for_later}
        return tuple(row for row in self.requirements if row.state == "broken" and row.id not in own)
