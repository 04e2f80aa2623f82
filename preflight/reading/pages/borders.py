"""A frame drawn round most of the page, as a drafting template has."""

from __future__ import annotations

import math

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
"""In cm: a level side keeps within this of its edge of the frame; one on a scan that lies askew needs more room."""
THIN = 0.6
"""A rim that is filled by more than this share is an area, no line."""

_LONG = LARGE * DRAWN


def find_frame(ink: Mask, scale: Scale, *, skew: float | None) -> Box | None:
    """The box of the largest frame; None where there is none. `skew`: of a scan, in degrees."""
    step = max(1, round(CELL / max(scale.across, scale.down)))
    rows, columns = ink.shape[0] // step, ink.shape[1] // step
    if not rows or not columns:
        return None
    if (
        skew is None
        and np.count_nonzero(cv2.reduce(ink, 0, cv2.REDUCE_SUM, dtype=cv2.CV_32S) > _LONG * ink.shape[0]) < 2
    ):
        return None  # most pages: no two upright lines are long enough
    cells = coarse(ink, step)
    number, labels, stats, _ = cv2.connectedComponentsWithStats(cells, connectivity=8)
    labels = np.asarray(labels)
    for one in sorted(range(1, number), key=lambda n: -int(stats[n][2]) * int(stats[n][3])):
        left, top, width, height, _ = (int(value) for value in stats[one])
        if width < LARGE * columns or height < LARGE * rows:
            continue
        part = labels[top : top + height, left : left + width] == one
        if _framed(part, scale.across * step, skew=skew):
            return scale.box(left * step, top * step, (left + width) * step, (top + height) * step)
    return None


def _framed(part: np.ndarray, cell: float, *, skew: float | None) -> bool:
    """Whether a thin line runs along all four sides."""
    for side in (part, part[::-1], part.T, part.T[::-1]):
        reach = RIM + math.tan(math.radians(abs(skew or 0.0))) * side.shape[1] * cell
        rim, wide = side[: max(2, round(reach / cell))], side[: max(5, round(reach / cell))]
        if rim.any(axis=0).mean() < DRAWN or wide.mean() > THIN:
            return False
    return True
