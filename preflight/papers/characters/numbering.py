"""What the rest of a text tells about a pair: how it numbers its parts, and how it names them elsewhere."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

import msgspec

if TYPE_CHECKING:
    from preflight.papers.characters.pairing import Pair

ENOUGH = 5
"""So many parts with an article show how a text numbers. House value."""
_NUMBER = re.compile(r"\d+")


def as_the_text_goes(pairs: Sequence[Pair]) -> tuple[tuple[Pair, ...], tuple[Pair, ...]]:
    """Pairs with the names of the rest of the text, and those that the rest of the text speaks against."""
    introduced = {pair.character for pair in pairs if pair.article}
    names = {(pair.name, pair.character) for pair in pairs if pair.article}
    fallen = _fallen_out(pairs, introduced)
    sure, doubted = [], []
    for pair in pairs:
        foreign = pair.capitals and _NUMBER.fullmatch(pair.character) and not pair.bracketed
        doubt = pair.character in fallen or (foreign and pair.character not in introduced)
        (doubted if doubt else sure).append(pair if pair.article else _without_deed(pair, names))
    return tuple(sure), tuple(doubted)


def _fallen_out(pairs: Sequence[Pair], introduced: Collection[str]) -> frozenset[str]:
    """Plain numbers with fewer digits than every part that has an article: "zone 3" beside "the latch 18"."""
    digits = [len(found.group()) for one in introduced if (found := _NUMBER.match(one))]
    if len(digits) < ENOUGH:
        return frozenset()
    bare = {pair.character for pair in pairs if _NUMBER.fullmatch(pair.character) and not pair.bracketed}
    return frozenset(one for one in bare - set(introduced) if len(one) < min(digits))


def _without_deed(pair: Pair, names: Collection[tuple[str, str]]) -> Pair:
    """ "Pressing thumb piece 40" where the text has "the thumb piece 40"."""
    deed, _, name = pair.name.partition(" ")
    known = pair.opens and deed.endswith("ing") and (name, pair.character) in names
    return msgspec.structs.replace(pair, name=name) if known else pair
