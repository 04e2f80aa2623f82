"""How a scanned page lies on the glass, and where what was read from it would stand if it lay straight."""

from __future__ import annotations

import math
from collections.abc import Iterable
from statistics import median

from preflight.facts import Box, Page, Reading

SURE = 0.9
"""A string is sure if its least sure letter is so probable, and a second look saw the same. House value."""
PADDED = 0.65
"""The share of the height of a reader's box that its letters fill. Measured on printed forms of 9 to 12 pt."""
COLUMN = 5.0
"""Strings that begin in one column tell how the page lies if they stand so far apart (cm). House value."""
MOST_ASKEW = 1.5
"""Degrees that a sheet may lie askew and still be read in rows. House value."""


def lean_of(page: Page, readings: Iterable[Reading]) -> float:
    """By how many degrees the page lies askew, clockwise: as measured, or as its columns of strings lean."""
    if page.skew is not None:
        return page.skew
    most = math.tan(math.radians(MOST_ASKEW))
    starts = [(one.box.left, one.box.middle[1]) for one in readings if one.lowest >= SURE]
    slopes = [
        (left - right) / (lower - upper)
        for left, upper in starts
        for right, lower in starts
        if lower - upper > COLUMN and abs(left - right) < most * (lower - upper)
    ]
    return math.degrees(math.atan(median(slopes))) if slopes else 0.0


def upright(box: Box, page: Page, lean: float) -> Box:
    """The box moved to where it would stand on a page that does not lie askew; its size stays."""
    turn = math.radians(-lean)
    across, down = box.middle[0] - page.width / 2, box.middle[1] - page.height / 2
    right = across * math.cos(turn) - down * math.sin(turn) - across
    lower = across * math.sin(turn) + down * math.cos(turn) - down
    return Box(box.left + right, box.top + lower, box.right + right, box.bottom + lower)


def letters_height(box: Box, lean: float) -> float:
    """Of the letters in a reader's box (cm): it is padded, and higher by what its line rises; at least 0.13."""
    return max(box.height - box.width * abs(math.tan(math.radians(lean))), 0.2) * PADDED
