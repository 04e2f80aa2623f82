"""Characters as displayed: where they stand, along which direction, how large, and whether they can be trusted."""

from __future__ import annotations

import math
from dataclasses import dataclass

from preflight.reading.pages.pdfium import BLACK, HYPHEN, Character, Colour
from preflight.reading.sheet import Affine, Sheet

UNKNOWN = "the characters on this page cannot be told (font without a character map)"

_INVISIBLE = 3
_USUAL = 0.55
"""Width of a letter in type sizes, for oblique text: its boxes say little."""
_GARBLED = 0.02
"""So many signs without meaning among those that a font does not name show that the others are wrong too."""


@dataclass(slots=True)
class Glyph:
    """One character on the page, in cm: `start` to `end` along its direction, `base` across it."""

    text: str
    box: tuple[float, float, float, float]
    """Round its ink."""
    cell: tuple[float, float, float, float]
    start: float
    end: float
    base: float
    size: float
    angle: int
    """Degrees clockwise as displayed."""
    visible: bool
    colour: Colour = BLACK


def as_displayed(character: Character, to_display: Affine, sheet: Sheet) -> Glyph | None:
    """The character on the page; None if it lies outside."""
    box = _around(to_display, character.ink)
    cell = _around(to_display, character.cell)
    if box[2] <= box[0] or box[3] <= box[1]:
        box = cell
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    if not (0 <= x <= sheet.width and 0 <= y <= sheet.height):
        return None
    a, b, c, d = character.matrix
    angle = _angle(to_display.a * a + to_display.c * b, to_display.b * a + to_display.d * b)
    size = abs(character.size * math.hypot(c, d) * math.hypot(to_display.c, to_display.d))
    turn = math.radians(angle)
    pen = to_display.point(*character.origin)
    start = pen[0] * math.cos(turn) + pen[1] * math.sin(turn)
    start, end = _extent(cell, angle) if angle % 90 == 0 else (start, start + _USUAL * size)
    return Glyph(
        text="-" if character.known and character.text == HYPHEN else character.text,
        box=box,
        cell=cell,
        start=start,
        end=end,
        base=pen[1] * math.cos(turn) - pen[0] * math.sin(turn),
        size=size,
        angle=angle,
        visible=character.mode != _INVISIBLE,
        colour=character.colour,
    )


def _angle(right: float, down: float) -> int:
    return round(math.degrees(math.atan2(down, right))) % 360


def _around(to_display: Affine, corners: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
    x0, y0 = to_display.point(corners[0], corners[1])
    x1, y1 = to_display.point(corners[2], corners[3])
    return min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)


def _extent(box: tuple[float, float, float, float], angle: int) -> tuple[float, float]:
    """From where to where a box reaches along one of the four upright directions."""
    left, top, right, bottom = box
    match angle:
        case 90:
            return top, bottom
        case 180:
            return -right, -left
        case 270:
            return -bottom, -top
    return left, right


class Trust:
    """Whether the characters of a page say what is seen.

    Where a font names no characters, PDFium gives their bare codes. These may be right (many old fonts)
    or mere numbers of glyphs; then some of them are control codes.
    """

    def __init__(self) -> None:
        self._good = self._bad = self._unnamed = self._unnamed_bad = 0

    def hear(self, character: Character) -> None:
        """Count one character."""
        meaning = _has_meaning(character)
        if not character.known:
            self._unnamed += 1
            self._unnamed_bad += not meaning
        elif not character.text.isspace():
            self._good += meaning
            self._bad += not meaning

    def trouble(self) -> str | None:
        """Why most of the characters cannot be told, if so."""
        garbled = self._unnamed_bad > _GARBLED * self._unnamed
        bad = self._bad + (self._unnamed if garbled else 0)
        good = self._good + (0 if garbled else self._unnamed)
        return UNKNOWN if bad > good else None


def _has_meaning(character: Character) -> bool:
    """Whether a character says something outside its font: no private use, no replacement sign, no control."""
    code = ord(character.text)
    if character.known and character.text in (HYPHEN, "\t", "\xa0"):
        return True
    private = 0xE000 <= code <= 0xF8FF or code >= 0xF0000
    return code >= 0x20 and not 0x7F <= code <= 0x9F and code != 0xFFFD and not private
