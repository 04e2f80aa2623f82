"""A drawn character held against the description. Three answers, never two: found, look here, not described.

Only a sure reading may accuse, any reading may acquit, and a near match is never silently repaired: granted
patents do hold characters that differ by one digit between drawing and text.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Container, Iterator, Sequence
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

SCALE = 3
"""So many ticks make a scale. House value."""
EVEN = 0.15
"""The spaces of a scale differ by less than this share. House value."""

ENOUGH, NEARLY_ALL = 3, 0.8
"""So many named characters, and so great a share of them, must have a lead line before one without is suspect. House
values."""

MOSTLY = 0.9
"""... and so great a share of the characters of the description must have more digits. House value."""
_VALUE = re.compile(r"\d{1,4}[kKMmunpR]")
"""The value of a part of a circuit: 10k. A letter that tells parts apart stands with the same number elsewhere."""

Answer = Literal["found", "look", "not described"]


class Matched(msgspec.Struct, frozen=True):
    """A drawn character with the answer; `instead` are characters of the description that it may be."""

    character: Character
    answer: Answer
    instead: tuple[str, ...] = ()


def match(sheet: Sequence[Character], text: Described, numbers: Sequence[Character] = ()) -> tuple[Matched, ...]:
    """The characters of one sheet. Single digits that are not quite sure are left out: they may be specks. So are the
    numbers of an axis that begins with nought: no part has the number 0.

    `numbers`: what else on the sheet is a number; where one stands in line with them it is one of them.
    """
    counted = [one for one in sheet if len(one.text) > 1 or one.reading is None or one.reading.lowest >= LONE]
    counted = [one for one in counted if not (_is_a_dash(one, text) or _cuts(one, text))]
    on_axes = _on_axes([*counted, *numbers])
    counted = [one for one in counted if id(one) not in on_axes]
    first = [_matched(one, text) for one in counted]
    named = [one.character for one in first if one.answer == "found"]
    if _are_alone(named):  # then a number within words is one of them: "CONV 128" of 128 kernels
        first = [
            Matched(one.character, "found") if _is_amount(one.character, text) and not one.instead else one
            for one in first
        ]
    first = [
        Matched(one.character, "look") if one.instead and one.character.on_line and one.character.sure else one
        for one in first
    ]  # a dimension is asked with the others, whatever it looks like
    strange = {id(one.character) for one in first if one.answer == "not described"}
    return tuple(
        msgspec.structs.replace(one, answer="look")
        if id(one.character) in strange
        and (_is_data(one.character, [*counted, *numbers], named) or _is_unlike(one.character, text))
        else one
        for one in first
    )


def _matched(one: Character, text: Described) -> Matched:
    if text.holds(one.text):
        return Matched(one, "found")
    if one.led and one.text in text.unclear:  # a lead line shows that it means a part
        return Matched(one, "found")
    near = tuple(dict.fromkeys(_near(one, text.texts, text.holds)))
    if near:
        return Matched(one, "look", near)
    counts = SEVERAL.match(one.text) is not None  # 10-2 may be a size or a day
    counts = counts or (one.text in text.amounts and one.led is not True)
    asks = counts or not one.sure or one.text in text.unclear
    return Matched(one, "look" if asks else "not described")


def _is_a_dash(one: Character, text: Described) -> bool:
    """Whether a 1 in a picture may be a dash of a line: the text has no 1, and numbers its parts otherwise."""
    return one.text == "1" and one.reading is not None and not text.holds("1") and _is_unlike(one, text)


def _cuts(one: Character, text: Described) -> bool:
    """Whether it stands at the end of a line along which a section is cut."""
    return one.text in text.cuts and not text.holds(one.text)


def _is_amount(one: Character, text: Described) -> bool:
    return not one.alone and one.text in text.amounts


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
    """Whether it is the other with a letter, primes or a number of its own: 12a, 12', 12-1 of 12."""
    return re.fullmatch(re.escape(of) + r"(?:[A-Za-z]|'+|-(?:\d{1,2}|[A-Za-z]))", text) is not None


def _is_data(one: Character, sheet: Sequence[Character], named: Sequence[Character]) -> bool:
    """Whether it belongs to an axis, a table, a listing, a dimension or a picture of a screen.

    It stands in a line of words or on a dimension line, is of another height, lacks the lead line that the others have,
    or is in line with other numbers of which the description names none.
    """
    apart = (one.led is False and _are_led(named)) or (not one.alone and _are_alone(named))
    if one.listed or one.on_line or apart or _other_height(one, named):
        return True
    lines = [(way, line) for way, line in _lines_through(one, sheet) if len(line) > 2]
    known = {id(other) for other in named}
    alone = one.led is not True  # a row of characters with lead lines may be a row that the text forgot
    return any(
        (alone and not any(id(other) in known for other in line)) or _is_tick(one, way, line, known)
        for way, line in lines
    )


def _is_unlike(one: Character, text: Described) -> bool:
    """Whether the description numbers its parts otherwise: it looks like a value ("10k"), or has fewer digits than
    nearly all."""
    number = re.match(r"\d+", one.text)
    if number is None:
        return False
    if _VALUE.fullmatch(one.text) and not any(re.fullmatch(number.group() + "[A-Za-z]", name) for name in text.texts):
        return True
    bases = [found.group() for name in text.texts if (found := re.match(r"\d+", name))]
    shorter = sum(len(base) > len(number.group()) for base in bases)
    return len(bases) >= ENOUGH and shorter >= MOSTLY * len(bases)


def _on_axes(every: Sequence[Character]) -> frozenset[int]:
    """The identities of the numbers that stand on an axis with a nought."""
    found: set[int] = set()
    for nought in (one for one in every if one.text.strip("0") in ("", ".")):
        for way, line in _lines_through(nought, every):
            ticks = sorted(line, key=lambda other: other.box.middle[way])
            at = next(n for n, other in enumerate(ticks) if other is nought)
            for side in (ticks[at:], ticks[at::-1]):
                counts = range(len(side), SCALE, -1)
                longest = next((count for count in counts if _is_scale(side[:count], way)), 0)
                found |= {id(one) for one in side[:longest]}
    return frozenset(found)


def _is_tick(one: Character, way: int, line: Sequence[Character], known: Container[int]) -> bool:
    """Whether it is one of several neighbours that make a scale; where the text names some of them, of more."""
    ticks = sorted(line, key=lambda other: other.box.middle[way])
    for first in range(len(ticks)):
        for last in range(first + SCALE, len(ticks) + 1):
            some = ticks[first:last]
            enough = len(some) > SCALE or not any(id(other) in known for other in some)
            if enough and any(other is one for other in some) and _is_scale(some, way):
                return True
    return False


def _other_height(one: Character, named: Sequence[Character]) -> bool:
    heights = sorted(other.height for other in named if other.height)
    usual = heights[len(heights) // 2] if heights else None
    return bool(one.height and usual and abs(one.height - usual) > SAME_HEIGHT * usual)


def _are_led(named: Sequence[Character]) -> bool:
    """Whether the characters that the description names have lead lines, or are underlined, nearly all of them."""
    told = [one.led for one in named if one.led is not None]
    return len(told) >= ENOUGH and sum(told) >= NEARLY_ALL * len(told)


def _are_alone(named: Sequence[Character]) -> bool:
    """Whether nearly all that the description names stand without words beside them."""
    return len(named) >= ENOUGH and sum(one.alone for one in named) >= NEARLY_ALL * len(named)


def _lines_through(one: Character, sheet: Sequence[Character]) -> Iterator[tuple[int, list[Character]]]:
    """The characters in one column (way 1: down) or one row (way 0: across) with it."""
    slack = LEVEL * (one.height or one.box.height)
    a = one.box
    yield 1, [o for o in sheet if abs(o.box.right - a.right) < slack or abs(o.box.left - a.left) < slack]
    yield 1, [o for o in sheet if abs(o.box.middle[0] - a.middle[0]) < slack]
    yield 0, [o for o in sheet if abs(o.box.middle[1] - a.middle[1]) < slack]


def _is_scale(line: Sequence[Character], way: int) -> bool:
    """Whether numbers and places grow by equal steps, or numbers by equal factors, as the ticks of an axis and the
    lines of a listing do."""
    ticks = sorted((one.box.middle[way], _value(one.text)) for one in line)
    steps = {round(b - a, 6) for (_, a), (_, b) in pairwise(ticks)}
    factors = {round(b / a, 6) if a else 0.0 for (_, a), (_, b) in pairwise(ticks)}
    gaps = [b - a for (a, _), (b, _) in pairwise(ticks)]
    grows = (len(steps) == 1 and 0 not in steps) or (len(factors) == 1 and not factors & {0.0, 1.0})
    return grows and max(gaps) - min(gaps) < EVEN * max(gaps)


def _value(text: str) -> float:
    found = re.search(r"\d+(?:\.\d+)?", text)
    return float(found.group()) if found else 0.0


def may_be(one: Character, name: str) -> bool:
    """Whether a drawn character is or may be this one, or is a part of it (12 drawn as 12a and 12b)."""
    only = frozenset({name})
    return one.text == name or _is_part(one.text, name) or name in _near(one, only, only.__contains__)
