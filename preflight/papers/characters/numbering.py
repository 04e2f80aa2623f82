"""What the rest of a text tells about a pair: how it numbers its parts, and how it names them elsewhere."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

import msgspec

from preflight.papers.characters.naming import STEPS, same_part
from preflight.papers.characters.pairs import Pair

FEW = 2
"""So many parts with an article ..."""
ENOUGH = 5
"""... among twice so many pairs show how a text numbers, and so many of them alone do. House values."""
THREE_DIGITS = 100
"""From here on one neighbour shows that a number belongs to the numbering. House value."""
_NUMBER = re.compile(r"\d+")
_PLAIN = re.compile(r"\d+[a-z]?")
_LISTED = re.compile(r"[A-Za-z]|\d{2,}[a-z]")
_OF_A_KIND = re.compile(r"(\d+)(?:[A-Z]|\(\d+\))?")


def as_the_text_goes(pairs: Sequence[Pair]) -> tuple[tuple[Pair, ...], tuple[Pair, ...], tuple[Pair, ...]]:
    """Pairs with the names of the rest of the text, those that the rest of the text speaks against, and those that such
    things as are numbered in every text have in it ("table 3").
    """
    uncounted = [pair for pair in pairs if not pair.counted]
    introduced = {pair.character for pair in uncounted if pair.article}
    names = {(pair.name, pair.character) for pair in uncounted if pair.article}
    text = _Numbering.of(pairs)
    counted = [pair for pair in pairs if pair.counted and not _belongs(pair, text)]
    pairs = [pair for pair in pairs if pair not in counted]
    fallen = _fallen_out(pairs, introduced)
    sure: list[Pair] = []
    doubted: list[Pair] = []
    for pair in pairs:
        elsewhere = pair.character in introduced and _is_another(pair, names)
        foreign = _is_foreign(pair, text) and pair.character not in introduced
        doubt = pair.character in fallen or foreign or elsewhere
        (doubted if doubt else sure).append(pair if pair.article else _without_deed(pair, names))
    return tuple(sure), tuple(doubted), tuple(counted)


def _is_foreign(pair: Pair, text: _Numbering) -> bool:
    """Whether it is numbered by somebody else: "HTML 5", "Firefox 115", "OECD 301B"."""
    number = _OF_A_KIND.fullmatch(pair.character)
    proper = pair.capitals == "all" or (pair.capitals == "first" and not text.capitalises)
    if not proper or pair.bracketed or number is None:
        return False
    return len(number.group(1)) == 1 or not any(text.beside(int(number.group(1))))


def _is_another(pair: Pair, names: Collection[tuple[str, str]]) -> bool:
    """Whether what stands here only without an article is no part, for its number is that of a part of another name:
    "state 1" beside "the warmer 1", "flex 110" beside "the hook 110".
    """
    if pair.article or pair.bracketed or (pair.listed and len(pair.character) > 1):
        return False
    akin = any(same_part(pair.name, name) for name, character in names if character == pair.character)
    return not akin and all(head.rpartition(" ")[2] != pair.head for head, _ in names)


class _Numbering(msgspec.Struct, frozen=True):
    """How a text numbers: plain numbers, the step between them, and each character with the last words of its names."""

    numbers: frozenset[int]
    taken: frozenset[int]
    """Numbers of what is surely no count."""
    step: int
    heads: frozenset[tuple[str, str]]
    capitalises: bool
    """Whether most names begin with a capital: "Outer Housing 20"."""

    @classmethod
    def of(cls, pairs: Sequence[Pair]) -> _Numbering:
        """Step 2 where all numbers with an article are even, or all odd."""
        plain = [(int(pair.character), pair) for pair in pairs if _NUMBER.fullmatch(pair.character)]
        taken = frozenset(number for number, pair in plain if not pair.counted)
        listed = frozenset(number for number, pair in plain if pair.listed)
        parities = {number % 2 for number, pair in plain if pair.article and not pair.counted}
        heads = frozenset((pair.head.removesuffix("s"), _base(pair)) for pair in pairs if not pair.counted)
        capitalises = 2 * sum(pair.capitals == "first" for pair in pairs) > len(pairs)
        return cls(taken | listed, taken, 2 if len(parities) == 1 else 1, heads, capitalises)

    def beside(self, number: int) -> list[bool]:
        """Whether it has the number before and the one after."""
        return [number + way * self.step in self.numbers for way in (-1, 1)]


def _base(pair: Pair) -> str:
    """Without letters and primes: the columns 12, 12' belong together."""
    found = _NUMBER.match(pair.character)
    return found.group() if found else pair.character


def _belongs(pair: Pair, text: _Numbering) -> bool:
    """Whether what may be counted is a part: "lines 14" beside "the test line 14", "port 38" between 36 and 40."""
    if (pair.head.removesuffix("s"), _base(pair)) in text.heads:
        return True
    if pair.listed and not pair.opens and _LISTED.match(pair.character):
        return True  # "the rules R1-R4", "ports 22a and 22b"
    if not _NUMBER.fullmatch(pair.character) or len(text.taken) < ENOUGH:
        return False
    number = int(pair.character)
    beside = text.beside(number)
    return number not in text.taken and (all(beside) or (any(beside) and number >= THREE_DIGITS))


def _fallen_out(pairs: Sequence[Pair], introduced: Collection[str]) -> frozenset[str]:
    """Plain numbers without an article and with fewer digits than all that have one, or far more, or odd where these
    are even: "zone 3", "ticket 1423", "cycle 21" beside "the latch 18".
    """
    numbers = [int(found.group()) for one in introduced if (found := _NUMBER.match(one))]
    if len(numbers) < FEW:
        return frozenset()
    least = 10 ** (len(str(min(numbers))) - 1)
    beyond = 10 ** (len(str(max(numbers))) + 1)
    many = sum(_NUMBER.fullmatch(pair.character) is not None and int(pair.character) >= least for pair in pairs)
    by_digits = len(numbers) >= ENOUGH or many >= 2 * ENOUGH
    parity = {number % 2 for number in numbers} if len(numbers) >= 2 * ENOUGH else {0, 1}
    bare = {pair.character for pair in pairs if _PLAIN.fullmatch(pair.character) and not pair.bracketed}
    bare -= {pair.character for pair in pairs if pair.head.removesuffix("s") in STEPS}  # parts 1 to 9, steps 100 to 140
    listed = {pair.character for pair in pairs if pair.listed or pair.head in STEPS}
    return frozenset(
        one
        for one in bare - set(introduced)
        if (by_digits and _value(one) < least)
        or _value(one) >= beyond
        or (one.isdigit() and int(one) % 2 not in parity and one not in listed)
    )


def _value(character: str) -> int:
    return int(character.rstrip("abcdefghijklmnopqrstuvwxyz"))


def _without_deed(pair: Pair, names: Collection[tuple[str, str]]) -> Pair:
    """ "Pressing thumb piece 40", "to advance token 18" where the text has "the thumb piece 40", "a token 18"."""
    deed, _, name = pair.name.partition(" ")
    may_be = pair.opens == "to" or (pair.opens == "." and deed.endswith("ing"))
    known = may_be and (name, pair.character) in names
    return msgspec.structs.replace(pair, name=name) if known else pair
