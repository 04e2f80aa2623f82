"""The images placed on a page, with the resolution at which they are printed."""

from __future__ import annotations

import math
from collections.abc import Iterable

from preflight.facts import CM_PER_INCH, Picture
from preflight.reading.pages.pdfium import Placed
from preflight.reading.sheet import Affine, Sheet

MOST = 5000
"""Images kept of one page."""


def find_pictures(images: Iterable[Placed], to_display: Affine, sheet: Sheet) -> tuple[Picture, ...]:
    """Those that lie on the page at least in part, in the order of painting; boxes end at the page's edge."""
    found: list[Picture] = []
    for image in images:
        if len(found) == MOST:
            break
        matrix = to_display.after(image.matrix)
        box = sheet.within(matrix.box((0.0, 0.0, 1.0, 1.0)))
        if box is not None:
            found.append(
                Picture(box, image.width, image.height, _dpi(image, matrix), filters=image.filters, bits=image.bits)
            )
    return tuple(found)


def _dpi(image: Placed, matrix: Affine) -> float:
    sides = (image.width, math.hypot(matrix.a, matrix.b)), (image.height, math.hypot(matrix.c, matrix.d))
    every = [pixels * CM_PER_INCH / length for pixels, length in sides if length > 0]
    return round(min(every), 1) if every else 0.0
