"""The widths and greys with which paths are painted."""

from __future__ import annotations

import math
from collections.abc import Iterable

from preflight.facts import Box, Pen
from preflight.reading.pages.pdfium import Stroke
from preflight.reading.sheet import Affine, Sheet

SHORT = 0.3
"""In cm: shorter strokes are parts of letters and marks."""
THIN = 0.1
"""In cm: a filled box thinner than this is a stroke."""
WHITE = 0.96
"""What is as light as this is painted out, not drawn."""
MOST = 50
"""Kept of one page; the thinnest first."""


def find_pens(strokes: Iterable[Stroke], to_display: Affine, sheet: Sheet) -> tuple[Pen, ...]:
    """One for each width and grey, the thinnest first."""
    found: dict[tuple[float, float], list[Box]] = {}
    for stroke in strokes:
        box = sheet.within(to_display.after(stroke.matrix).box(stroke.box))
        grey = _grey(stroke)
        if box is None or grey >= WHITE or max(box.width, box.height) < SHORT:
            continue
        width = _width(stroke, box, to_display)
        if width is not None:
            found.setdefault((width, grey), []).append(box)
    pens = [
        Pen(width, grey, len(boxes), around) for (width, grey), boxes in found.items() if (around := Box.around(boxes))
    ]
    return tuple(sorted(pens, key=lambda pen: (pen.width, pen.grey))[:MOST])


def _grey(stroke: Stroke) -> float:
    red, green, blue = stroke.colour
    return round((0.299 * red + 0.587 * green + 0.114 * blue) / 255, 2)


def _width(stroke: Stroke, box: Box, to_display: Affine) -> float | None:
    """In cm; None for an area, and for an outline in the colour of its area."""
    if stroke.pen is None:
        thin = min(box.width, box.height)
        return round(thin, 4) if thin < THIN else None
    if stroke.filled:
        return None
    matrix = to_display.after(stroke.matrix)
    return round(stroke.pen * math.sqrt(abs(matrix.a * matrix.d - matrix.b * matrix.c)), 4)
