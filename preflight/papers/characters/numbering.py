"""Numbers that fall out of the numbering of a text: "zone 3" where all parts have two digits or more."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from preflight.papers.characters.pairing import Pair

ENOUGH = 5
"""So many parts with an article show how a text numbers. House value."""
_NUMBER = re.compile(r"\d+")


def fallen_out(pairs: Iterable[Pair]) -> frozenset[str]:
    """Plain numbers with fewer digits than every part that the text gives an article, and never with one themselves."""
    pairs = tuple(pairs)
    introduced = {pair.character for pair in pairs if pair.article and pair.character[0].isdigit()}
    if len(introduced) < ENOUGH:
        return frozenset()
    fewest = min(len(found.group()) for one in introduced if (found := _NUMBER.match(one)))
    bare = {pair.character for pair in pairs if _NUMBER.fullmatch(pair.character) and not pair.bracketed}
    return frozenset(one for one in bare - introduced if len(one) < fewest)
