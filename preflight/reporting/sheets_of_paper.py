"""Lines on a few sheets of paper, as a PDF: hides the library that draws them (reportlab).

Lengths are in pt. A character that the typeface lacks is written as its code, so that nothing is an empty box.
"""

from __future__ import annotations

import io
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from functools import cache

import msgspec
from reportlab.lib.pagesizes import letter
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from preflight.reporting.wording import clean

PLAIN, BOLD = "Vera", "VeraBd"
_FILES = {PLAIN: "Vera.ttf", BOLD: "VeraBd.ttf"}
_WIDTH, _HEIGHT = letter
_MARGIN = 48.0
_FOOT = 66.0
"""Where the text ends, above the foot of the page."""
_LEADING = 1.28
_ROOM = _WIDTH - 2 * _MARGIN
_CUT = " ... "
_LONGEST = 2000
"""Of each end of a text; no row shows more."""


class Line(msgspec.Struct, frozen=True):
    """A line of one size, as it is drawn."""

    text: str
    size: float = 7.5
    bold: bool = False
    indent: float = 0.0


class Row(msgspec.Struct, frozen=True):
    """Lines that stay together on a page."""

    lines: tuple[Line, ...]

    @property
    def height(self) -> float:
        """With a little air below."""
        return sum(line.size * _LEADING for line in self.lines) + 1.5


class Section(msgspec.Struct, frozen=True):
    """A heading and rows. Rows are left out from the end where there is no room; `keep` of them never are."""

    title: str
    rows: tuple[Row, ...]
    keep: int = 0
    more: int = 0
    """So many were never laid out."""
    weight: float = 1.0
    """The lighter a section, the sooner it gives up rows."""
    own_page: bool = False
    """Begins a page where what stands before leaves no room for all that follows, if there are pages enough."""

    def shown(self, number: int) -> tuple[Row, ...]:
        """With so many rows, and a line that says how many are left out."""
        left = len(self.rows) - number + self.more
        said = (row(f"and {left} more, left out here: the JSON report has them"),) if left else ()
        head = (Row((Line(self.title, 8.5, bold=True),)),) if self.title else ()
        return (*head, *self.rows[:number], *said, Row((Line("", 4),)))


def row(text: str, *, bold: bool = False, size: float = 7.5, indent: float = 0.0, most: int = 3) -> Row:
    """Text wrapped into at most so many lines; what does not fit is cut from its middle, which shows."""
    return Row(tuple(Line(one, size, bold, indent) for one in wrapped(text, size, _ROOM - indent, most, bold=bold)))


def together(*rows: Row) -> Row:
    """Rows as one, on one page."""
    return Row(tuple(line for one in rows for line in one.lines))


def drawn(sections: Sequence[Section], most_pages: int) -> list[list[Row]]:
    """The rows of each page, at most so many pages."""
    numbers = [len(section.rows) for section in sections]
    while True:
        blocks = [section.shown(number) for section, number in zip(sections, numbers, strict=True)]
        pages = _flowed([one for block in blocks for one in block])
        apart = _apart(sections, blocks)
        if len(pages) > 1 and len(apart) <= most_pages:
            return apart
        spare = [place for place, section in enumerate(sections) if numbers[place] > section.keep]
        if len(pages) <= most_pages or not spare:
            return pages[:most_pages]
        heaviest = max(spare, key=lambda place: _height(sections[place], numbers[place]))
        numbers[heaviest] -= 1


def to_pdf(papers: Sequence[Sequence[Sequence[Row]]], feet: Sequence[str], title: str, creator: str) -> bytes:
    """The pages of several papers in one file; each page says below which of its paper it is."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=letter, invariant=1)
    for name in _FILES:
        _face(name)
    canvas.setTitle(_writable(title, bold=False))
    canvas.setCreator(creator)
    canvas.setAuthor("")
    for pages, foot in zip(papers, feet, strict=True):
        for number, rows in enumerate(pages, 1):
            _draw(canvas, rows, f"{foot}    page {number} of {len(pages)}")
    canvas.save()
    return out.getvalue()


def wrapped(text: str, size: float, room: float, most: int, *, bold: bool = False) -> list[str]:
    """The text in lines that fit, words broken where they must be; too long, its middle is left out."""
    if len(text) > 2 * _LONGEST:
        text = text[:_LONGEST] + _CUT + text[-_LONGEST:]
    whole = _writable(text, bold=bold)
    lines = _lines(whole, size, room, bold=bold)
    if len(lines) <= most:
        return lines
    fewest, kept = 0, len(whole)  # the longest cut that fits
    while fewest < kept:
        half = (fewest + kept + 1) // 2
        cut = whole[: (half + 1) // 2] + _CUT + whole[len(whole) - half // 2 :]
        if len(_lines(cut, size, room, bold=bold)) <= most:
            fewest = half
        else:
            kept = half - 1
    return _lines(whole[: (fewest + 1) // 2] + _CUT + whole[len(whole) - fewest // 2 :], size, room, bold=bold)


def _lines(text: str, size: float, room: float, *, bold: bool) -> list[str]:
    lines: list[str] = []
    line = ""
    for word in text.split():
        for piece in _pieces(word, size, room, bold=bold):
            longer = f"{line} {piece}" if line else piece
            if line and _width(longer, size, bold=bold) > room:
                lines.append(line)
                line = piece
            else:
                line = longer
    return [*lines, line]


def _pieces(word: str, size: float, room: float, *, bold: bool) -> Iterator[str]:
    """A word, or the parts of one that is longer than a line."""
    while _width(word, size, bold=bold) > room:
        fits = bisect_right(range(1, len(word)), room, key=lambda n: _width(word[:n], size, bold=bold))
        yield word[: max(1, fits)]
        word = word[max(1, fits) :]
    yield word


def _flowed(rows: Sequence[Row]) -> list[list[Row]]:
    pages: list[list[Row]] = [[]]
    left = room = _HEIGHT - _MARGIN - _FOOT
    for one in rows:
        if one.height > left and pages[-1]:
            pages.append([])
            left = room
        pages[-1].append(one)
        left -= one.height
    return pages


def _apart(sections: Sequence[Section], blocks: Sequence[Sequence[Row]]) -> list[list[Row]]:
    """The pages if the first section that wants a page of its own gets it."""
    first = next((place for place, section in enumerate(sections) if section.own_page), len(sections))
    before, after = ([one for block in part for one in block] for part in (blocks[:first], blocks[first:]))
    return [*_flowed(before), *(_flowed(after) if after else [])]


def _height(section: Section, number: int) -> float:
    return sum(one.height for one in section.rows[:number]) / section.weight


def _draw(canvas: Canvas, rows: Sequence[Row], foot: str) -> None:
    top = _HEIGHT - _MARGIN
    for one in rows:
        for line in one.lines:
            top -= line.size * _LEADING
            canvas.setFont(BOLD if line.bold else PLAIN, line.size)
            canvas.drawString(_MARGIN + line.indent, top, line.text)
        top -= 1.5
    canvas.setLineWidth(0.4)
    canvas.line(_MARGIN, _FOOT - 8, _WIDTH - _MARGIN, _FOOT - 8)
    for number, text in enumerate(wrapped(foot, 6.5, _ROOM, 3)):
        canvas.setFont(PLAIN, 6.5)
        canvas.drawString(_MARGIN, _FOOT - 18 - number * 8.5, text)
    canvas.showPage()


def _width(text: str, size: float, *, bold: bool) -> float:
    _face(BOLD if bold else PLAIN)
    return float(pdfmetrics.stringWidth(text, BOLD if bold else PLAIN, size))


def _writable(text: str, *, bold: bool) -> str:
    """Harmless, and with codes for the characters that the typeface lacks."""
    known = _face(BOLD if bold else PLAIN)
    return "".join(c if ord(c) in known else f"\\u{ord(c):04x}" for c in clean(text))


@cache
def _face(name: str) -> frozenset[int]:
    """Makes a typeface known to the library; gives the characters that it has."""
    font = TTFont(name, _FILES[name])
    pdfmetrics.registerFont(font)
    return frozenset(font.face.charToGlyph)
