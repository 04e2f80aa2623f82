"""A drawn character held against the description. Three answers, never two: found, look here, not described.

Only a sure reading may accuse, any reading may acquit, and a near match is never silently repaired: granted
patents do hold characters that differ by one digit between drawing and text.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import Literal

import msgspec

from preflight.papers.characters.described import Described
from preflight.papers.characters.drawn_characters import SEVERAL, Character
from preflight.papers.characters.likeness import log_chance

NEAR = 3.0
"""A string is as good as the reading if it is not less probable than by e to this power. House value, measured."""
LONE = 0.98
"""A single digit counts only if its letter is at least so probable: specks read as 1. House value, measured."""
SAME_HEIGHT = 0.25
"""Characters of one sheet differ by less than this share in height. House value."""
LEVEL = 0.3
"""Numbers whose middles or edges lie within this share of their height stand in one row or column. House value."""

EVEN = 0.15
"""The spaces of a scale differ by less than this share. House value."""

Answer = Literal["found", "look", "not described"]


class Matched(msgspec.Struct, frozen=True):
    """A drawn character with the answer; `instead` are characters of the description that it may be."""

    character: Character
    answer: Answer
    instead: tuple[str, ...] = ()


def match(sheet: Sequence[Character], text: Described) -> tuple[Matched, ...]:
    """The characters of one sheet. Single digits that are not quite sure are left out: they may be specks."""
    counted = [one for one in sheet if len(one.text) > 1 or one.reading is None or one.reading.lowest >= LONE]
    first = [_matched(one, text) for one in counted]
    strange = {id(one.character) for one in first if one.answer == "not described"}
    named = [one.character for one in first if one.answer == "found"]
    return tuple(
        msgspec.structs.replace(one, answer="look")
        if id(one.character) in strange and _is_data(one.character, counted, named)
        else one
        for one in first
    )


def _matched(one: Character, text: Described) -> Matched:
    if text.holds(one.text):
        return Matched(one, "found")
    near = tuple(dict.fromkeys(_near(one, text.texts, text.holds)))
    if near:
        return Matched(one, "look", near)
    counts = SEVERAL.match(one.text) is not None  # 10-2 may be a size or a day
    return Matched(one, "not described" if one.sure and not counts else "look")


def _near(one: Character, texts: frozenset[str], holds: Callable[[str], bool]) -> Iterator[str]:
    """Characters of the description that may stand there."""
    yield from (other for other in one.could_be if holds(other))
    yield from (other for other in sorted(texts) if _is_part(other, one.text))
    if one.reading is None:
        return
    if len(one.text) > 2:
        yield from (other for other in (one.text[1:], one.text[:-1]) if holds(other))
    if not one.sure and one.reading.columns:
        free = log_chance(one.reading, one.reading.text)
        yield from (other for other in sorted(texts) if log_chance(one.reading, other) >= free - NEAR)


def _is_part(text: str, of: str) -> bool:
    """Whether it is the other with a letter or primes: 12a of 12."""
    return re.fullmatch(re.escape(of) + r"(?:[A-Za-z]|'+)", text) is not None


def _is_data(one: Character, sheet: Sequence[Character], named: Sequence[Character]) -> bool:
    """Whether it belongs to an axis, a table or a picture of a screen: other height, or in line with others like it."""
    if one.height and (heights := sorted(other.height for other in named if other.height)):
        usual = heights[len(heights) // 2]
        if abs(one.height - usual) > SAME_HEIGHT * usual:
            return True
    return any(len(line) > 2 and _is_scale(line, way) for way, line in _lines_through(one, sheet))


def _lines_through(one: Character, sheet: Sequence[Character]) -> Iterator[tuple[int, list[Character]]]:
    """The characters in one column (way 1: down) or one row (way 0: across) with it."""
    slack = LEVEL * (one.height or one.box.height)
    a = one.box
    yield 1, [o for o in sheet if abs(o.box.right - a.right) < slack or abs(o.box.left - a.left) < slack]
    yield 1, [o for o in sheet if abs(o.box.middle[0] - a.middle[0]) < slack]
    yield 0, [o for o in sheet if abs(o.box.middle[1] - a.middle[1]) < slack]


def _is_scale(line: Sequence[Character], way: int) -> bool:
    """Whether numbers and places grow by equal steps, as the ticks of an axis and the lines of a listing do."""
    ticks = sorted((one.box.middle[way], int(re.sub(r"\D", "", one.text))) for one in line)
    steps = {b - a for (_, a), (_, b) in pairwise(ticks)}
    gaps = [b - a for (a, _), (b, _) in pairwise(ticks)]
    return len(steps) == 1 and max(gaps) - min(gaps) < EVEN * max(gaps)


def may_be(one: Character, name: str) -> bool:
    """Whether a drawn character may be this one, or is a part of it (12 drawn as 12a and 12b)."""
    only = frozenset({name})
    return _is_part(one.text, name) or name in _near(one, only, only.__contains__)
