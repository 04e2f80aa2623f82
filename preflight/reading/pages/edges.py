"""The dark edge of a scan: what the lid of the scanner or the shadow beside the sheet leaves along a side of the page.

It is no ink of the drawing. A line or an area of the drawing that runs off the sheet reaches the edge in few places,
a dark edge goes along most of it or is a long thin wedge in a corner.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import cv2
import numpy as np
import numpy.typing as npt

from preflight.facts import Box
from preflight.reading.pages.ink import Mask
from preflight.reading.pages.pixels import Scale

DEEP = 1.5
"""In cm: a dark edge reaches so far into the page at the most."""
ALONG = 0.3
"""It goes along so much of its side at the least,"""
WEDGE, SLIM = 2.0, 4.0
"""or is so long (cm), so many times as long as it is deep, and begins in a corner."""
AT_EDGE = 0.1
"""In cm: a picture that ends so close to the edge of the page covers it."""
GRAIN = 0.05
"""In cm: light grains of a shadow are no larger."""
SPARE = 0.03
"""In cm: the soft rim of a dark edge."""


def dark_edges(ink: Mask, scans: Sequence[Box], scale: Scale) -> tuple[Box, ...]:
    """Their boxes, painted out of `ink`; none where no scan covers the edge of the page."""
    found: list[Box] = []
    rows, columns = ink.shape
    wide, high = columns * scale.across, rows * scale.down
    for box in scans:
        covers = box.left, box.top, wide - box.right, high - box.bottom
        for turn, white in enumerate(covers):
            if white <= AT_EDGE:
                found += _on_one_side(ink, turn, scale)
    return tuple(sorted(found, key=lambda b: (b.top, b.left)))


def _on_one_side(ink: Mask, turn: int, scale: Scale) -> Iterator[Box]:
    """`turn`: 0 left, 1 top, 2 right, 3 bottom. The side is laid along the top, its depth counted down."""
    side = _laid(ink, turn)
    across, down = (scale.across, scale.down) if turn in (1, 3) else (scale.down, scale.across)
    deep = round(DEEP / down)
    strip = side[: deep + 1]
    if strip[:2].any(axis=0).mean() * side.shape[1] * across < WEDGE:
        return
    depth = _depth(strip, max(1, round(GRAIN / max(across, down))))
    for first, last in _runs(depth > 0):
        part = depth[first:last]
        usual = int(np.percentile(part, 90))
        long = (last - first) * across
        corner = first == 0 or last == side.shape[1]
        slim = corner and long >= WEDGE and long >= SLIM * usual * down
        if usual <= deep and (slim or long >= ALONG * side.shape[1] * across):
            # lines of the drawing that run into it stay: they are deeper than it is beside them
            reach = np.minimum(part, _beside(part)) + round(SPARE / down)
            for column, end in zip(range(first, last), reach, strict=True):
                side[:end, column] = 0
            yield _box(turn, first, last, max(1, min(usual, int(reach.max()))), ink.shape, scale)


def _laid(ink: Mask, turn: int) -> Mask:
    """A view of the mask in which the side is the first row."""
    return (ink.T, ink, ink.T[::-1], ink[::-1])[turn]


def _depth(strip: Mask, grain: int) -> npt.NDArray[np.int64]:
    """How many rows of each column are ink without a break from the edge on."""
    kernel = np.ones((2 * grain + 1, 2 * grain + 1), np.uint8)
    whole = np.ascontiguousarray(strip)
    closed = np.asarray(cv2.morphologyEx(whole, cv2.MORPH_CLOSE, kernel, borderType=cv2.BORDER_REPLICATE))
    first_white = np.argmin(closed, axis=0)
    return np.where(closed.all(axis=0), len(closed), first_white)


def _runs(some: npt.NDArray[np.bool_]) -> list[tuple[int, int]]:
    turns = np.flatnonzero(np.diff(some.astype(np.int8), prepend=0, append=0))
    return [(int(a), int(b)) for a, b in zip(turns[::2], turns[1::2], strict=True)]


def _beside(depth: npt.NDArray[np.int64]) -> npt.NDArray[np.int64]:
    """The usual depth round each column: a narrow line does not change it, a wedge does."""
    reach = max(1, min(len(depth) // 6, 60))
    padded = np.pad(depth, reach, mode="edge")
    windows = np.lib.stride_tricks.sliding_window_view(padded, 2 * reach + 1)
    return np.asarray(np.median(windows, axis=1), dtype=np.int64)


def _box(turn: int, first: int, last: int, depth: int, shape: tuple[int, ...], scale: Scale) -> Box:
    rows, columns = shape
    return (
        scale.box(0, first, depth, last),
        scale.box(first, 0, last, depth),
        scale.box(columns - depth, first, columns, last),
        scale.box(first, rows - depth, last, rows),
    )[turn]
