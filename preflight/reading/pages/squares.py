"""Small square frames on a page, as tick boxes are, and how much of each is filled."""

from __future__ import annotations

import cv2
import numpy as np

from preflight.facts import Box, Square
from preflight.reading.pages.ink import Mask, in_reading_order
from preflight.reading.pages.pdfium import Raster
from preflight.reading.pages.pixels import Scale

LEAST, MOST = 0.2, 0.75
"""A tick box is so large, in cm."""
SQUARE = 0.2
"""Height and width differ by at most this share."""
SIDES = 0.85
"""At least this share of each of the four sides is drawn."""
RIM = 0.22
"""The frame itself lies in this outer share of each side; what is marked lies inside."""
DARK = 160
"""A pixel darker than this is drawn."""
MANY = 200
"""More than so many frames are a pattern, no form."""


def find_squares(grey: Raster, scale: Scale) -> tuple[Square, ...]:
    """The frames in reading order, each with the share of ink inside; none where there are too many for tick boxes."""
    ink = (grey < DARK).astype(np.uint8)
    _, _, stats, _ = cv2.connectedComponentsWithStats(ink, connectivity=8)
    found: dict[Box, float] = {}
    every = np.asarray(stats)[1:]
    across, down = every[:, cv2.CC_STAT_WIDTH] * scale.across, every[:, cv2.CC_STAT_HEIGHT] * scale.down
    small = (np.minimum(across, down) >= LEAST) & (np.maximum(across, down) <= MOST)
    square = np.abs(across - down) <= SQUARE * np.maximum(across, down)
    for left, top, width, height, _ in every[small & square]:
        part = ink[top : top + height, left : left + width]
        if _framed(part):
            box = scale.box(int(left), int(top), int(left + width), int(top + height))
            found[box] = _filled(part)
    if len(found) > MANY:
        return ()
    return tuple(Square(box, found[box]) for box in in_reading_order(list(found)))


def _framed(part: Mask) -> bool:
    """Whether a line runs along all four sides."""
    rim = max(2, round(min(part.shape) * 0.15))
    sides = (part[:rim].any(axis=0), part[-rim:].any(axis=0), part[:, :rim].any(axis=1), part[:, -rim:].any(axis=1))
    return all(float(side.mean()) >= SIDES for side in sides)


def _filled(part: Mask) -> float:
    """The share of ink inside the frame."""
    rows, columns = round(part.shape[0] * RIM), round(part.shape[1] * RIM)
    inside = part[rows : part.shape[0] - rows, columns : part.shape[1] - columns]
    return round(float(inside.mean()), 3) if inside.size else 0.0
