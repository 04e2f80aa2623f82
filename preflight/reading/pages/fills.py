"""Solid areas of one tone: black or grey fills, and what a punch leaves on a scan."""

from __future__ import annotations

import cv2
import numpy as np

from preflight.facts import Box, Fill
from preflight.reading.pages.ink import Mask
from preflight.reading.pages.pdfium import Raster
from preflight.reading.pages.pixels import Scale

CORE = 0.15
"""In cm: what is thinner everywhere is a stroke, no area."""
LEAST = 0.1
"""Areas smaller than so many square cm are dots."""
EVEN = 60
"""Levels of grey, of 256, by which the tone may vary within `CORE`: grain of a scan varies, hatching varies more."""
RING = 0.1
"""Width in cm of the ring round a small area that is asked for ink."""
SMALL = 1.2
"""Sides in cm up to which an area is asked for it."""
MOST = 200


def find_fills(grey: Raster, ink: Mask, scale: Scale) -> tuple[tuple[Fill, ...], Mask]:
    """The areas, the largest first, and 1 where they are."""
    side = max(3, round(CORE / max(scale.across, scale.down)))
    kernel = np.ones((side, side), dtype=np.uint8)
    core = np.asarray(cv2.erode(ink, kernel, borderType=cv2.BORDER_CONSTANT, borderValue=0), dtype=np.uint8)
    if not core.any():
        return (), core
    uneven = cv2.subtract(cv2.dilate(grey, kernel), cv2.erode(grey, kernel))
    core &= np.asarray(cv2.inRange(uneven, np.array([0]), np.array([EVEN])), dtype=np.uint8)
    if not core.any():
        return (), core
    solid = np.asarray(cv2.dilate(core, kernel), dtype=np.uint8)
    number, labels, stats, _ = cv2.connectedComponentsWithStats(solid, connectivity=4)
    labels = np.asarray(labels)
    tones = np.bincount(labels.ravel(), weights=grey.ravel(), minlength=number)
    found = []
    for one in range(1, number):
        left, top, width, height, pixels = (int(value) for value in stats[one])
        area = pixels * scale.across * scale.down
        if area >= LEAST:
            box = scale.box(left, top, left + width, top + height)
            part = (labels[top : top + height, left : left + width] == one).astype(np.uint8)
            tone = round(float(tones[one]) / pixels / 255, 3)
            found.append(
                Fill(box, round(area, 3), tone, round(pixels / (width * height), 3), _ring(part, box, ink, scale))
            )
    return tuple(sorted(found, key=lambda f: (-f.area, f.box.top, f.box.left))[:MOST]), solid


def _ring(part: Mask, box: Box, ink: Mask, scale: Scale) -> float:
    """The share of ink in the ring round a small area; 0 for a large one."""
    if max(box.width, box.height) > SMALL:
        return 0.0
    reach = max(2, round(RING / max(scale.across, scale.down)))
    soft = 2  # the area's own soft edge is no ink beside it
    wide = np.pad(part, reach + soft)
    near = cv2.dilate(wide, np.ones((2 * soft + 1,) * 2, dtype=np.uint8))
    far = cv2.dilate(wide, np.ones((2 * (reach + soft) + 1,) * 2, dtype=np.uint8))
    ring = (np.asarray(far) > 0) & (np.asarray(near) == 0)
    top, left = round(box.top / scale.down) - reach - soft, round(box.left / scale.across) - reach - soft
    rows, columns = np.nonzero(ring)
    rows, columns = rows + top, columns + left
    there = (rows >= 0) & (columns >= 0) & (rows < ink.shape[0]) & (columns < ink.shape[1])
    return round(float(ink[rows[there], columns[there]].mean()), 3) if there.any() else 0.0
