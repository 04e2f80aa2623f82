"""What was read from the picture of a page, where it has no characters of its own that could be trusted."""

from __future__ import annotations

import msgspec

from preflight.facts.lengths import Box


class Reading(msgspec.Struct, frozen=True):
    """One string, as it seems to stand there. Never sure: `mean` and `lowest` are probabilities of its letters."""

    text: str
    box: Box
    turned: int
    """How it runs on the page as displayed, degrees clockwise: 0 upright, 90 down, 270 up."""
    mean: float
    lowest: float
    """Of the least sure letter: the better alarm."""
    other: str = ""
    """What a second look at the same place gave, if that was something else."""
    height: float | None = None
    """Of its ink in cm, to one pixel of 300 dpi; None if strokes of the drawing run into it."""
    columns: tuple[tuple[tuple[str, float], ...], ...] = ()
    """The best few letters of each column with the logarithms of their probabilities ("" is no letter), so that any
    other string can be held against the same picture."""
    strokes: int | None = None
    """How many strokes of the drawing come close to it, where it is a numeral by itself; None where it is none."""
    underlined: bool = False
    """A numeral with a line under it."""
    on_line: bool = False
    """A numeral with a line that goes on to both sides of it, at its middle or under it, as a dimension line does."""
