"""How much of a page has a hue, and how much shows continuous tone."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
import numpy.typing as npt

from preflight.facts import Box, Patch
from preflight.reading.pages.ink import Mask, paper
from preflight.reading.pages.pdfium import Raster
from preflight.reading.pages.pixels import Scale

CHROMA = 30
"""A pixel whose largest and smallest primary differ by more than this, of 255, has a hue."""
BLOCK = 0.25
"""Side in cm of the blocks that are asked for continuous tone."""

_COMPANY = 3
"""A pixel of a scan counts as coloured if so many of the nine round it are: noise of JPEG stands alone."""
_BLACK = 20
_PAPER_DROP = 20
_MOSTLY = 0.75
_RARE = 0.0005


def find_colour(raster: Raster, scans: Sequence[Box], scale: Scale) -> tuple[Patch, Mask]:
    """The patch of pixels with a hue, and 1 where they are."""
    blue, green, red = cv2.split(raster)
    chroma = cv2.subtract(cv2.max(cv2.max(blue, green), red), cv2.min(cv2.min(blue, green), red))
    hue = (np.asarray(chroma) > CHROMA).astype(np.uint8)
    if not hue.any():
        return Patch(share=0.0), hue
    for box in scans:
        window = scale.window(box)
        part = hue[window]
        if part.size:
            company = cv2.boxFilter(part, cv2.CV_16S, (3, 3), normalize=False, borderType=cv2.BORDER_CONSTANT)
            part[np.asarray(company) < _COMPANY] = 0
    return Patch(share=round(float(hue.mean()), 6), box=_box(hue, scale)), hue


def find_tone(grey: Raster, hue: Mask, scans: Sequence[Box], scale: Scale) -> Patch:
    """The patch of blocks that are mostly filled with middle greys or colours."""
    high, wide = max(1, round(BLOCK / scale.down)), max(1, round(BLOCK / scale.across))
    middle = _middle(grey, hue, scans, scale)
    rows, columns = grey.shape[0] // high, grey.shape[1] // wide
    if not rows or not columns:
        return Patch(share=0.0)
    whole = middle[: rows * high, : columns * wide] * np.uint8(255)
    shares = np.asarray(cv2.resize(whole, (columns, rows), interpolation=cv2.INTER_AREA))
    blocks = (shares >= 255 * _MOSTLY).astype(np.uint8)
    if not blocks.any():
        return Patch(share=0.0)
    filled = np.zeros_like(middle)
    filled[: rows * high, : columns * wide] = blocks.repeat(high, axis=0).repeat(wide, axis=1)
    counts = np.bincount(grey[filled > 0], minlength=256)
    levels = int((counts >= max(2, _RARE * counts.sum())).sum())
    return Patch(share=round(float(filled.mean()), 6), box=_box(filled, scale), levels=levels)


def _middle(grey: Raster, hue: Mask, scans: Sequence[Box], scale: Scale) -> Mask:
    """1 where a pixel is neither black nor paper; the paper of a scan may be grey."""
    middle = ((grey > _BLACK) & (grey < 255 - _PAPER_DROP)).astype(np.uint8) | hue
    for box in scans:
        window = scale.window(box)
        part = grey[window]
        if part.size:
            light = paper(part) - _PAPER_DROP
            middle[window] = ((part > _BLACK) & (part < light)).astype(np.uint8) | hue[window]
    return middle


def _box(mask: npt.NDArray[np.uint8], scale: Scale) -> Box | None:
    rows, columns = np.flatnonzero(mask.any(axis=1)), np.flatnonzero(mask.any(axis=0))
    if not rows.size:
        return None
    return scale.box(int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1)
