"""What JPEG leaves beside the strokes of a line drawing: a copy in black and white makes specks of it."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np

from preflight.facts import Picture
from preflight.reading.pages.ink import Mask, paper
from preflight.reading.pages.pdfium import Raster
from preflight.reading.pages.pixels import Scale

LOSSY = ("DCTDecode", "JPXDecode")
DARK = 100
"""Levels of grey, of 255, below the paper: a stroke."""
SEEN = 12
"""Levels by which paper differs visibly from paper."""
NEAR, BESIDE, FAR = 0.034, 0.085, 0.3
"""In cm from a stroke: its own soft edge; the blocks that it lies in; paper that it does not touch."""
FEW = 500
"""Pixels beside strokes that tell nothing."""


def find_traces(grey: Raster, solid: Mask, pictures: Sequence[Picture], scale: Scale) -> float | None:
    """The share of the paper close beside strokes that is soiled, beyond that of the paper far from any; None without
    such pictures. `solid` is what `find_fills` found: beside a grey area nothing is told from it.
    """
    boxes = [one.box for one in pictures if any(name in LOSSY for name in one.filters)]
    shares = [share for box in boxes if (share := _soiled(grey[scale.window(box)], solid[scale.window(box)], scale))]
    return round(max(shares, default=0.0), 4) if boxes else None


def _soiled(grey: Raster, solid: Mask, scale: Scale) -> float:
    if grey.size < FEW:
        return 0.0
    light = paper(grey)
    off = np.abs(grey.astype(np.int16) - light) > SEEN
    dark = (grey < light - DARK).astype(np.uint8)
    near, beside, far = (_within(dark, reach, scale) for reach in (NEAR, BESIDE, FAR))
    even = ~_within(solid, BESIDE, scale)
    ring, rest = beside & ~near & even, ~far & even
    if ring.sum() < FEW:
        return 0.0
    return max(0.0, float(off[ring].mean()) - (float(off[rest].mean()) if rest.any() else 0.0))


def _within(mask: Mask, reach: float, scale: Scale) -> np.ndarray:
    side = 2 * max(1, round(reach / max(scale.across, scale.down))) + 1
    return np.asarray(cv2.dilate(mask, np.ones((side, side), np.uint8))) > 0
