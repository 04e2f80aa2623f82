"""A frame drawn round most of the page, as a drafting template has."""

from __future__ import annotations

import cv2
import numpy as np

from preflight.facts import Box
from preflight.reading.pages.ink import Mask
from preflight.reading.pages.pixels import Scale, coarse

CELL = 0.07
"""In cm: gaps in a side that are shorter than this do not break it."""
LARGE = 0.6
"""A frame is at least so wide and so high, as a share of the page."""
DRAWN = 0.9
"""At least this share of each of the four sides is drawn."""
RIM = 0.15
"""In cm: a level side keeps within this of its edge of the frame."""
LEANING = 0.035
"""That much more, of its length, on a scan, which may lie askew by 2 degrees."""
THIN = 0.6
"""A rim that is filled by more than this share is an area, no line."""

_LONG = LARGE * DRAWN


def find_frame(ink: Mask, scale: Scale, *, scanned: bool) -> Box | None:
    """The box of the largest frame; None where there is none."""
    step = max(1, round(CELL / max(scale.across, scale.down)))
    rows, columns = ink.shape[0] // step, ink.shape[1] // step
    if not rows or not columns:
        return None
    if not scanned and np.count_nonzero(cv2.reduce(ink, 0, cv2.REDUCE_SUM, dtype=cv2.CV_32S) > _LONG * ink.shape[0]) < 2:
        return None  # most pages: no two upright lines are long enough
    cells = coarse(ink, step)
    number, labels, stats, _ = cv2.connectedComponentsWithStats(cells, connectivity=8)
    labels = np.asarray(labels)
    for one in sorted(range(1, number), key=lambda n: -int(stats[n][2]) * int(stats[n][3])):
        left, top, width, height, _ = (int(value) for value in stats[one])
        if width < LARGE * columns or height < LARGE * rows:
            continue
        part = labels[top : top + height, left : left + width] == one
        if _framed(part, scale.across * step, scanned=scanned):
            return scale.box(left * step, top * step, (left + width) * step, (top + height) * step)
    return None


def _framed(part: np.ndarray, cell: float, *, scanned: bool) -> bool:
    """Whether a thin line runs along all four sides."""
    for side in (part, part[::-1], part.T, part.T[::-1]):
        reach = RIM + (LEANING * side.shape[1] * cell if scanned else 0.0)
        rim = side[: max(2, round(reach / cell))]
        if rim.any(axis=0).mean() < DRAWN or rim.mean() > THIN:
            return False
    return True
