"""By how much a scan lies askew, from the directions in which its ink lines up."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from preflight.reading.pages.ink import Mask
from preflight.reading.pages.pixels import Scale, coarse

MOST = 5.1
"""Degrees to either side that are tried: a line that slopes more is drawn so."""
STEP = 0.3
FINE = 0.1
ROUGH_CELL, CELL = 0.068, 0.034
"""In cm: the ink is looked at so coarsely, first and then."""
EDGE = 1.0
"""In cm: nearer to the edge of the page stands the shadow of the scanner, which is level whatever the paper does."""
CLEAR = 1.2
"""The direction must stand out over the others by this factor."""
AGREE = 0.4
"""Degrees by which level and upright lines may differ."""
ROWS = 1.9
"""Rows of print stand out by this factor; they need no upright lines beside them."""
FEW = 200

Points = tuple[npt.NDArray[np.float32], npt.NDArray[np.float32]]


def find_skew(ink: Mask, scale: Scale) -> float | None:
    """Degrees, clockwise as displayed; None where its lines do not agree on a direction.

    Level and upright lines have to agree: lines that slope in a view lie in one direction only.
    """
    rough, fine = _points(ink, scale, ROUGH_CELL), _points(ink, scale, CELL)
    if len(rough[0]) < FEW:
        return None
    level, clear = _direction(rough, fine)
    upright, _ = _direction(_turned(rough), _turned(fine))
    if level is None:
        return None
    if upright is None:
        return round(level, 2) if clear >= ROWS else None
    return round((level + upright) / 2, 2) if abs(level - upright) <= AGREE else None


def _points(ink: Mask, scale: Scale, cell: float) -> Points:
    """Where ink is, across and down, in cells."""
    step = max(1, round(cell / max(scale.across, scale.down)))
    above, beside = round(EDGE / scale.down), round(EDGE / scale.across)
    inner = ink[above : ink.shape[0] - above, beside : ink.shape[1] - beside]
    if min(inner.shape) < step:
        return np.zeros(0, dtype=np.float32), np.zeros(0, dtype=np.float32)
    down, across = np.nonzero(coarse(inner, step))
    return (across * (scale.across * step / cell)).astype(np.float32), (down * (scale.down * step / cell)).astype(
        np.float32
    )


def _turned(points: Points) -> Points:
    across, down = points
    return -down, across


def _direction(rough: Points, fine: Points) -> tuple[float | None, float]:
    """The angle at which the ink falls together on the fewest lines, and by what factor it stands out."""
    angles = np.arange(-MOST, MOST + STEP / 2, STEP)
    sharp = np.array([_sharpness(rough, angle) for angle in angles])
    best = int(np.argmax(sharp))
    clear = float(sharp[best] / np.median(sharp))
    if clear < CLEAR or best in (0, len(angles) - 1):
        return None, clear
    near = np.arange(angles[best] - STEP, angles[best] + STEP + FINE / 2, FINE)
    return float(near[int(np.argmax([_sharpness(fine, angle) for angle in near]))]), clear


def _sharpness(points: Points, angle: float) -> float:
    """The sum of squares of the profile along this direction."""
    across, down = points
    turned = down * np.float32(np.cos(np.radians(angle))) - across * np.float32(np.sin(np.radians(angle)))
    counts = np.bincount((turned - turned.min()).astype(np.int32)).astype(np.float64)
    return float(counts @ counts)
