"""Flat light areas, such as a watermark behind the text or a tinted cell of a table."""

from __future__ import annotations

import cv2
import numpy as np

from preflight.facts import Box
from preflight.reading.pages.ink import find_marks
from preflight.reading.pages.pdfium import Raster
from preflight.reading.pages.pixels import Scale

DARK, LIGHT = 110, 248
"""Greys between these are pale: letters of a watermark print at 190 to 235."""
LEAST = 0.05
"""Clusters smaller than so many square cm are the soft edges of something else."""
MOST = 200
"""Kept of one page."""
_EDGE = np.ones((3, 3), dtype=np.uint8)


def find_pale(grey: Raster, scale: Scale) -> tuple[Box, ...]:
    """The clusters of pale pixels that have only pale neighbours: the soft edges of black letters have none."""
    pale = cv2.inRange(grey, np.array([DARK]), np.array([LIGHT]))
    flat = cv2.erode(pale, _EDGE)
    if not flat.any():
        return ()
    clusters = find_marks((np.asarray(flat) > 0).astype(np.uint8), scale)
    return tuple(box for box in clusters if box.area >= LEAST)[:MOST]


def ground(grey: Raster) -> float:
    """The commonest grey, from 0 to 1."""
    counts = np.asarray(cv2.calcHist([np.ascontiguousarray(grey)], [0], None, [256], [0, 256])).ravel()
    return round(int(np.argmax(counts)) / 255, 3)
