"""What the rest of a text tells about a pair: how it numbers its parts, and how it names them elsewhere."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

import msgspec

if TYPE_CHECKING:
    from preflight.papers.characters.pairing import Pair

FEW = 2
"""So many parts with an article ..."""
ENOUGH = 5
"""... among twice so many pairs show how a text numbers, and so many of them alone do. House values."""
THREE_DIGITS = 100
"""From here on one neighbour shows that a number belongs to the numbering. House value."""
_NUMBER = re.compile(r"\d+")


def as_the_text_goes(pairs: Sequence[Pair]) -> tuple[tuple[Pair, ...], tuple[Pair, ...]]:
    """Pairs with the names of the rest of the text, and those that the rest of the text speaks against."""
    uncounted = [pair for pair in pairs if not pair.counted]
    introduced = {pair.character for pair in uncounted if pair.article}
    names = {(pair.name, pair.character) for pair in uncounted if pair.article}
    text = _Numbering.of(pairs)
    pairs = [pair for pair in pairs if not pair.counted or _belongs(pair, text)]
    fallen = _fallen_out(pairs, introduced)
    sure: list[Pair] = []
    doubted: list[Pair] = []
    for pair in pairs:
        foreign = pair.capitals and _NUMBER.fullmatch(pair.character) and not pair.bracketed
        foreign = foreign and not any(text.beside(int(pair.character)))
        doubt = pair.character in fallen or (foreign and pair.character not in introduced)
        (doubted if doubt else sure).append(pair if pair.article else _without_deed(pair, names))
    return tuple(sure), tuple(doubted)


class _Numbering(msgspec.Struct, frozen=True):
    """How a text numbers: plain numbers, the step between them, and each character with the last words of its names."""

    numbers: frozenset[int]
    taken: frozenset[int]
    """Numbers of what is surely no count."""
    step: int
    heads: frozenset[tuple[str, str]]

    @classmethod
    def of(cls, pairs: Sequence[Pair]) -> _Numbering:
        """Step 2 where all numbers with an article are even, or all odd."""
        plain = [(int(pair.character), pair) for pair in pairs if _NUMBER.fullmatch(pair.character)]
        taken = frozenset(number for number, pair in plain if not pair.counted)
        listed = frozenset(number for number, pair in plain if pair.listed)
        parities = {number % 2 for number, pair in plain if pair.article and not pair.counted}
        heads = frozenset((pair.head.removesuffix("s"), _base(pair)) for pair in pairs if not pair.counted)
        return cls(taken | listed, taken, 2 if len(parities) == 1 else 1, heads)

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
    if pair.listed and pair.character[0].isalpha() and not pair.opens:
        return True  # "the rules R1-R4"
    if not _NUMBER.fullmatch(pair.character) or len(text.taken) < ENOUGH:
        return False
    number = int(pair.character)
    beside = text.beside(number)
    return number not in text.taken and (all(beside) or (any(beside) and number >= THREE_DIGITS))


def _fallen_out(pairs: Sequence[Pair], introduced: Collection[str]) -> frozenset[str]:
    """Plain numbers without an article and with fewer digits than all that have one, or odd where these are even:
    "zone 3", "cycle 21" beside "the latch 18".
    """
    numbers = [int(found.group()) for one in introduced if (found := _NUMBER.match(one))]
    if len(numbers) < FEW:
        return frozenset()
    least = 10 ** (len(str(min(numbers))) - 1)
    many = sum(_NUMBER.fullmatch(pair.character) is not None and int(pair.character) >= least for pair in pairs)
    by_digits = len(numbers) >= ENOUGH or many >= 2 * ENOUGH
    parity = {number % 2 for number in numbers} if len(numbers) >= 2 * ENOUGH else {0, 1}
    bare = {pair.character for pair in pairs if _NUMBER.fullmatch(pair.character) and not pair.bracketed}
    listed = {pair.character for pair in pairs if pair.listed}
    return frozenset(
        one
        for one in bare - set(introduced)
        if (by_digits and int(one) < least) or (int(one) % 2 not in parity and one not in listed)
    )


def _without_deed(pair: Pair, names: Collection[tuple[str, str]]) -> Pair:
    """ "Pressing thumb piece 40", "to advance token 18" where the text has "the thumb piece 40", "a token 18"."""
    deed, _, name = pair.name.partition(" ")
    may_be = pair.opens == "to" or (pair.opens == "." and deed.endswith("ing"))
    known = may_be and (name, pair.character) in names
    return msgspec.structs.replace(pair, name=name) if known else pair
