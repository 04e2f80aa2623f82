"""Rows gathered into paragraphs and headings by what they say and how they are set, across the ends of pages."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import msgspec

from preflight.papers.specification.headings import Part, is_capitals, part_of, run_in, stands_as_heading
from preflight.papers.specification.passages import Passage, Row, joined
from preflight.papers.words.headings import HEADING_WORDS, PARAGRAPH_NUMBER
from preflight.papers.words.lettering import words

INDENT = 0.5
"""A first line is set in, or out, by so many cm at least. House value."""
WIDER = 1.35
"""Rows further apart than so many usual distances belong to two paragraphs. House value."""
SHORT = 0.8
"""A line that fills less than this share of the width of the text may end a paragraph. House value."""
MIDDLE = 0.8
"""A centred row has its middle within so many cm of the middle of the page. House value."""

MARK = re.compile(r"^(?:\(?(?:\d{1,3}|[a-z]|[ivx]{1,4})[.)]|[\u2022\u00b7\u25cf\u25aa\u2013*-])\s+(?=\S)")
_FIGURE = re.compile(r"^FIG(?:URE)?S?\b\.?\s*\d", re.IGNORECASE)
_LABELLED = re.compile(r"^FIG(?:URE)?\b\.?\s*\d{1,3}[A-Za-z]?\s?[:\u2014]\s", re.IGNORECASE)
_ENDS = re.compile(r"[.:;!?][\"')\]]*$")
_ENDS_PARAGRAPH = re.compile(r"[.!?:][\"')\]]*$")
_LEADS_ON = re.compile(
    r"\b(?:of|the|a|an|to|and|or|in|for|with|by|from|as in|fig|figs|see|claim|claims|no|nos)[.,:]?$", re.IGNORECASE
)
_ENDS_HEADING = re.compile(r"\b(?:OF|THE|TO|AND|OR|IN|FOR|WITH|RELATED|FEDERALLY|SPONSORED|SEVERAL)$", re.IGNORECASE)


class Paragraph(msgspec.Struct, frozen=True):
    """A paragraph, or a heading: then `part` says which part it opens, or `heading` that it opens none that is known.

    `number` are the digits of its number in brackets.
    """

    passage: Passage
    rows: tuple[Row, ...]
    number: str = ""
    part: Part | None = None
    heading: bool = False

    @property
    def text(self) -> str:
        """Its words, without the number in brackets."""
        return self.passage.text


def paragraphs(rows: Sequence[Row]) -> Iterator[Paragraph]:
    """In order. A heading that runs in before its text becomes a heading of its own."""
    group: list[Row] = []
    at = 0
    while at < len(rows):
        taken = _heading_at(rows, at)
        if taken:
            if group:
                yield _made(group)
            yield _made(rows[at : at + taken], heading=True)
            group = []
            at += taken
            continue
        led = run_in(rows[at].text) if not group or _ENDS_PARAGRAPH.search(group[-1].text) else None
        if group and (led or _begins(rows[at], group[-1])):
            yield _made(group)
            group = []
        if led:
            part, heading, rest = led
            yield Paragraph(joined([(heading, rows[at].spot)]), (rows[at],), "", part, heading=True)
            group = [msgspec.structs.replace(rows[at], text=rest)]
        else:
            group.append(rows[at])
        at += 1
    if group:
        yield _made(group)


def _made(rows: Sequence[Row], *, heading: bool = False) -> Paragraph:
    number = PARAGRAPH_NUMBER.match(rows[0].text)
    first = rows[0].text[number.end() :] if number else rows[0].text
    pieces = [(first, rows[0].spot), *((row.text, row.spot) for row in rows[1:])]
    passage = joined(pieces)
    part = part_of(passage.text) if heading else None
    return Paragraph(passage, tuple(rows), number.group(1) if number else "", part, heading)


def _heading_at(rows: Sequence[Row], at: int) -> int:
    """How many rows from here make up one heading; 0 if none begins here."""
    row = rows[at]
    text = PARAGRAPH_NUMBER.sub("", row.text)
    before = rows[at - 1] if at else None
    follows = rows[at + 1] if at + 1 < len(rows) else None
    if not stands_as_heading(text) or not _stands_alone(row, before, follows):
        return 0
    known = [
        span
        for span in (1, 2, 3)
        if at + span <= len(rows)
        and all(_same_setting(row, rows[at + more]) for more in range(1, span))
        and part_of(" ".join(PARAGRAPH_NUMBER.sub("", one.text) for one in rows[at : at + span]))
    ]
    if known:
        return _sure_span(rows, at, known)
    if is_capitals(text) and len(words(text)) <= HEADING_WORDS and not MARK.match(text) and not _FIGURE.match(text):
        return 1
    return 0


def _sure_span(rows: Sequence[Row], at: int, known: list[int]) -> int:
    """One row, or more where the first row leads on and the others are set like it; 0 for a line of a sentence."""
    one = rows[at]
    follows = rows[at + 1] if at + 1 < len(rows) else None
    lone = known[0]
    if lone > 1 and not _ENDS_HEADING.search(one.text) and one.text != one.text.upper():
        return 0
    capitals = one.text == one.text.upper()
    if lone == 1 and not capitals and follows and follows.text[:1].islower() and not _centred(one):
        return 0
    spans = [
        span
        for span in known
        if span > 1 and (_ENDS_HEADING.search(rows[at + span - 2].text) or _goes_on(rows, at, span))
    ]
    return max(spans, default=lone)


def _goes_on(rows: Sequence[Row], at: int, span: int) -> bool:
    """The next row of capitals begins with a small word: "... VIEWS / OF THE DRAWINGS"."""
    text = rows[at + span - 1].text
    return text == text.upper() and re.match(r"(?:OF|AND|TO|FOR|IN)\b", text) is not None


def _same_setting(first: Row, other: Row) -> bool:
    alike = (first.text == first.text.upper()) == (other.text == other.text.upper()) or _ENDS_HEADING.search(first.text)
    return (
        bool(alike)
        and first.spot.page == other.spot.page
        and stands_as_heading(other.text)
        and not MARK.match(other.text)
    )


def _stands_alone(row: Row, before: Row | None, follows: Row | None) -> bool:
    """Whether the row before ends a sentence or a heading, or is clearly apart, or a short one that ends nothing."""
    if before is None or before.spot.file != row.spot.file or _ENDS.search(before.text):
        return True
    if _LEADS_ON.search(before.text) and (row.spot.page == before.spot.page or not is_capitals(row.text)):
        return False
    heading = stands_as_heading(before.text) and (part_of(before.text) is not None or is_capitals(before.text))
    narrow = before.spot.box.width < SHORT * (before.right - before.left)
    opens = follows is not None and not follows.text[:1].islower() and part_of(row.text) is not None
    apart = _apart(row, before) or row.spot.page != before.spot.page
    return heading or (narrow and (apart or opens)) or is_capitals(row.text)


def _apart(row: Row, before: Row) -> bool:
    if row.spot.page != before.spot.page or row.spot.file != before.spot.file:
        return False
    return bool(row.pitch) and row.spot.box.middle[1] - before.spot.box.middle[1] > WIDER * row.pitch


def _begins(row: Row, before: Row) -> bool:
    """Whether a row begins a new paragraph."""
    if PARAGRAPH_NUMBER.match(row.text) or row.spot.file != before.spot.file:
        return True
    ended = _ENDS.search(before.text) is not None and not _LEADS_ON.search(before.text)
    if _apart(row, before):
        return True
    narrow = before.spot.box.width < SHORT * (before.right - before.left)
    if _FIGURE.match(row.text) and narrow and not _LEADS_ON.search(before.text):
        return True
    if not ended:
        new = MARK.match(row.text) or _FIGURE.match(row.text)
        return bool(new and before.text.endswith((",", ", and", "; and", ", or", "; or"))) or bool(
            _LABELLED.match(row.text)
        )
    if MARK.match(row.text) or _FIGURE.match(row.text):
        return True
    if not _ENDS_PARAGRAPH.search(before.text):
        return False
    indented = row.spot.box.left - row.left > INDENT and before.spot.box.left - before.left < INDENT
    short = before.spot.box.right - before.left < SHORT * (before.right - before.left)
    return indented or short


def _centred(row: Row) -> bool:
    middle = abs(row.spot.box.middle[0] - row.width / 2) < MIDDLE
    return middle and row.spot.box.left - row.left > INDENT
