"""Numbers without a name: characters that stand for a part by themselves, and what English does not explain."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from preflight.papers.characters import part_words as of
from preflight.papers.characters.deeds import is_verb_in_s
from preflight.papers.characters.groups import YEAR, Group, counted_out, counts_things, measured_with
from preflight.papers.characters.pairs import Bare
from preflight.papers.characters.tokens import Token

_STEP = re.compile(r"S\d{2,4}[A-Za-z]?")
FEW = 2


def is_noun(token: Token) -> bool:
    """Whether a noun follows a step that is none: "of S355 steel", but "S108 adds", "at S208 and"."""
    return token.kind == "word" and token.low not in of.STOPS and not is_verb_in_s(token.low)


def unexplained(every: Sequence[Token], group: Group) -> list[str]:
    """Numbers without a name, unless a word before them says what they are ("FIG. 12") or they count what follows."""
    at = group.first - 1
    while at > 0 and every[at].kind == "mark":
        at -= 1
    if at > 0 and every[at].low == "of" and every[at - 1].low in of.NUMBERS | of.MEASURES:
        at -= 1
    counts = of.NO_NAMES | of.MEASURES | of.NUMBERS
    told = at >= 0 and (every[at].low in counts or counted_out(every, group.first))
    if (
        told
        or counts_things(every, group.last)
        or measured_with(every, group.last)
        or (group.first and every[group.first - 1].kind == "number")
    ):
        return []
    numbers = [character for character, _ in group.characters]
    return [one for one in numbers if len(one) >= FEW and not YEAR.fullmatch(one)]


def _numbers_a_compound(every: Sequence[Token], group: Group) -> bool:
    """Whether it is the number of a compound: "compound 3", "Compounds 5-7", "4-nitrobenzaldehyde (2)". A scheme of
    reactions is drawn with it.
    """
    at = group.first - (2 if group.bracketed else 1)
    return at >= 0 and (every[at].low in of.COMPOUNDS or of.CHEMICAL.fullmatch(every[at].low) is not None)


def unnamed(every: Sequence[Token], group: Group) -> Iterator[Bare]:
    """Characters that stand for a part by themselves, as far as the words around them show it."""
    if _numbers_a_compound(every, group):
        yield from (Bare(character, start, labels=True) for character, start in group.characters)
        return
    before = every[group.first - 1] if group.first else None
    after = every[group.last + 1] if group.last + 1 < len(every) else None
    if before is None or after is None or before.kind == "number" or YEAR.fullmatch(group.characters[0][0]):
        return
    further = every[group.first - 2].low if group.first > 1 else ""
    if (before.low == "by" and further in of.CHANGED) or (
        before.low in ("of", "from") and further in of.NUMBERS | of.MEASURES
    ):
        return  # "numerals increased by 100", "an integer of 2 to 6"
    ends = after.text in (".", ",", ";", ")", ":") or after.low in of.AUXILIARIES or after.low in of.MODALS
    leads = before.low in ("at", "by", "of", "to", "from", "with", "and", "or", "between", "against", "on", "as", "(")
    labels = before.low == "at" and after.text in (",", ":", ".", ")")
    if _STEP.fullmatch(group.characters[0][0]) and not is_noun(after):
        yield from (Bare(character, start, labels=True) for character, start in group.characters)
    elif ends and leads:
        yield from (Bare(character, start, labels) for character, start in group.characters)
