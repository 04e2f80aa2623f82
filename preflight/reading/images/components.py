"""Connected ink of a page, and cut-outs from which strokes that are no letters have been painted out."""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt

from preflight.reading.images.engine import Grey, Rect
from preflight.reading.pages.pixels import dark

GROWN = 0.08
LONG = 2.2
"""Box heights: no letter is so long."""
OUTER = 0.3
"""Of a side of the box: what lies only there, and goes on outside, comes from outside."""
SIDE_WHITE = 0.18
TOP_WHITE = 0.12


class Components:
    """The connected ink of one picture."""

    def __init__(self, grey: Grey) -> None:
        self.grey = grey
        _, labels, stats, _ = cv2.connectedComponentsWithStats(dark(grey), connectivity=8, ltype=cv2.CV_32S)
        self.labels = np.asarray(labels, dtype=np.int32)
        self.boxes = np.asarray(stats[:, :4], dtype=np.int32)
        """Left, top, width, height."""

    def cleaned(self, box: Rect) -> tuple[Grey, int] | None:
        """The ink of a box without strokes that come from outside, on white, and the height of its tallest letter; None
        if none is left.
        """
        place = self._grown(box)
        window = self.labels[place.top : place.bottom, place.left : place.right]
        strange = [one for one in np.unique(window) if one and self._comes_from_outside(one, place, window, box.height)]
        ink = (window > 0) & ~np.isin(window, strange)
        rows, columns = np.flatnonzero(ink.any(axis=1)), np.flatnonzero(ink.any(axis=0))
        if not len(rows):
            return None
        top, bottom, left, right = rows[0], rows[-1] + 1, columns[0], columns[-1] + 1
        picture = self.grey[place.top : place.bottom, place.left : place.right].copy()
        near = cv2.dilate(np.isin(window, strange).astype(np.uint8), np.ones((3, 3), np.uint8)) > 0
        picture[near & ~ink] = 255
        tight = picture[top:bottom, left:right]
        high = int(bottom - top)
        down, across = max(1, round(high * TOP_WHITE)), max(1, round(high * SIDE_WHITE))
        white = cv2.copyMakeBorder(tight, down, down, across, across, cv2.BORDER_CONSTANT, value=255)
        return np.asarray(white, dtype=np.uint8), _tallest(ink[top:bottom, left:right])

    def _grown(self, box: Rect) -> Rect:
        by = round(box.height * GROWN)
        rows, columns = self.grey.shape
        return Rect(
            max(0, box.left - by), max(0, box.top - by), min(columns, box.right + by), min(rows, box.bottom + by)
        )

    def _comes_from_outside(self, one: int, place: Rect, window: npt.NDArray[np.int32], height: int) -> bool:
        left, top, wide, high = (int(n) for n in self.boxes[one])
        inside = place.left <= left and place.top <= top and left + wide <= place.right and top + high <= place.bottom
        if inside:
            return False
        if max(wide, high) > LONG * height:
            return True
        rows, columns = np.nonzero(window == one)
        across, down = OUTER * window.shape[1], OUTER * window.shape[0]
        return bool(
            columns.max() < across
            or columns.min() >= window.shape[1] - across
            or rows.max() < down
            or rows.min() >= window.shape[0] - down
        )

    def specks(self, low: float, high: float) -> list[Rect]:
        """The components between these heights, in pixels, and no wider than high."""
        wide, tall = self.boxes[:, 2], self.boxes[:, 3]
        some = np.flatnonzero((tall >= low) & (tall <= high) & (wide <= high) & (wide >= low / 6))
        return [Rect(x, y, x + w, y + h) for x, y, w, h in self.boxes[some].tolist()]


def _tallest(ink: npt.NDArray[np.bool_]) -> int:
    """Rows of the tallest letter; letters stand apart. A string that lies askew is higher than its letters."""
    gaps = np.flatnonzero(~ink.any(axis=0))
    letters = [part for part in np.split(ink, gaps, axis=1) if part.any()]
    rows = (np.flatnonzero(letter.any(axis=1)) for letter in letters)
    return max(int(some[-1] - some[0]) + 1 for some in rows)
