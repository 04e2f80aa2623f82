"""Characters as displayed: where they stand, along which direction, how large, and whether they can be trusted."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

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


class Display:
    """How the characters of one page come to stand on it. What follows from a matrix alone is worked out once."""

    def __init__(self, to_display: Affine, sheet: Sheet) -> None:
        self._to, self._width, self._height = to_display, sheet.width, sheet.height
        self._turns: dict[tuple[float, float, float, float], _Turn] = {}

    def glyph(self, character: Character) -> Glyph | None:
        """The character on the page; None if it lies outside."""
        box, cell = self._around(character.ink), self._around(character.cell)
        if box[2] <= box[0] or box[3] <= box[1]:
            box = cell
        if not (0 <= (box[0] + box[2]) / 2 <= self._width and 0 <= (box[1] + box[3]) / 2 <= self._height):
            return None
        turn = self._turns.get(character.matrix) or self._turn(character.matrix)
        size = abs(character.size * turn.scale)
        x, y = self._to.point(*character.origin)
        start = x * turn.cosine + y * turn.sine
        start, end = _extent(cell, turn.angle) if turn.angle % 90 == 0 else (start, start + _USUAL * size)
        return Glyph(
            "-" if character.known and character.text == HYPHEN else character.text,
            box,
            cell,
            start,
            end,
            y * turn.cosine - x * turn.sine,
            size,
            turn.angle,
            character.mode != _INVISIBLE,
            character.colour,
        )

    def _turn(self, matrix: tuple[float, float, float, float]) -> _Turn:
        a, b, c, d = matrix
        to = self._to
        angle = round(math.degrees(math.atan2(to.b * a + to.d * b, to.a * a + to.c * b))) % 360
        radians = math.radians(angle)
        scale = math.hypot(c, d) * math.hypot(to.c, to.d)
        turn = _Turn(angle, math.cos(radians), math.sin(radians), scale)
        self._turns[matrix] = turn
        return turn

    def _around(self, corners: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
        a, b, c, d, e, f = self._to
        x0, y0, x1, y1 = corners
        left, right = a * x0 + c * y0 + e, a * x1 + c * y1 + e
        top, bottom = b * x0 + d * y0 + f, b * x1 + d * y1 + f
        if left > right:
            left, right = right, left
        return (left, top, right, bottom) if top <= bottom else (left, bottom, right, top)


class _Turn(NamedTuple):
    """Degrees clockwise as displayed, their cosine and sine, and what a type size is multiplied by."""

    angle: int
    cosine: float
    sine: float
    scale: float


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
