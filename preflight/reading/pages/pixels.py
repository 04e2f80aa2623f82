"""How large a raster is made, and the way between its pixels and the page in cm."""

from __future__ import annotations

import math
from typing import NamedTuple

import cv2
import numpy as np
import numpy.typing as npt

from preflight.facts import CM_PER_INCH, Box
from preflight.reading.sheet import Sheet, rounded

DPI = 150
MOST_PIXELS = 16_000_000
"""A larger page is drawn more coarsely, and its blur grows: A3 at 150 dpi has 4.4 million."""

MOST_ASKED = 20_000_000
"""The same where a resolution is asked for: A3 at 300 dpi has 17 million."""
DARK = 150
"""Darker than this (of 255) is ink of a picture whose strings are read."""


class Scale(NamedTuple):
    """One pixel in cm, across and down."""

    across: float
    down: float

    @property
    def blur(self) -> float:
        """The reading error of a length, in cm."""
        return round(max(self.across, self.down), 6)

    def box(self, left: int, top: int, right: int, bottom: int) -> Box:
        """The place in cm of these pixels; right and bottom are the first ones outside."""
        return rounded(left * self.across, top * self.down, right * self.across, bottom * self.down)

    def window(self, box: Box) -> tuple[slice, slice]:
        """Rows and columns that a box in cm touches."""
        rows = slice(max(0, math.floor(box.top / self.down)), max(0, math.ceil(box.bottom / self.down)))
        columns = slice(max(0, math.floor(box.left / self.across)), max(0, math.ceil(box.right / self.across)))
        return rows, columns


def raster_size(sheet: Sheet) -> tuple[int, int]:
    """Columns and rows for a page."""
    pitch = CM_PER_INCH / DPI
    pixels = (sheet.width / pitch) * (sheet.height / pitch)
    pitch *= max(1.0, math.sqrt(pixels / MOST_PIXELS))
    return max(1, math.ceil(sheet.width / pitch - 1e-6)), max(1, math.ceil(sheet.height / pitch - 1e-6))


def drawn_at(width: float, height: float, dpi: int) -> tuple[int, int, Scale]:
    """Columns, rows and scale for a page of this size in cm at a resolution that is asked for, as far as it goes."""
    pitch = CM_PER_INCH / dpi
    pitch *= max(1.0, math.sqrt(width * height / pitch**2 / MOST_ASKED))
    columns, rows = max(1, round(width / pitch)), max(1, round(height / pitch))
    return columns, rows, Scale(width / columns, height / rows)


def scale_of(sheet: Sheet, columns: int, rows: int) -> Scale:
    """A pixel is page height over rows: rows are rounded up to whole pixels, so it is not 1 over the resolution."""
    return Scale(sheet.width / columns, sheet.height / rows)


def dark(grey: npt.NDArray[np.uint8]) -> npt.NDArray[np.uint8]:
    """1 for each pixel of ink in a picture whose strings are read."""
    return (grey < DARK).astype(np.uint8)


def coarse(ink: npt.NDArray[np.uint8], step: int) -> npt.NDArray[np.uint8]:
    """1 for each whole cell of `step` by `step` pixels, at most 15, in which there is any ink."""
    rows, columns = ink.shape[0] // step, ink.shape[1] // step
    whole = ink[: rows * step, : columns * step] * np.uint8(255)
    return (np.asarray(cv2.resize(whole, (columns, rows), interpolation=cv2.INTER_AREA)) > 0).astype(np.uint8)
