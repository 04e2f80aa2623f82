"""The page as displayed: CropBox within MediaBox, turned by Rotate, scaled by UserUnit."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from preflight.facts import CM_PER_PT, Box


class Affine(NamedTuple):
    """x' = a x + c y + e, y' = b x + d y + f."""

    a: float
    b: float
    c: float
    d: float
    e: float
    f: float

    def point(self, x: float, y: float) -> tuple[float, float]:
        """Where a point goes."""
        return self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f

    def after(self, first: Affine) -> Affine:
        """The two in one: `first`, then this one."""
        e, f = self.point(first.e, first.f)
        return Affine(
            self.a * first.a + self.c * first.b,
            self.b * first.a + self.d * first.b,
            self.a * first.c + self.c * first.d,
            self.b * first.c + self.d * first.d,
            e,
            f,
        )

    def box(self, corners: Sequence[float]) -> Box:
        """The upright rectangle round where two opposite (x0, y0, x1, y1) corners of another one go."""
        x0, y0, x1, y1 = corners
        places = [self.point(x, y) for x, y in ((x0, y0), (x1, y0), (x0, y1), (x1, y1))]
        return rounded(
            min(x for x, _ in places),
            min(y for _, y in places),
            max(x for x, _ in places),
            max(y for _, y in places),
        )


def rounded(left: float, top: float, right: float, bottom: float) -> Box:
    """A box in whole micrometres, so that facts are the same on every machine."""
    return Box(round(left, 4), round(top, 4), round(right, 4), round(bottom, 4))


class Sheet(NamedTuple):
    """The size of a page as displayed, in cm, and the way from its user space to there."""

    width: float
    height: float
    rotate: int
    unit: float
    to_display: Affine

    def within(self, box: Box) -> Box | None:
        """The part of a box that lies on the page; None if there is none."""
        left, top = max(box.left, 0.0), max(box.top, 0.0)
        right, bottom = min(box.right, self.width), min(box.bottom, self.height)
        return Box(left, top, right, bottom) if left <= right and top <= bottom else None


LETTER = (0.0, 0.0, 612.0, 792.0)
"""What PDFium and others take for a page without a usable MediaBox, in pt."""


def sheet(media: Sequence[float] | None, crop: Sequence[float] | None, rotate: int, unit: float) -> Sheet:
    """The sheet of a page with these boxes (pt), turn (degrees clockwise) and UserUnit; sizes 0 if nothing is left."""
    box = _upright(media) or LETTER
    if inner := _upright(crop):
        box = max(box[0], inner[0]), max(box[1], inner[1]), min(box[2], inner[2]), min(box[3], inner[3])
    wide, high = max(box[2] - box[0], 0.0), max(box[3] - box[1], 0.0)
    scale = CM_PER_PT * unit
    left, bottom, right, top = (edge * scale for edge in box)
    turn = rotate % 360
    to_display = {
        90: Affine(0, scale, scale, 0, -bottom, -left),
        180: Affine(-scale, 0, 0, scale, right, -bottom),
        270: Affine(0, -scale, -scale, 0, top, right),
    }.get(turn, Affine(scale, 0, 0, -scale, -left, top))
    if turn in (90, 270):
        wide, high = high, wide
    return Sheet(round(wide * scale, 4), round(high * scale, 4), turn, unit, to_display)


def _upright(box: Sequence[float] | None) -> tuple[float, float, float, float] | None:
    if box is None or len(box) != 4 or not all(math.isfinite(edge) for edge in box):
        return None
    x0, y0, x1, y1 = box
    left, right, bottom, top = min(x0, x1), max(x0, x1), min(y0, y1), max(y0, y1)
    return (left, bottom, right, top) if right > left and top > bottom else None
