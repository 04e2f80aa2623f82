"""The page as it is looked at: upright, or turned so that a figure that lies on its side can be read."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from preflight.reading.images.engine import Grey, Rect


class View(NamedTuple):
    """The page turned clockwise by `turn` degrees (0, 90 or 270)."""

    grey: Grey
    turn: int

    @property
    def runs(self) -> int:
        """How text that is upright here runs on the page: 0 level, 90 down, 270 up."""
        return (360 - self.turn) % 360

    def of_page(self, box: Rect) -> Rect:
        """A place of the page, here."""
        rows, columns = self.grey.shape
        if self.turn == 90:
            return Rect(columns - box.bottom, box.left, columns - box.top, box.right)
        if self.turn == 270:
            return Rect(box.top, rows - box.right, box.bottom, rows - box.left)
        return box

    def on_page(self, box: Rect) -> Rect:
        """The reverse."""
        rows, columns = self.grey.shape
        if self.turn == 90:
            return Rect(box.top, columns - box.right, box.bottom, columns - box.left)
        if self.turn == 270:
            return Rect(rows - box.bottom, box.left, rows - box.top, box.right)
        return box


def view(grey: Grey, turn: int) -> View:
    """The page so turned."""
    return View(np.ascontiguousarray(np.rot90(grey, k={0: 0, 90: -1, 270: 1}[turn])), turn)
