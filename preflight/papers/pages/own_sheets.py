"""Claims and abstract: whether they begin on a sheet of their own."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import msgspec

from preflight.facts import FileFacts, Page
from preflight.papers.model import Filing, Said
from preflight.papers.roles.text_roles import ABSTRACT_HEADING, CLAIMS_HEADING
from preflight.papers.words.headings import SECTIONS, body_rows, is_heading
from preflight.papers.words.lettering import PROSE_LINE_WORDS, Row, keyed, words

ABSTRACT_WORDS = 15
"""So many words follow the heading of an abstract; fewer, and the word stands for something else. House value."""

_FIRST_CLAIM = re.compile(r"^\W*1\s?[.):]?\s+\S")
_HEADINGS = {"claims": CLAIMS_HEADING, "abstract": ABSTRACT_HEADING}


class PartHeading(msgspec.Struct, frozen=True):
    """The heading of claims or abstract, and whether other text shares its sheet."""

    heading: Said
    shared: bool


def part_headings(filing: Filing, role: str) -> tuple[PartHeading, ...]:
    """Each heading of the part ("claims" or "abstract") on the text pages."""
    files = {file.name: file for file in filing.files}
    return tuple(
        PartHeading(Said(row.text, paper.file, paper.role, page.number, row.box), shared)
        for paper in filing.papers
        if paper.kind == "text" and paper.file in files
        for page in paper.pages
        for row, shared in _on_page(files[paper.file], page, role)
    )


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
