"""Cells of a row that stand so close that they were read as one line, parted again."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from statistics import median

import msgspec

from preflight.facts import Box, Line
from preflight.papers.words.lettering import flat

REACH = 0.8
"""A line that goes on so many cm beyond the beginning of a column holds the next cell too. House value."""
SAME_SIZE = 0.6
"""Lines whose types differ by less than so many pt tell how wide letters are. House value."""

_HEAD = (
    r"(?:(?:given|first) names?(?: \([^)]*\))?|(?:family|last) names?|surnames?|(?:full )?name|residence|city|state"
    r"|country)"
)
_HEADS = re.compile(rf"{_HEAD}(?:\s+{_HEAD})+", re.IGNORECASE)
_NARROW, _WIDE = frozenset("ijltfrI.,;:'()-/ "), frozenset("mwMW@")


def heads_parted(line: Line) -> Iterator[Line]:
    """The heads of columns that one line holds: "Given name Family name Residence"; else the line."""
    text = flat(line.text)
    if not _HEADS.fullmatch(text):
        yield line
        return
    each = line.box.width / len(text)
    for found in re.finditer(_HEAD, text, re.IGNORECASE):
        left, right = (line.box.left + at * each for at in found.span())
        yield msgspec.structs.replace(line, text=found.group(), box=Box(left, line.box.top, right, line.box.bottom))


def cells_parted(line: Line, starts: Sequence[float], every: Sequence[Line]) -> Iterator[Line]:
    """The cells that one line holds, given where further columns begin (cm); `every`: lines of the page."""
    start = next((one for one in starts if line.box.left < one - REACH and line.box.right > one + REACH), None)
    words = flat(line.text).split(" ")
    unit = _unit(line, every) if start is not None and len(words) > 1 else 0.0
    if start is None or not unit:
        yield line
        return
    tails = [" ".join(words[n:]) for n in range(1, len(words))]
    at = min(range(len(tails)), key=lambda n: abs(start + _width(tails[n]) * unit - line.box.right)) + 1
    head, tail = " ".join(words[:at]), " ".join(words[at:])
    box = line.box
    yield msgspec.structs.replace(line, text=head, box=Box(box.left, box.top, start - 0.1, box.bottom))
    rest = msgspec.structs.replace(line, text=tail, box=Box(start, box.top, box.right, box.bottom))
    yield from cells_parted(rest, starts, every)


def _unit(line: Line, every: Sequence[Line]) -> float:
    """How many cm a letter of usual width takes in lines of this size."""
    alike = [one for one in every if abs(one.size - line.size) < SAME_SIZE and len(one.text) > len("City")]
    return median([one.box.width / _width(flat(one.text)) for one in alike]) if alike else 0.0


def _width(text: str) -> float:
    """In letters of usual width; from memory of how text typefaces are cut."""
    return sum(0.55 if c in _NARROW else 1.6 if c in _WIDE else 1.3 if c.isupper() else 1.0 for c in text)
