"""Thin level strokes at the lines of characters, and the ground that coloured characters stand on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec
import numpy as np

from preflight.facts import Bar, Box, Line, Tint
from preflight.reading.pages.pdfium import Colour, Raster, Stroke
from preflight.reading.pages.pixels import Scale
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
MOST = 2000
"""Kept of one page."""


def find_bars(strokes: Iterable[Stroke], lines: Sequence[Line], to_display: Affine, sheet: Sheet) -> tuple[Bar, ...]:
    """Those strokes that are level, thin and long enough, and touch a visible upright line of characters."""
    upright = [line.box.grown(NEAR) for line in lines if line.visible and not line.turned and not line.oblique]
    found: list[Bar] = []
    for stroke in strokes if upright else ():
        box = sheet.within(to_display.after(stroke.matrix).box(stroke.box))
        if box is None or box.height > THIN or box.width < SHORT:
            continue
        if len(found) < MOST and any(box.touches(line) for line in upright):
            found.append(Bar(box, hexadecimal(stroke.colour)))
    return tuple(found)


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


def hexadecimal(colour: Colour) -> str:
    """ "rrggbb"."""
    return "{:02x}{:02x}{:02x}".format(*colour)
