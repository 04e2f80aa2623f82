"""Colour that lies behind words: what a marker leaves, a tinted cell, a coloured band."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from preflight.facts import Box, Line, Shade
from preflight.reading.pages.ink import Mask
from preflight.reading.pages.pdfium import Raster, hexadecimal
from preflight.reading.pages.pixels import Scale

LEAST_HUE, FULL = 0.2, 0.75
"""So much of the height of a line has a hue where something lies behind it, and so much of what is not letters."""
DARK = 150
"""Letters are darker than this, of 255."""
STEM = 0.15
"""In cm: black letters break the colour for less than this."""
LEAST = 0.4
"""In cm, and at least the height of the line: what is shorter is the stroke of a coloured letter."""
REACH = 1.0
"""In cm: so far beside a line it is followed."""
EVEN = 24
"""Levels of each primary, of 256, by which one colour may vary."""
MOSTLY = 0.7
MOST = 500
"""Kept of one page."""


def find_shades(raster: Raster, hue: Mask, lines: Iterable[Line], scale: Scale) -> tuple[Shade, ...]:
    """In the order of the lines. `hue` is 1 where a pixel has one; grey is none."""
    if not hue.any():
        return ()
    upright = [line for line in lines if line.visible and not line.turned and not line.oblique]
    return tuple(shade for line in upright for shade in _behind(raster, hue, line, scale))[:MOST]


def _behind(raster: Raster, hue: Mask, line: Line, scale: Scale) -> Iterator[Shade]:
    box = line.box
    rows, columns = scale.window(Box(max(0.0, box.left - REACH), box.top, box.right + REACH, box.bottom))
    part, seen = hue[rows, columns], raster[rows, columns]
    if not part.size or not part.any():
        return
    hued = part.mean(axis=0)
    bare = ((part == 0) & (seen.max(axis=2) > DARK)).mean(axis=0)
    full = np.asarray((hued >= LEAST_HUE) & (hued >= FULL * (hued + bare)))
    own = {tint.colour for tint in line.tints}
    for start, end in _runs(full, max(1, round(STEM / scale.across))):
        left, right = (columns.start + start) * scale.across, (columns.start + end) * scale.across
        if right - left >= max(LEAST, box.height) and right > box.left and left < box.right:
            colour = _one_colour(seen[:, start:end], part[:, start:end])
            if colour and colour not in own:
                yield Shade(Box(round(left, 3), box.top, round(right, 3), box.bottom), colour)


def _runs(full: np.ndarray[tuple[int, ...], np.dtype[np.bool_]], gap: int) -> Iterator[tuple[int, int]]:
    """From and to, over gaps of at most so many columns."""
    there = np.flatnonzero(full)
    if there.size:
        cuts = np.flatnonzero(np.diff(there) > gap + 1)
        starts, ends = there[np.r_[0, cuts + 1]], there[np.r_[cuts, there.size - 1]]
        yield from ((int(a), int(b) + 1) for a, b in zip(starts, ends, strict=True))


def _one_colour(part: Raster, hue: Mask) -> str | None:
    """As "rrggbb", where most of what has a hue has the same."""
    pixels = part[hue > 0].astype(np.int16)
    middle = np.median(pixels, axis=0)
    if float((np.abs(pixels - middle).max(axis=1) <= EVEN).mean()) < MOSTLY:
        return None
    blue, green, red = (int(value) for value in middle)
    return hexadecimal((red, green, blue))
