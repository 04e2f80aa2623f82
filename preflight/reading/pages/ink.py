"""Where the ink of a page is: the box round all of it, and its clusters.

A picture that covers a good part of the page is taken for a scan: its paper may be grey, and its
specks (pepper, too small to be a printed full stop) do not count as ink. Elsewhere every pixel counts.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
import numpy.typing as npt

from preflight.facts import Box
from preflight.reading.pages.pdfium import Raster
from preflight.reading.pages.pixels import Scale
from preflight.reading.sheet import Sheet

Mask = npt.NDArray[np.uint8]
Labels = npt.NDArray[np.int32]

WHITE = 245
"""A pixel darker than this is ink."""
SCAN_SHARE = 0.25
"""A picture over more than this share of the page is taken for a scan."""
APART = 0.25
"""Clusters have at least about so much white between them, in cm."""

_SPECK_AREA = 0.001
"""In square cm of full black: a printed full stop of 10 pt type has about 0.0016."""
_SPECK_LENGTH = 0.08
"""In cm: longer ones are strokes."""
_PAPER_BAND = 8
_PAPER_SHARE = 0.3
_PAPER_DROP = 24


def find_ink(grey: Raster, scans: Sequence[Box], scale: Scale) -> Mask:
    """1 where there is ink; `scans` are the boxes of the pictures that are taken for scans."""
    ink = (grey < WHITE).astype(np.uint8)
    for box in scans:
        window = scale.window(box)
        part = grey[window]
        if part.size:
            ink[window] = _without_specks(part, paper(part), scale)
    return ink


def paper(grey: Raster) -> int:
    """The grey of the paper in a scan: its commonest light grey; 255 if none is common."""
    counts = np.asarray(cv2.calcHist([np.ascontiguousarray(grey)], [0], None, [256], [0, 256])).ravel()
    light = int(np.argmax(counts[160:])) + 160
    near = counts[max(0, light - _PAPER_BAND) : light + _PAPER_BAND + 1].sum()
    return light if near >= _PAPER_SHARE * grey.size else 255


def scans_of(boxes: Sequence[Box], sheet: Sheet) -> list[Box]:
    """The boxes of those pictures that cover a good part of the page."""
    area = sheet.width * sheet.height
    inside = [inner for box in boxes if (inner := sheet.within(box)) is not None]
    return [box for box in inside if box.area >= SCAN_SHARE * area]


def ink_box(ink: Mask, scale: Scale) -> Box | None:
    """The smallest box round all ink."""
    rows = np.flatnonzero(ink.any(axis=1))
    columns = np.flatnonzero(ink.any(axis=0))
    if not rows.size:
        return None
    return scale.box(int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1)


def find_marks(ink: Mask, scale: Scale) -> tuple[Box, ...]:
    """The ink in clusters, in reading order."""
    places = cv2.findNonZero(ink)
    if places is None:
        return ()
    reach = max(1, int(APART / 2 / max(scale.across, scale.down)))
    coarse = max(1, reach // 3)
    labels = _cluster(ink, coarse, max(1, (reach - coarse // 2) // coarse))
    x, y = np.asarray(places, dtype=np.int32).reshape(-1, 2).T  # OpenCV 4 has one axis more than OpenCV 5
    found = labels[y // coarse, x // coarse]
    edges = _edges(found, x, y)
    boxes = [scale.box(int(left), int(top), int(right) + 1, int(bottom) + 1) for left, top, right, bottom in edges]
    return tuple(in_reading_order(boxes))


def _cluster(ink: Mask, coarse: int, reach: int) -> Labels:
    """The number of the cluster of each coarse cell, after each cell has grown by `reach` cells."""
    rows, columns = -(-ink.shape[0] // coarse), -(-ink.shape[1] // coarse)
    padded = np.zeros((rows * coarse, columns * coarse), dtype=np.uint8)
    padded[: ink.shape[0], : ink.shape[1]] = ink * np.uint8(255)
    cells = (np.asarray(cv2.resize(padded, (columns, rows), interpolation=cv2.INTER_AREA)) > 0).astype(np.uint8)
    side = 2 * reach + 1
    grown = cv2.dilate(cells, np.ones((side, side), dtype=np.uint8))
    _, labels = cv2.connectedComponents(grown, connectivity=8, ltype=cv2.CV_32S)
    return np.asarray(labels, dtype=np.int32)


def _edges(found: Labels, x: Labels, y: Labels) -> npt.NDArray[np.int64]:
    """Left, top, right, bottom of the pixels of each cluster."""
    order = np.argsort(found, kind="stable")
    starts = np.flatnonzero(np.diff(found[order], prepend=-1))
    x, y = x[order], y[order]
    columns = [np.minimum.reduceat(x, starts), np.minimum.reduceat(y, starts)]
    columns += [np.maximum.reduceat(x, starts), np.maximum.reduceat(y, starts)]
    return np.stack(columns, axis=1).astype(np.int64)


def _without_specks(grey: Raster, light: int, scale: Scale) -> Mask:
    """The ink of a scan on paper of this grey, without what is smaller than a printed full stop."""
    ink = (grey < min(WHITE, light - _PAPER_DROP)).astype(np.uint8)
    number, labels, stats, _ = cv2.connectedComponentsWithStats(ink, connectivity=8)
    weight = np.bincount(labels.ravel(), weights=(1 - grey / light).ravel(), minlength=number)
    extent = np.maximum(stats[:, cv2.CC_STAT_WIDTH] * scale.across, stats[:, cv2.CC_STAT_HEIGHT] * scale.down)
    keep = (weight * scale.across * scale.down >= _SPECK_AREA) | (extent >= _SPECK_LENGTH)
    keep[0] = False
    return np.asarray(keep[labels], dtype=np.uint8)


def in_reading_order(boxes: Sequence[Box]) -> list[Box]:
    """Rows from the top, each from the left; a box belongs to the row whose first box holds its middle."""
    rows: list[list[Box]] = []
    for box in sorted(boxes, key=lambda b: (b.top, b.left)):
        middle = (box.top + box.bottom) / 2
        if rows and middle <= rows[-1][0].bottom and (rows[-1][0].top + rows[-1][0].bottom) / 2 >= box.top:
            rows[-1].append(box)
        else:
            rows.append([box])
    return [box for row in rows for box in sorted(row, key=lambda b: (b.left, b.top))]
