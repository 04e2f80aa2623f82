"""What is drawn close beside a numeral: a lead line that comes to it, a line under it, or nothing."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import TypeVar

import msgspec
import numpy as np
import numpy.typing as npt

from preflight.facts import Box, Line, Reading
from preflight.reading.pages.ink import Mask
from preflight.reading.pages.pixels import Scale

NUMERAL = re.compile(r"^\W*\d{1,4}[A-Za-z]?['\u2032\u2019]{0,3}\W*$")
ROUND = (0.35, 0.7, 1.1, 1.5)
"""Heights of the numeral: a stroke counts that crosses two such rings one after the other."""
NARROW = 0.8
"""Heights of the numeral: what crosses a ring over more than this runs along it, as the side of a frame does."""
SLACK = 2
"""Pixels by which a line that passes may lie otherwise on the other side."""
UNDER = (0.05, 0.4)
"""Heights below its foot where a line under it lies."""
DRAWN = 0.8
"""Of its width, at least so much of it."""
ALONG = ((0.6, 1.2), (1.0, 1.6), (1.6, 2.2))
"""Heights of the numeral beside it over which a dimension line is followed: a gap for the number is close or wide."""
MOST = 200
"""Numerals on a page: a page with more is a table."""

Boxed = TypeVar("Boxed", Line, Reading)


def with_strokes_beside(some: Sequence[Boxed], ink: Mask, scale: Scale) -> tuple[Boxed, ...]:
    """The strings of a page, those that are a numeral with what is drawn beside them."""
    numerals = [one for one in some if NUMERAL.match(one.text)]
    if not numerals or len(numerals) > MOST:
        return tuple(some)
    drawn = _without(ink, (one.box for one in some), scale)
    return tuple(_with_strokes(one, drawn, scale) if NUMERAL.match(one.text) else one for one in some)


def _with_strokes(one: Boxed, drawn: Mask, scale: Scale) -> Boxed:
    return msgspec.structs.replace(
        one,
        strokes=_strokes(one, drawn, scale),
        underlined=_underlined(one, drawn, scale),
        on_line=_on_line(one, drawn, scale),
    )


def _without(ink: Mask, boxes: Iterable[Box], scale: Scale) -> Mask:
    """The ink without all that is written."""
    drawn = ink.copy()
    for box in boxes:
        drawn[scale.window(box)] = 0
    return drawn


def _strokes(one: Line | Reading, drawn: Mask, scale: Scale) -> int:
    high = one.box.height if one.turned in (0, 180) else one.box.width
    crossed = [
        _crossings(_ring(drawn, one.box.grown(share * high), scale), NARROW * high / scale.down) for share in ROUND
    ]
    return max(min(near, far) for near, far in pairwise(crossed))


def _ring(drawn: Mask, box: Box, scale: Scale) -> npt.NDArray[np.bool_]:
    """The pixels along the sides of a box, in turn, without lines that pass it; outside of the page there is no ink."""
    rows, columns = scale.window(box)
    part = drawn[rows, columns] > 0
    if min(part.shape) < 2:
        return np.zeros(0, dtype=np.bool_)
    top, bottom = _without_passing(part[0], part[-1])
    left, right = _without_passing(part[:, 0], part[:, -1])
    return np.concatenate((top, right[1:], bottom[-2::-1], left[-2:0:-1]))


def _without_passing(
    one: npt.NDArray[np.bool_], other: npt.NDArray[np.bool_]
) -> tuple[npt.NDArray[np.bool_], npt.NDArray[np.bool_]]:
    """Two opposite sides of the ring without what crosses both at one place: a lead line ends, a frame goes by."""
    near = np.ones(2 * SLACK + 1, dtype=np.int32)
    wide, far = (np.convolve(side, near, mode="same") > 0 for side in (one, other))
    return one & ~far, other & ~wide


def _crossings(ring: npt.NDArray[np.bool_], narrow: float) -> int:
    """Runs of ink no longer than so many pixels; the ring is closed."""
    if not ring.any() or ring.all():
        return 0
    start = int(np.argmin(ring))
    turns = np.flatnonzero(np.diff(np.roll(ring, -start).astype(np.int8), append=0))
    return int((np.diff(turns)[::2] <= narrow).sum())


def _underlined(one: Line | Reading, drawn: Mask, scale: Scale) -> bool:
    """A line along the foot of upright text, or along the side of text that runs down or up."""
    part = drawn[scale.window(_below(one))]
    level = one.turned in (0, 180)
    return bool(part.size) and float(part.mean(axis=1 if level else 0).max()) >= DRAWN


def _below(one: Line | Reading) -> Box:
    """The strip under the text as it is read, a third of its height high."""
    box = one.box
    low, far = (share * (box.height if one.turned in (0, 180) else box.width) for share in UNDER)
    return {
        0: Box(box.left, box.bottom + low, box.right, box.bottom + far),
        180: Box(box.left, box.top - far, box.right, box.top - low),
        90: Box(box.left - far, box.top, box.left - low, box.bottom),
    }.get(one.turned, Box(box.right + low, box.top, box.right + far, box.bottom))


def _on_line(one: Line | Reading, drawn: Mask, scale: Scale) -> bool:
    """Whether a line is broken for the text, or runs under it and on to both sides; an upright line also for level
    text."""
    level = one.turned in (0, 180)
    under = [(_below(one), level)] if _underlined(one, drawn, scale) else []
    bands = [*((_inner(one.box, level=way), way) for way in (level, not level)), *under]
    return any(_on_both_sides(band, along, drawn, scale, level=way) for band, way in bands for along in ALONG)


def _inner(box: Box, *, level: bool) -> Box:
    """The middle third of the height of the text."""
    across, down = box.middle
    if level:
        return Box(box.left, down - box.height / 6, box.right, down + box.height / 6)
    return Box(across - box.width / 6, box.top, across + box.width / 6, box.bottom)


def _on_both_sides(band: Box, along: tuple[float, float], drawn: Mask, scale: Scale, *, level: bool) -> bool:
    """Whether one line lies in the band before it begins and after it ends; it is a third of the text high."""
    high = 3 * (band.height if level else band.width)
    near, far = (share * high for share in along)
    if level:
        sides = (
            Box(band.left - far, band.top, band.left - near, band.bottom),
            Box(band.right + near, band.top, band.right + far, band.bottom),
        )
    else:
        sides = (
            Box(band.left, band.top - far, band.right, band.top - near),
            Box(band.left, band.bottom + near, band.right, band.bottom + far),
        )
    before, after = (_lined(drawn[scale.window(side)], level=level) for side in sides)
    return bool(before.size and before.shape == after.shape and (before & after).any())


def _lined(part: Mask, *, level: bool) -> npt.NDArray[np.bool_]:
    """For each row (column, for text that runs down or up) whether a line lies along it."""
    if not part.size:
        return np.zeros(0, dtype=np.bool_)
    return np.asarray(part.mean(axis=1 if level else 0) >= DRAWN)
