"""How well coloured text shows on what it stands on."""

from __future__ import annotations

import msgspec

from preflight.facts import Line, Page, Tint

LEAST = 2
"""Fewer characters in a colour are a bullet or a sign. House value."""


class Faint(msgspec.Struct, frozen=True):
    """Text of one colour; `luminance` is what the same contrast on white paper would be, from 0 (black) to 1."""

    line: Line
    tint: Tint
    luminance: float


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour "rrggbb", from 0 (black) to 1 (white), by IEC 61966-2-1."""
    red, green, blue = (_linear(int(colour[at : at + 2], 16) / 255) for at in (0, 2, 4))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(share: float) -> float:
    return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)


def faint_text(page: Page) -> tuple[Faint, ...]:
    """The coloured text of a page, upright or not, the faintest first."""
    found = [
        Faint(line, tint, 1 - abs(tint.ground - luminance(tint.colour)))
        for line in page.lines
        if (line.visible or line.hidden == "no contrast") and not line.oblique
        for tint in line.tints
        if tint.number >= LEAST
    ]
    return tuple(sorted(found, key=lambda one: -one.luminance))
