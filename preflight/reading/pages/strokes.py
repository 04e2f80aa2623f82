"""Thin level strokes at the lines of characters, and the ground that coloured characters stand on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec
import numpy as np
import numpy.typing as npt

from preflight.facts import Bar, Box, Line, Tint
from preflight.reading.pages.pdfium import Raster, Stroke, hexadecimal
from preflight.reading.pages.pixels import Scale
from preflight.reading.pages.text import Words
from preflight.reading.sheet import Affine, Sheet

THIN = 0.12
"""In cm: underlines and strike-outs are about 0.02 to 0.06 thick."""
SHORT = 0.3
"""In cm: what is shorter strikes out no word."""
NEAR = 0.15
"""In cm: an underline lies so far below its line at most."""
NO_CONTRAST = "no contrast"
TELLING = 3
"""Letters and digits of a line that must show; dots and dashes may be lost between two pixels."""
CONTRAST = 8
"""Levels of grey, of 256: less than this cannot be seen."""
INSIDE = 0.12
"""A bar runs through a letter if it lies within the ink by this share of its height."""
MOST = 2000
"""Kept of one page."""


def find_bars(strokes: Iterable[Stroke], words: Words, to_display: Affine, sheet: Sheet) -> tuple[Bar, ...]:
    """Those strokes that are level, thin and long enough, and touch a visible upright line of characters."""
    letters = np.array(words.letters, dtype=np.float64).reshape(-1, 4)
    upright = [line.box.grown(NEAR) for line in words.lines if line.visible and not line.turned and not line.oblique]
    found: list[Bar] = []
    for stroke in strokes if upright else ():
        box = sheet.within(to_display.after(stroke.matrix).box(stroke.box))
        if box is None or box.height > THIN or box.width < SHORT:
            continue
        if len(found) < MOST and any(box.touches(line) for line in upright):
            found.append(Bar(box, hexadecimal(stroke.colour), _crossed(box, letters)))
    return tuple(found)


def _crossed(bar: Box, letters: npt.NDArray[np.float64]) -> float:
    """The share of the letters there that the bar runs through; over, under or between letters it is 0."""
    left, top, right, bottom = letters.T
    across, down = (left + right) / 2, (bar.top + bar.bottom) / 2
    high = bottom - top
    there = (across > bar.left) & (across < bar.right) & (down > top - high) & (down < bottom + high)
    inside = there & (down > top + INSIDE * high) & (down < bottom - INSIDE * high)
    return round(float(inside.sum() / there.sum()), 2) if there.any() else 0.0


def as_seen(lines: Sequence[Line], grey: Raster, scale: Scale) -> tuple[Line, ...]:
    """The lines, each tint with the luminance of its ground, and hidden where the page shows nothing in their place."""
    return tuple(_as_seen(line, grey, scale) for line in lines)


def _as_seen(line: Line, grey: Raster, scale: Scale) -> Line:
    if line.tints:
        line = msgspec.structs.replace(line, tints=tuple(_grounded(tint, grey, scale) for tint in line.tints))
    if line.visible and sum(c.isalnum() for c in line.text) >= TELLING and _is_flat(grey[scale.window(line.box)]):
        return msgspec.structs.replace(line, visible=False, hidden=NO_CONTRAST)
    return line


def _is_flat(part: Raster) -> bool:
    return bool(part.size) and int(part.max()) - int(part.min()) < CONTRAST


def _grounded(tint: Tint, grey: Raster, scale: Scale) -> Tint:
    return msgspec.structs.replace(tint, ground=_ground(tint.box, grey, scale))


def _ground(box: Box, grey: Raster, scale: Scale) -> float:
    part = grey[scale.window(box)]
    return round(_linear(float(np.median(part)) / 255), 3) if part.size else 1.0


def _linear(share: float) -> float:
    """Luminance of a grey in sRGB (IEC 61966-2-1)."""
    return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)
