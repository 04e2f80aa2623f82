"""How wide the lines of a scan are, from how much black they hold, whatever its resolution.

The darkness along a row and down a column through a line, added up, is its width in these two directions: a line of
half a pixel is half as dark. So a raster that is coarser than the scan tells the width all the same.
"""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt

from preflight.reading.pages.ink import Mask, paper
from preflight.reading.pages.pdfium import Raster
from preflight.reading.pages.pixels import Scale

SHORTEST, LONGEST = 10.0, 2500.0
"""In cm: with less line the page has hardly a drawing, with more it is a screen of dots."""
PALE = 0.3
"""Of black: a line whose middle is paler is told by `find_faint`, or is a screen of fine dots."""

Lengths = npt.NDArray[np.float64]


def usual_width(grey: Raster, ink: Mask, scale: Scale) -> float | None:
    """In cm: half of the length of all lines is thinner; None where there are hardly any."""
    rows, columns = np.flatnonzero(ink.any(axis=1)), np.flatnonzero(ink.any(axis=0))
    if not rows.size:
        return None
    window = slice(rows[0], rows[-1] + 1), slice(columns[0], columns[-1] + 1)
    light = paper(grey)
    black = np.where(ink[window] > 0, np.clip(light - grey[window].astype(np.int32), 0, light), 0)
    across = _through(black, scale.across / light)
    down = _through(np.ascontiguousarray(black.T), scale.down / light).T
    strong = np.asarray(cv2.dilate(black.astype(np.uint8), np.ones((3, 3), np.uint8))) > PALE * light
    here = strong & (black > 0)
    width = 1 / np.hypot(1 / across[here], 1 / down[here])  # of a straight line in any direction
    length = black[here] * (scale.across * scale.down / light) / width
    whole = float(length.sum())
    if not SHORTEST <= whole <= LONGEST:
        return None
    order = np.argsort(width)
    return round(float(width[order][np.searchsorted(np.cumsum(length[order]), whole / 2)]), 4)


def _through(black: npt.NDArray[np.int32], unit: float) -> Lengths:
    """For each pixel the sum over the unbroken run of its row, times `unit`; 0 outside of any."""
    rows, columns = black.shape
    apart = np.zeros((rows, columns + 2), np.int32)  # so that no run goes on in the next row
    apart[:, 1:-1] = black
    flat = apart.ravel()
    some = flat > 0
    turns = np.flatnonzero(np.diff(some.astype(np.int8)))
    first, last = turns[::2] + 1, turns[1::2] + 1
    sums = np.add.reduceat(flat, np.column_stack([first, last]).ravel())[::2] if first.size else np.zeros(0)
    found = np.zeros(flat.size)
    found[some] = np.repeat(sums * unit, last - first)
    return found.reshape(rows, columns + 2)[:, 1:-1]
