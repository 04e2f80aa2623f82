"""Which lines of a page are its header, and which is the first heading of its body."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache

from preflight.facts import FileFacts, Page
from preflight.papers.words.lettering import KEPT, Row, keyed, words
from preflight.papers.words.rows import rows_of

HEADER_DEPTH = 3.2
"""Headers stand within so many cm of the top edge. House value: a margin of 2.54 and a line."""
PARAGRAPH_NUMBER = re.compile(r"^\[\s?(\d{1,5})\s?\]\s*")
"""Before the words of a paragraph: "[0012]"."""
EDGE = 1.9
"""A short line wholly within so many cm of the top edge is a header: no body text starts there. House value."""
HEADING_WORDS = 14
"""A heading has at most so many words. House value."""
FIRST_ROWS = 4
"""Among so many rows below the header the heading of a paper stands, under a title set over it. House value."""

_NUMBER_LINE = re.compile(r"^[\W_]*(?:page|sheet|p\.?)?\s*\d{1,4}(?:\s*(?:of|/)\s*\d{1,4})?[\W_]*$", re.IGNORECASE)
_DOCKET_LINE = re.compile(
    r"\b(?:docket|our ref|your ref|ref(?:erence)?\s*(?:no|number|[.:])|matter (?:no|number)|file no)\b", re.IGNORECASE
)
_DOCKET_SHAPE = re.compile(r"^(?=[^a-z]*$)(?=.*\d)(?=.*[A-Z\-/.])[A-Z0-9][A-Z0-9\-/.]{3,24}$")

SECTIONS = re.compile(
    r"^(?:\d{1,2} |[ivx]{1,4} |[a-h] )?(?:"
    r"cross references?(?: to)?(?: (?:a |any )?(?:related|other|prior|co pending) .*)?"
    r"|(?:technical |related )?field(?: of .*)?|field and background.*"
    r"|background(?: (?:of|to|and|art|information|discussion) ?.*)?|introduction|prior art|related art"
    r"|(?:brief )?summary(?: (?:of|and) .*)?|objects? (?:of|and) .*"
    r"|(?:brief )?description of (?:the )?(?:several )?(?:drawings?|figures?|views?)(?: .*)?"
    r"|brief description.*|list of (?:the )?(?:figures|drawings|reference .*)"
    r"|(?:detailed )?description(?: of (?!(?:the )?(?:services?|work|goods|charges?|expenses?|items?)\b).*)?"
    r"|description of (?:the |preferred |example |specific )*embodiments?.*"
    r"|detailed disclosure|(?:preferred |example |exemplary |illustrative )?embodiments?(?: of .*)?"
    r"|best mode.*|mode for carrying out.*|industrial applicability|technical problem|solution to problem"
    r"|statement regarding federally .*|federally sponsored .*|government (?:license )?(?:rights|interest|support).*"
    r"|reference (?:signs?|numerals?|characters?)(?: list)?"
    r"|(?:copyright|trademark) (?:notices?|statement)(?: .*)?|notice of copyrights?.*"
    r"|definitions|incorporation by reference.*"
    r"|specification|(?:the )?specification of .*"
    r")$"
)
"""Headings of a description in usual wordings, as folded words; not those of the columns of a bill."""


@lru_cache(KEPT)
def is_heading(text: str) -> bool:
    """Short, beginning with a capital or a digit, and not a sentence."""
    first = next((c for c in text if c.isalnum()), "")
    sentence = text.rstrip().endswith((".", ";", ",")) and text != text.upper()
    return 0 < len(words(text)) <= HEADING_WORDS and not first.islower() and not sentence


def body_rows(file: FileFacts, page: Page) -> list[Row]:
    """The rows of a page below its header, shown or not (the text layer of a scan may name a heading)."""
    every = list(rows_of(page))
    start = 0
    while start < len(every) and is_header(file, page, every[start]):
        start += 1
    return every[start:]


def _headers(file: FileFacts, page: Page) -> list[Row]:
    every = list(rows_of(page))
    return every[: len(every) - len(body_rows(file, page))]


def is_header(file: FileFacts, page: Page, row: Row) -> bool:
    """Whether a row at the top is a running header: number, docket, edge of the sheet, or repeated on another page."""
    if row.box.top > HEADER_DEPTH:
        return False
    if _NUMBER_LINE.match(row.text) or _DOCKET_SHAPE.match(row.text):
        return True
    if len(words(row.text)) <= HEADING_WORDS and (_DOCKET_LINE.search(row.text) or row.box.bottom < EDGE):
        return True
    return _repeats(file, page, row)


def _repeats(file: FileFacts, page: Page, row: Row) -> bool:
    """The same words at the same height on a page close by: they belong to no page alone."""
    said = without_numbers(row.text)
    if not said:
        return False
    near = [p for p in file.pages if abs(p.number - page.number) in (1, 2)]
    return any(
        abs(other.box.top - row.box.top) < 0.3 and without_numbers(other.text) == said
        for p in near
        for other in rows_of(p)
        if other.box.top <= HEADER_DEPTH
    )


def without_numbers(text: str) -> str:
    """The folded words of a text except numbers: what stays the same in a header from page to page."""
    return " ".join(w for w in keyed(text).split() if not w.isdigit())


def first_headings(file: FileFacts, page: Page) -> Iterator[str]:
    """What the body of a page may begin with as its heading.

    The rows of the header, for a heading may stand at the very edge; the first body row, whatever it is; the
    next ones only as long as those above are set as a heading themselves: in capitals, or centred and
    without a full stop (a title over "CLAIMS").
    """
    yield from (row.text for row in _headers(file, page) if not _repeats(file, page, row))
    for row in body_rows(file, page)[:FIRST_ROWS]:
        yield row.text
        if not is_heading(row.text) or not (row.text == row.text.upper() or _centred(page, row)):
            return


def _centred(page: Page, row: Row) -> bool:
    off = abs(row.box.middle[0] - page.width / 2)
    return off < 1.5 and row.box.left > 3.2 and not row.text.endswith(".")


def sections(file: FileFacts, page: Page) -> list[Row]:
    """The rows of a page which are headings usual in a specification."""
    edge = [row for row in _headers(file, page) if not _repeats(file, page, row)]
    every = [*edge, *body_rows(file, page)]
    return [row for row in every if is_heading(row.text) and SECTIONS.match(keyed(row.text))]


def stacked(every: Sequence[Row]) -> Iterator[str]:
    """Each row alone, then joined with the next one or two: a form's heading often runs over several lines."""
    for span in (1, 2, 3):
        for at in range(len(every)):
            group = every[at : at + span]
            if len(group) == span and all(is_heading(row.text) for row in group):
                yield " ".join(row.text for row in group)
