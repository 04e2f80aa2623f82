"""What a practitioner sees in a folder: papers with roles, and the filing that they make up."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from typing import Literal

import msgspec

from preflight.facts import Box, Entry, Field, FileFacts, Page
from preflight.facts.declared import Declared as Declared
from preflight.facts.money import Fee

Kind = Literal["text", "drawing", "form", "letter", "other"]
OTHER = "other"
"""The role of pages that can be read and are none of the known papers."""
SCAN = "it is a picture (a scan) without text that could be read"
STAMP_WORDS = 25
"""A stamp on a scan has fewer words than this. House value."""
UNKNOWN = "unknown"
"""The role of pages that cannot be read and that nothing else names."""


class Sign(msgspec.Struct, frozen=True):
    """Why a page seems to have a role: `weight` from 0 (none) to 1 (certain), `how` in words for the reader."""

    weight: float
    how: str
    starts: bool = True
    """Whether a paper begins here; False where the page only looks like part of one."""


class Role(msgspec.Struct, frozen=True):
    """One role that a paper can have. Roles enter through the plug-in door, the built-in ones too.

    `recognise` looks at one page of a file (with the file's facts, for its form fields) and gives a
    `Sign` or None. `names` are words that a file name of this role would hold, lower case.
    """

    id: str
    title: str
    kind: Kind
    recognise: Callable[[FileFacts, Page], Sign | None]
    names: tuple[str, ...] = ()


class Paper(msgspec.Struct, frozen=True):
    """A run of pages with one role. One PDF may hold several papers."""

    role: str
    kind: Kind
    file: str
    sha256: str
    pages: tuple[Page, ...]
    how_known: str
    """In words: "declared in filing.toml", "heading on page 1", "file name" ..."""
    fields: tuple[Field, ...] = ()
    """The form fields on its pages."""
    around: tuple[Paper, ...] = ()
    """The other text papers of the folder: what runs along with their pages may run along with its own."""

    @property
    def first_page(self) -> int:
        """The number of its first page within the file."""
        return self.pages[0].number

    @property
    def last_page(self) -> int:
        """The number of its last page within the file."""
        return self.pages[-1].number

    @property
    def unread(self) -> str | None:
        """Why nothing that stands on this paper can be read, neither fields nor words; None if something can."""
        return None if self.fields else self.text_unread

    @property
    def text_unread(self) -> str | None:
        """Why the words of this paper cannot be read, or None if they can on at least one page."""
        if self.kind == "drawing" and any(p.readings or any(ln.visible for ln in p.lines) for p in self.pages):
            return None  # a label or a sheet number over a picture is all the text that a drawing has
        reasons = [text_unread(page) for page in self.pages]
        if any(reason is None and page.lines for reason, page in zip(reasons, self.pages, strict=True)):
            return None
        return next((reason for reason in reasons if reason), "its pages are blank")


def side_by_side(papers: Sequence[Paper]) -> tuple[Paper, ...]:
    """The papers of a folder, each text paper with the others around it."""
    text = [paper for paper in papers if paper.kind == "text"]
    return tuple(
        msgspec.structs.replace(paper, around=tuple(other for other in text if other is not paper))
        if paper.kind == "text"
        else paper
        for paper in papers
    )


def is_scanned(page: Page) -> bool:
    """Whether a picture covers most of the page."""
    return any(picture.box.area > page.width * page.height / 2 for picture in page.pictures)


def text_unread(page: Page) -> str | None:
    """Why the words of a page cannot be read, or None if they can or the page is blank.

    A picture over most of a page is a scan, also where a stamp or a few words of a program stand on it.
    """
    if page.unread or page.text_unread:
        return page.unread or page.text_unread
    count = sum(len(line.text.split()) for line in page.lines if line.visible)
    if is_scanned(page) and count < STAMP_WORDS:
        return SCAN
    return "it has no characters, only lines and shapes" if page.ink and not count else None


class Said(msgspec.Struct, frozen=True):
    """What a paper says about one thing, as printed there, and where."""

    value: str
    file: str
    role: str
    page: int
    box: Box | None = None


class Filing(msgspec.Struct, frozen=True):
    """Everything that the checks may look at."""

    office: str
    kind: str
    entries: tuple[Entry, ...]
    files: tuple[FileFacts, ...]
    papers: tuple[Paper, ...]
    filing_date: dt.date
    payment_date: dt.date
    declared: Declared = Declared()
    fees: tuple[Fee, ...] = ()
    roles: tuple[Role, ...] = ()
    """The roles that were known when the papers were found."""
    clock: dt.datetime | None = None
    """When the check began, by the filer's clock with its offset; None where that is of no account."""
    office_zone: str = "UTC"
    """The time zone by which the office dates what it receives."""

    def with_role(self, *roles: str) -> tuple[Paper, ...]:
        """The papers of these roles, in the order of the folder."""
        return tuple(p for p in self.papers if p.role in roles)

    @property
    def digests(self) -> dict[str, str]:
        """The SHA-256 of every file by its name."""
        return {file.name: file.sha256 for file in self.files}
