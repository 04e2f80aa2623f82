"""Specification, claims and abstract: whether they begin on a sheet of their own."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

import msgspec

from preflight.facts import FileFacts, Page
from preflight.papers.model import Filing, Said
from preflight.papers.roles.text_roles import ABSTRACT_HEADING, CLAIMS_HEADING
from preflight.papers.words.headings import SECTIONS, body_rows, is_heading
from preflight.papers.words.lettering import PROSE_LINE_WORDS, Row, keyed, words

ABSTRACT_WORDS = 15
"""So many words follow the heading of an abstract; fewer, and the word stands for something else. House value."""

FORMS = ("cover-sheet", "application-data-sheet", "entity-certification", "fee-sheet")
PROSE_ROWS = 2
"""So many rows of running text follow the heading of a part of the description on the sheet of a form. House value."""

_DESCRIPTION = re.compile(
    r"^(?:(?:technical )?field(?: of .*)?|background(?: (?:of|to|art) ?.*)?|(?:brief )?summary(?: of .*)?"
    r"|brief description of .*(?:drawings?|figures?|views?)|detailed description(?: of .*)?)$"
)
_FIRST_CLAIM = re.compile(r"^\W*1\s?[.):]?\s+\S")
_HEADINGS = {"claims": CLAIMS_HEADING, "abstract": ABSTRACT_HEADING}


class PartHeading(msgspec.Struct, frozen=True):
    """The heading of a part, and whether another part shares its sheet."""

    heading: Said
    shared: bool


def part_headings(filing: Filing, role: str) -> tuple[PartHeading, ...]:
    """Each heading of the part ("claims" or "abstract") on the text pages; of the specification where it begins."""
    files = {file.name: file for file in filing.files}
    if role == "specification":
        return tuple(_beginnings(filing, files))
    return tuple(
        PartHeading(Said(row.text, paper.file, paper.role, page.number, row.box), shared)
        for paper in filing.papers
        if paper.kind == "text" and paper.file in files
        for page in paper.pages
        for row, shared in _on_page(files[paper.file], page, role)
    )


def _beginnings(filing: Filing, files: Mapping[str, FileFacts]) -> Iterator[PartHeading]:
    """Where the specification begins, and headings of the description on the sheet of a form."""
    for paper in (one for one in filing.with_role("specification") if one.file in files and not one.text_unread):
        for row in body_rows(files[paper.file], paper.pages[0])[:1]:
            yield PartHeading(Said(row.text, paper.file, paper.role, paper.first_page, row.box), shared=False)
    for paper in (one for one in filing.with_role(*FORMS) if one.file in files and not one.text_unread):
        for page in paper.pages:
            every = body_rows(files[paper.file], page)
            starts = (at for at, row in enumerate(every) if is_heading(row.text) and _describes(every, at))
            for row in (every[at] for at in [*starts][:1]):
                yield PartHeading(Said(row.text, paper.file, paper.role, page.number, row.box), shared=True)


def _describes(every: Sequence[Row], at: int) -> bool:
    below = (len(words(row.text)) >= PROSE_LINE_WORDS for row in every[at + 1 :])
    return bool(_DESCRIPTION.match(keyed(every[at].text))) and sum(below) >= PROSE_ROWS


def _on_page(file: FileFacts, page: Page, role: str) -> Iterator[tuple[Row, bool]]:
    every = [row for row in body_rows(file, page) if any(line.visible for line in row.lines)]
    for at, row in enumerate(every):
        if is_heading(row.text) and _HEADINGS[role].match(keyed(row.text)) and _begins(every[at + 1 :], role):
            if at and CLAIMS_HEADING.match(keyed(every[at - 1].text)):
                continue  # the second line of one heading
            yield row, _is_text(every[:at]) or _other_part(every[at + 1 :], role)


def _begins(below: Sequence[Row], role: str) -> bool:
    if role == "claims":  # "CLAIMS", then "What is claimed is:", then the first of them
        rest = [row for row in below[:2] if not CLAIMS_HEADING.match(keyed(row.text))]
        return bool(rest) and bool(_FIRST_CLAIM.match(rest[0].text))
    return sum(len(words(row.text)) for row in below) >= ABSTRACT_WORDS


def _is_text(above: Sequence[Row]) -> bool:
    """Running text, not the title that may stand over the heading."""
    return any(len(words(row.text)) >= PROSE_LINE_WORDS and row.text != row.text.upper() for row in above)


def _other_part(below: Sequence[Row], role: str) -> bool:
    """Whether another part begins further down on the sheet."""
    others = [SECTIONS, *(pattern for part, pattern in _HEADINGS.items() if part != role)]
    rows = [row for at, row in enumerate(below) if is_heading(row.text) and _is_text(below[at + 1 :])]
    return any(pattern.match(keyed(row.text)) for row in rows for pattern in others)
