"""Words that run over several lines, with the way back to the line in which each stands."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable

import msgspec

from preflight.facts import Box
from preflight.papers.words.divided import together


class Spot(msgspec.Struct, frozen=True):
    """A line of a paper."""

    file: str
    role: str
    page: int
    box: Box


class Row(msgspec.Struct, frozen=True):
    """One row of the body of a page, without the number of its line; `size` of its type in pt."""

    text: str
    spot: Spot
    size: float
    width: float
    """Of its page, in cm."""
    left: float
    """Where the text of its page begins and ends, in cm from the left edge."""
    right: float
    pitch: float
    """The usual distance of the rows of its page, in cm; 0 where there are too few."""


class Passage(msgspec.Struct, frozen=True):
    """`starts` are the offsets at which its lines begin, `spots` the lines."""

    text: str
    starts: tuple[int, ...]
    spots: tuple[Spot, ...]

    def at(self, offset: int) -> Spot:
        """The line in which this character stands."""
        return self.spots[max(0, bisect_right(self.starts, offset) - 1)]

    @property
    def spot(self) -> Spot:
        """Its first line."""
        return self.spots[0]


def joined(pieces: Iterable[tuple[str, Spot]]) -> Passage:
    """The lines as one passage; a word divided at the end of a line is joined."""
    lines = list(pieces)
    text, starts = together(line for line, _ in lines)
    return Passage(text, starts, tuple(spot for _, spot in lines))
