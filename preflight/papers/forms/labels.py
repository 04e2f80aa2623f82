"""Labelled values on form-like pages: what is filled in beside, after or under a label."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal

import msgspec

from preflight.facts import Box, Line, Page
from preflight.papers.forms.form_words import (
    ADDRESS,
    ANY,
    CITY,
    CLOSED,
    CUSTOMER,
    FAMILY,
    FIRST_INVENTOR,
    GIVEN,
    INVENTORS,
    MAILING,
    RESIDENCE,
    TITLE,
    spaced,
)
from preflight.papers.model import Paper, Said
from preflight.papers.words.lettering import flat, keyed, level
from preflight.papers.words.printed import below, beside, lines_on
from preflight.papers.words.remembered import remembered

WRAPPED_GAP, LEADING_GAP = 0.35, 0.55
"""A value goes on in the next line if the white between is at most so many cm; the second where it ends with a word
such as "and", or its line is full. House values."""
LONG_LINE = 0.6
"""Of the width of the page: a line that is full takes up so much of it. House value."""
SAME_LEFT = 0.6
"""... and the line begins within so many cm of where the value began. House value."""

_NUMBERING = re.compile(r"^(?:\(?\d{1,2}[.)]|\(?[A-Ha-h][.)]|item \d{1,2}\b:?)\s+", re.IGNORECASE)
_LABEL_INSIDE = re.compile(r"(?<=\s)(?:[A-Za-z(][\w./()'#&\-]*\s){0,7}[\w./()'#&\-]+\s?:(?=\s|$)")
_NOTHING = re.compile(r"^[\s_.\-:]*$|^[xX]$|^[xX] ")
"""No value: blanks to fill in, or the mark of a box that stands under the label."""
_LEADS_ON = re.compile(r"\b(?:and|or|of|for|with|in|to|a|an|the|by|on|using|having)$", re.IGNORECASE)
_BOXED = re.compile(r"^\s*(?:[\[(][ xX_]*[\])]|[\u2610-\u2612\u25a0\u25a1\u2713-\u2718])\s*\w")
"""A choice behind a typed box goes on no value."""
_EMPTY = re.compile(r"^[\s_.\-:]*$")


LONG_LABEL = 4
"""A label of one word without a colon has at least so many letters, all capitals. House value."""


class Value(msgspec.Struct, frozen=True):
    """What is filled in at a label; `text` is empty where the label stands there with nothing beside or under it."""

    text: str
    page: int
    box: Box | None = None


def said(paper: Paper, value: Value | None) -> Said | None:
    """A filled-in value as something that the paper says; None if there is none."""
    if value is None or not value.text:
        return None
    return Said(value.text, paper.file, paper.role, value.page, value.box)


def value_at(paper: Paper, label: str) -> Value | None:
    """The first filled-in value at a label on any page; an empty one if the label stands empty; None without label.

    `label` is a regular expression over folded words. Form fields speak first, then words after a colon, beside
    the label, or under it.
    """
    empty: Value | None = None
    for value in values_at(paper, label):
        if value.text:
            return value
        empty = empty or value
    return empty


Asked = Literal["inventors", "residence", "address", "title", "mailing"]
_ASKED: dict[Asked, tuple[str, ...]] = {
    "inventors": (FIRST_INVENTOR, INVENTORS, GIVEN, FAMILY),
    "residence": (RESIDENCE, CITY),
    "address": (ADDRESS, CUSTOMER),
    "title": (TITLE,),
    "mailing": (MAILING,),
}
_CELLS: tuple[Asked, ...] = ("title",)
"""What no form has as a heading over other cells."""
IN_COLUMN, CELLS_NEAR = 0.2, 2.5
"""Labels of one column begin within so many cm of each other; their rows are no further apart. House values."""
_TO_FILL_IN = re.compile(r"_{3,}\s*$")


def blanks(paper: Paper, what: Asked) -> tuple[Value, ...]:
    """The places that a form keeps for something, one for all its labels: with its text, or empty if left blank.

    Only fields of a form, lines that end in a row of underscores, and cells between others that are filled in: a bare
    label may be a heading of what follows.
    """
    every = [value for label in _ASKED[what] for value in values_at(paper, label)]
    filled_in = [value for value in every if value.text]
    if filled_in:
        return (filled_in[0],)
    labels = [re.compile(label) for label in _ASKED[what]]
    fields = [
        Value("", field.page or paper.first_page, field.box)
        for field in paper.fields
        if field.kind in ("text", "choice") and any(_names(n, one) for n in (field.label, field.name) for one in labels)
    ]
    lines = [
        Value("", page.number, line.box)
        for page in paper.pages
        for line in lines_on(paper, page)
        if _TO_FILL_IN.search(line.text) and any(one.fullmatch(_head(line.text)) for one in labels)
    ]
    cells = [Value("", page.number, line.box) for page, line in _empty_cells(paper, labels)] if what in _CELLS else []
    return tuple([*fields, *lines, *cells][:1])


def _empty_cells(paper: Paper, labels: list[re.Pattern[str]]) -> Iterator[tuple[Page, Line]]:
    """Labels with nothing beside them in a column of labels of which at least two have values from one left edge on."""
    for page in paper.pages:
        every = _parts(paper)[page.number]
        for label in every:
            words = keyed(unnumbered(label.text).rstrip(" :"))
            if any(one.fullmatch(words) for one in labels) and beside(every, label) is None:
                column = [ln for ln in every if ln is not label and abs(ln.box.left - label.box.left) <= IN_COLUMN]
                near = [ln for ln in column if abs(ln.box.top - label.box.top) <= CELLS_NEAR]
                starts = [value.box.left for ln in near if (value := beside(every, ln))]
                under = below(every, label)
                alike = any(sum(abs(one - other) <= IN_COLUMN for other in starts) >= 2 for one in starts)
                if alike and (under is None or under in column):
                    yield page, label


def _head(text: str) -> str:
    """The folded words of a line before its colon or its row of underscores."""
    return keyed(re.split(r":|_{3,}", unnumbered(text))[0])


def values_at(paper: Paper, label: str) -> Iterator[Value]:
    """Every value at a label, in reading order, form fields first."""
    whole = re.compile(label)
    for field in paper.fields:
        if field.kind in ("text", "choice") and _names(field.label, whole) | _names(field.name, whole):
            yield Value(flat(field.value or ""), field.page or paper.first_page, field.box)
    for page in paper.pages:
        every = _parts(paper)[page.number]
        for line in every:
            yield from _at_line(page, every, line, whole)
        yield from _over_several_lines(page, whole)


@remembered
def _parts(paper: Paper) -> dict[int, list[Line]]:
    return {page.number: [part for line in lines_on(paper, page) for part in parted(line)] for page in paper.pages}


def _names(text: str, whole: re.Pattern[str]) -> bool:
    """Whether a field's name or description begins with the label; a number may follow it."""
    return bool(re.fullmatch(rf"(?:{whole.pattern})(?: \d+| row \d+)?", spaced(text)))


def _at_line(page: Page, every: list[Line], line: Line, whole: re.Pattern[str]) -> Iterator[Value]:
    text = unnumbered(line.text)
    head, colon, tail = text.partition(":")
    if colon and whole.fullmatch(keyed(head)):
        if _EMPTY.match(tail) or ANY.fullmatch(keyed(tail)):
            yield _near(page, every, line)
        else:
            yield _wrapped(page, every, line, tail.strip(" _"))
    elif whole.fullmatch(keyed(text)):
        yield _near(page, every, line)
    elif not colon:
        rest = _after(text, whole)
        if rest:
            yield _wrapped(page, every, line, rest.strip(" _"))


def _after(text: str, whole: re.Pattern[str]) -> str:
    """What follows a label that has no colon and stands close to its value: of two words, or one in capitals."""
    tokens = text.split()
    for count in range(len(tokens) - 1, 0, -1):
        rest = " ".join(tokens[count:])
        capitals = tokens[0].isupper() and not rest.isupper() and len(tokens[0]) >= LONG_LABEL
        if (count > 1 or capitals) and whole.fullmatch(keyed(" ".join(tokens[:count]))):
            return "" if ANY.fullmatch(keyed(text)) else rest
    return ""


def _over_several_lines(page: Page, whole: re.Pattern[str]) -> Iterator[Value]:
    """A label that runs over two or three lines of one cell, with its value in the lines under it."""
    for block in page.blocks:
        for count in range(min(3, len(block.lines) - 1), 1, -1):
            if whole.fullmatch(keyed(" ".join(block.lines[:count]))):
                values = [flat(line) for line in block.lines[count:]]
                end = next((at for at, line in enumerate(values) if is_label(line)), len(values))
                yield Value(" ".join(values[:end]).strip(" _"), page.number, block.box)
                break


def parted(line: Line) -> list[Line]:
    """A line cut before each further "Label:" in it. Places are shared out by the number of characters."""
    text = flat(line.text)
    cuts = [0]
    for found in _LABEL_INSIDE.finditer(text):
        if ANY.fullmatch(keyed(unnumbered(text[cuts[-1] : found.end()]))):
            continue
        start = next((at for at in _word_starts(found) if ANY.fullmatch(keyed(text[at : found.end()]))), None)
        if start is not None and start > cuts[-1]:
            cuts.append(start)
    if len(cuts) == 1:
        return [line]
    ends = [*cuts[1:], len(text)]
    return [_piece(line, text, start, end) for start, end in zip(cuts, ends, strict=True)]


def _word_starts(found: re.Match[str]) -> list[int]:
    words = re.finditer(r"\S+", found.group(0))
    return [found.start() + word.start() for word in words]


def _piece(line: Line, text: str, start: int, end: int) -> Line:
    each = line.box.width / max(len(text), 1)
    box = Box(line.box.left + start * each, line.box.top, line.box.left + end * each, line.box.bottom)
    return Line(text[start:end].strip(), box, line.size, line.turned, line.visible)


def _near(page: Page, every: list[Line], label: Line) -> Value:
    """The line beside a label or, failing that, the one under it, unless that is a label itself."""
    for line in (beside(every, label), below(every, label)):
        if line is not None and not is_label(line.text) and not _NOTHING.match(flat(line.text)):
            first = _top_of_cell(every, line, label)
            others = [ln for ln in every if ln is not label]  # the value may go on at the height of its own label
            return _wrapped(page, others, first, flat(first.text).strip(" _"))
    return Value("", page.number, label.box)


def _top_of_cell(every: list[Line], line: Line, label: Line) -> Line:
    """The first line of the value that `line` belongs to: a label may stand at the foot or half-way down its cell."""
    first = line
    for other in sorted(every, key=lambda ln: -ln.box.top):
        gap = first.box.top - other.box.bottom
        if other.box.left <= label.box.right or other is first or gap < -0.1:
            continue
        if gap > WRAPPED_GAP or abs(other.box.left - first.box.left) > 0.1 or abs(other.size - first.size) > 0.6:
            break
        if is_label(other.text) or any(ln.box.right < other.box.left and level(ln, other) for ln in every):
            break
        first = other
    return first


def _wrapped(page: Page, every: list[Line], first: Line, text: str) -> Value:
    """A value with the lines into which it wraps: close under it, of one size, from the same left edge or label on."""
    box, last = first.box, first
    for line in every:
        leads_on = _LEADS_ON.search(text) or _is_full(page, every, last, line)
        gap = line.box.top - last.box.bottom - (LEADING_GAP - WRAPPED_GAP if leads_on else 0)
        if line is first or line.box.top <= last.box.top or level(line, last):
            continue
        if gap <= WRAPPED_GAP and (_heads_a_row(every, line, first) or _BOXED.match(line.text)):
            break
        aligned = abs(line.box.left - first.box.left) <= SAME_LEFT or (
            ":" in first.text and first.box.left < line.box.left < first.box.right
        )
        if gap > WRAPPED_GAP or not aligned or abs(line.size - last.size) > 0.6 or is_label(line.text):
            if gap > WRAPPED_GAP:
                break
            continue
        text, last = f"{text} {flat(line.text)}", line
        box = Box.around([box, line.box]) or box
    return Value(text, page.number, box)


def _is_full(page: Page, every: list[Line], line: Line, following: Line) -> bool:
    """Whether the first word of the following line found no more room in a long line."""
    text = flat(following.text)
    word = following.box.width * len(text.split(" ", maxsplit=1)[0]) / max(len(text), 1)
    right = max(other.box.right for other in every)
    return line.box.width >= LONG_LINE * page.width and line.box.right + word > right


def _heads_a_row(every: list[Line], line: Line, first: Line) -> bool:
    """Whether something stands left of a line at its height: then it is the value of another label."""
    return any(other.box.right < line.box.left and level(other, line) for other in every) and ":" not in first.text


class Filled(msgspec.Struct, frozen=True):
    """A line taken apart: the folded words of its label (empty if it has none) and what follows the colon."""

    label: str
    text: str


def filled(line: Line) -> Filled:
    """The label and the text of one line; a line that is a bare label has an empty text."""
    text = unnumbered(line.text)
    head, colon, tail = text.partition(":")
    if colon and ANY.fullmatch(keyed(head)):
        return Filled(keyed(head), "" if _EMPTY.match(tail) else tail.strip(" _"))
    if ANY.fullmatch(keyed(text)):
        return Filled(keyed(text), "")
    return Filled("", text)


def unnumbered(text: str) -> str:
    """A line without the number of the item that it begins: "2. Title" or "(b) Title"."""
    return _NUMBERING.sub("", flat(text))


def is_label(text: str) -> bool:
    """Whether a line is a label, ends with a colon, or begins with a label and a colon."""
    plain = unnumbered(text)
    head, colon, tail = plain.partition(":")
    if colon:
        return not tail.strip() or bool(ANY.fullmatch(keyed(head)))
    return bool(ANY.fullmatch(keyed(plain)) or _after(plain, CLOSED)) or plain in ("OR", "AND")
