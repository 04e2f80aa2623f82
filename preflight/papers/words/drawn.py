"""The strings of a drawing sheet, from its own characters or from its picture, in one form."""

from __future__ import annotations

import re
from collections.abc import Iterator

import msgspec

from preflight.facts import PT_PER_CM, Box, Line, Page, Reading

GOOD = 0.8
"""Mean probability of the letters of a reading that is looked at at all. House value, measured."""
SURE = 0.9
"""Mean and lowest probability of a reading that may accuse. House value, measured."""
CAPITAL = 0.7
"""Height of a capital or digit by the size of the type, as in most faces. From memory."""


_LIKE_FIG = re.compile(r"^[\W_]*F[Iil1][GC6](S?)[.,:]*\s*(?=\d|$)", re.IGNORECASE)
"""FIG. as it is also read."""


class Drawn(msgspec.Struct, frozen=True):
    """A string of a sheet. `height` is that of its ink in cm; `reading` is None for characters of the file itself."""

    text: str
    box: Box
    turned: int
    height: float | None
    reading: Reading | None = None
    strokes: int | None = None
    """How many strokes of the drawing come close to a numeral; None where it is not known."""
    underlined: bool = False
    on_line: bool = False
    """A line goes on to both sides of it."""

    @property
    def sure(self) -> bool:
        """Whether it certainly says so."""
        read = self.reading
        return read is None or (read.mean >= SURE and read.lowest >= SURE and not read.other)

    @property
    def runs_level(self) -> bool:
        """Whether it runs from left to right, or the reverse."""
        return self.turned in (0, 180)


def sheet_unread(page: Page) -> str | None:
    """Why what is drawn on a sheet is not known; None if it is, or the sheet is blank."""
    if page.unread or page.readings_unread:
        return page.unread or page.readings_unread
    if page.readings is None:
        return page.text_unread
    legible = any(reading.mean >= GOOD for reading in page.readings)
    return None if legible or strings_on(page) else "hardly anything on it could be read"


def strings_on(page: Page) -> tuple[Drawn, ...]:
    """All visible ones; where a place has characters and a reading, the characters count."""
    own = [line for line in page.lines if line.visible and line.text.strip()]
    return (*(_of_line(line) for line in own), *_read(page, own))


def _of_line(line: Line) -> Drawn:
    across = line.box.height if line.turned in (0, 180) else line.box.width
    high = line.height or across
    return Drawn(line.text, line.box, line.turned, high, None, line.strokes, line.underlined, line.on_line)


def _read(page: Page, own: list[Line]) -> Iterator[Drawn]:
    for reading in page.readings or ():
        covered = any(line.box.grown(0.1).holds_middle_of(reading.box) for line in own)
        if reading.mean >= GOOD and not covered:
            yield Drawn(
                reading.text,
                reading.box,
                reading.turned,
                reading.height,
                reading,
                reading.strokes,
                reading.underlined,
                reading.on_line,
            )


def as_seen(page: Page) -> Page:
    """The page with what was read from its picture among its lines, for what looks for words; invisible lines go."""
    if not page.readings:
        return page
    return msgspec.structs.replace(page, lines=tuple(_as_line(one) for one in strings_on(page)))


def _as_line(one: Drawn) -> Line:
    ink = one.height or (one.box.height if one.runs_level else one.box.width) * CAPITAL
    text = one.text if one.reading is None else _LIKE_FIG.sub(r"FIG\1. ", one.text)
    return Line(text=text, box=one.box, size=ink / CAPITAL * PT_PER_CM, turned=one.turned)
