"""Tick boxes: which of the choices on a form are marked, as far as the marks can be told."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Literal

import msgspec

from preflight.facts import Box, Field, Page
from preflight.papers.forms.form_words import spaced
from preflight.papers.model import Paper, Said
from preflight.papers.words.lettering import Row, flat, keyed, level, rows, upright
from preflight.papers.words.printed import lines_on

Tick = Literal["ticked", "empty", "unreadable", "not there"]
"""Unreadable: the choice is printed, but whether it is marked cannot be told (the box is drawn, not typed)."""

BESIDE = 2.0
"""A typed mark stands within so many cm left of its choice. House value."""

LEVEL = 0.15
"""A frame belongs to words whose middle lies so near to its height (cm). House value."""
MARKED = 0.05
"""A frame with at least this share of ink inside is marked. House value: a thin X in a frame of 0.4 cm has 0.2."""

_TICKED = (
    "\u2612\u2611\u2713\u2714\u2717\u2718\u2715\u2716\u2705\u274e\u25a0\u25fc\u25cf\u29bf\u2327"
    "\U0001f5f9\U0001f5f7\U0001f5f8\U0001f5f5\uf0fe\uf0fd\uf078\uf052"
)
_BLANK = "\u2610\u25a1\u25a2\u25fb\u25ad\u274f\u2751\u2750\u25cb\u25ef\uf0a8\uf06f\uf071\uf0a3"
_MARK = re.compile(
    rf"(?P<yes>[{_TICKED}]|[\[(\u3010]\s*(?:[xX\u2713\u2714\u2717\u2718\u2715\u2716*]|[{_TICKED}])\s*[\])\u3011]|_+[xX\u2713\u2714]_+)"
    rf"|(?P<no>[{_BLANK}]|\[[ _]*\]|\([ _]*\))"
)
_OFF = ("", "off", "no", "0", "false")
_LONE_X = re.compile(r"^[xX]$")


class Mark(msgspec.Struct, frozen=True):
    """A typed tick box with the words that belong to it, folded."""

    ticked: bool
    label: str
    page: int
    box: Box


class Choice(msgspec.Struct, frozen=True):
    """What is known of one choice, and where it stands (None: it is not on the page)."""

    tick: Tick
    place: Said | None = None


def choices(paper: Paper, wanted: Mapping[str, str]) -> dict[str, Choice]:
    """For each wanted choice, by name, whether it is marked. Patterns meet folded words.

    Form fields speak first, then typed marks beside the words. Where one choice of the group bears a
    typed mark, the others are empty; where none does, a printed choice is unreadable.
    """
    found = {name: _field_choice(paper, re.compile(words)) or Choice("not there") for name, words in wanted.items()}
    marks = [mark for page in paper.pages for mark in marks_on(paper, page)]
    for name, words in wanted.items():
        if found[name].tick == "not there":
            found[name] = _typed_choice(paper, marks, re.compile(words))
    if any(choice.tick == "ticked" for choice in found.values()):
        return {name: _settled(choice) for name, choice in found.items()}
    return found


def _settled(choice: Choice) -> Choice:
    return Choice("empty", choice.place) if choice.tick == "unreadable" else choice


def _field_choice(paper: Paper, words: re.Pattern[str]) -> Choice | None:
    for field in paper.fields:
        if field.kind == "tick" and any(words.search(text) for text in field_words(paper, field)):
            on = flat(field.value or "").casefold().lstrip("/") not in _OFF
            place = Said(field.value or "", paper.file, paper.role, field.page or paper.first_page, field.box)
            return Choice("ticked" if on else "empty", place)
    return None


def field_words(paper: Paper, field: Field) -> list[str]:
    """The folded words by which a field is known: its description, its name, the line to its right or else left."""
    said = [spaced(field.label), spaced(field.name)]
    page = next((page for page in paper.pages if page.number == field.page), None)
    if page is None or field.box is None:
        return said
    middle, right = field.box.middle[1], field.box.right
    beside = [
        line
        for line in upright(page.lines)
        if line.visible
        and line.box.top - 0.15 <= middle <= line.box.bottom + 0.15
        and -0.2 <= line.box.left - right <= BESIDE
    ]
    left = field.box.left
    before = [
        line
        for line in upright(page.lines)
        if line.visible
        and line.box.top - 0.15 <= middle <= line.box.bottom + 0.15
        and -0.2 <= left - line.box.right <= BESIDE
    ]
    nearest = min(beside, key=lambda line: line.box.left, default=None) or max(
        before, key=lambda line: line.box.right, default=None
    )
    return [*said, keyed(nearest.text)] if nearest else said


def _typed_choice(paper: Paper, marks: list[Mark], words: re.Pattern[str]) -> Choice:
    for mark in marks:
        if words.search(mark.label):
            return Choice("ticked" if mark.ticked else "empty", _said(paper, mark.label, mark.page, mark.box))
    unclear: Choice | None = None
    for page in paper.pages:
        for row in rows(lines_on(paper, page)):
            cell = _cell(row, words)
            part = row if words.search(_unmarked(row)) else cell
            if part is None:
                continue
            folded = _unmarked(part)
            place = _said(paper, part.text, page.number, part.box)
            tick = _drawn_tick(page, row, cell or row) or _written(folded)
            if tick or _x_before(page, part):
                return Choice(tick or "ticked", place)
            denied = len(folded.split()) > 2 and re.search(r"\b(?:not|no|neither)\b", folded)
            if denied and not page.squares:
                return Choice("empty", place)  # a sentence that denies it, where nothing is to be ticked
            unclear = unclear or Choice("unreadable", place)
    return unclear or Choice("not there")


def _cell(row: Row, words: re.Pattern[str]) -> Row | None:
    """The one cell of a row of several that is about a choice."""
    cells = (Row((line,), flat(line.text), line.box) for line in row.lines) if len(row.lines) > 1 else ()
    return next((cell for cell in cells if words.search(_unmarked(cell))), None)


def _unmarked(row: Row) -> str:
    return re.sub(r"^x (?=\w)", "", keyed(row.text))


def _said(paper: Paper, text: str, page: int, box: Box) -> Said:
    return Said(text, paper.file, paper.role, page, box)


def _written(folded: str) -> Tick | None:
    """The answer that ends the row: "Small entity status claimed  Yes"."""
    statement, _, last = folded.rpartition(" ")
    if len(statement.split()) < 2:
        return None  # the row is the choice "Yes" or "No" itself
    return {"yes": "ticked", "no": "empty"}.get(last)  # type: ignore[return-value]


def _drawn_tick(page: Page, row: Row, part: Row) -> Tick | None:
    """Whether the drawn frame of the words bears a mark; None without a frame.

    It stands left of them, or after them where no frame leads the row and one ends it.
    """
    middle = part.box.middle[1]
    near = [frame for frame in page.squares if frame.box.top - LEVEL <= middle <= frame.box.bottom + LEVEL]
    before = [frame for frame in near if 0 <= part.box.left - frame.box.right <= BESIDE]
    after = [frame for frame in near if 0 <= frame.box.left - part.box.right <= BESIDE]
    leads = any(frame.box.right <= row.box.left for frame in near)
    ends = any(frame.box.left >= row.box.right for frame in near)
    if after and ends and not leads:
        before = []
    frame = max(before, key=lambda f: f.box.right, default=None) or min(after, key=lambda f: f.box.left, default=None)
    if frame is None:
        return None
    return "ticked" if frame.filled >= MARKED else "empty"


def _x_before(page: Page, row: Row) -> bool:
    """A lone X typed before the words, into a box that is drawn."""
    if re.match(r"^[xX]\s+\S", row.text):
        return True
    first = row.lines[0]
    return any(
        _LONE_X.match(line.text.strip()) and level(line, first) and 0 <= first.box.left - line.box.right <= BESIDE
        for line in page.lines
        if line.visible
    )


def marks_on(paper: Paper, page: Page) -> Iterator[Mark]:
    """The typed tick boxes of a page with their words: those after a box, or before it where a row ends with one."""
    every = rows(lines_on(paper, page))
    for at, row in enumerate(every):
        found = list(_MARK.finditer(row.text))
        leads = bool(found) and (found[0].start() <= 1 or bool(row.text[found[-1].end() :].strip(" .")))
        for number, mark in enumerate(found):
            if leads:
                end = found[number + 1].start() if number + 1 < len(found) else len(row.text)
                label = row.text[mark.end() : end]
            else:
                label = row.text[found[number - 1].end() if number else 0 : mark.start()]
            if len(found) == 1 and row.text[mark.end() :].lstrip().startswith("("):
                label = row.text[: mark.start()] + row.text[mark.end() :]  # "Small entity [X] (37 CFR 1.27)"
            if not keyed(label):
                label = _next_row(every, at)
            yield Mark(mark.group("yes") is not None, keyed(label), page.number, row.box)


def _next_row(every: list[Row], at: int) -> str:
    """A box that stands alone in its row belongs to the words that begin right under or beside it."""
    following = every[at + 1] if at + 1 < len(every) else None
    if following and following.box.top - every[at].box.bottom < 0.4 and not _MARK.search(following.text):
        return following.text
    return ""
