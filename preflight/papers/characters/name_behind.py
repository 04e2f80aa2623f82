"""Names that stand behind their character: "numeral 12 designates a ski pole", "64 denotes the seal and 66 the lid"."""

from __future__ import annotations

from collections.abc import Sequence

from preflight.papers.characters import part_words as of
from preflight.papers.characters.groups import Group, verb_behind
from preflight.papers.characters.tokens import Token


def name_behind(every: Sequence[Token], group: Group, before: int | None) -> tuple[list[Token], int] | None:
    """Article and name behind a character, and the token after them. `before` is that of the last such name, whose verb
    may hold for this one too.
    """
    number = group.characters[0][0]
    outright = group.first > 0 and every[group.first - 1].low in of.DESIGNATED
    if not number[0].isdigit() or (len(number) == 1 and not outright):
        return None  # R1 may be an alkyl group, and 1 the worst mark
    at = group.last + 1
    if (verb := verb_behind(every, group.last)) is not None:
        at = verb + 1
    elif before is None or any(token.text not in (",", ";", "and") for token in every[before : group.first]):
        return None
    if at >= len(every) or every[at].low not in of.ARTICLES:
        return None
    end = at + 1
    while end < len(every) and _goes_on(every[end], first=end == at + 1):
        end += 1
    named_itself = end < len(every) and every[end].kind in ("character", "range")
    return None if named_itself or end == at + 1 else (list(every[at:end]), end)


def _goes_on(token: Token, *, first: bool) -> bool:
    """Whether a word belongs to the name: "a ski pole" ends before "whose", "mounted", "having"."""
    begins_anew = token.low in of.PARTICIPLES or (token.low.endswith("ed") and token.low not in of.NOUNS_IN_ED)
    return token.kind == "word" and token.low not in of.STOPS and (first or not begins_anew)
