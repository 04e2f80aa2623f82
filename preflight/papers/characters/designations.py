"""Where it is said outright what a character means: "a lock, generally designated 10", "12 denotes the seal and 14 the
lid".
"""

from __future__ import annotations

from collections.abc import Sequence

from preflight.papers.characters import part_words as of
from preflight.papers.characters.groups import Group, verb_behind
from preflight.papers.characters.tokens import Token

_BETWEEN = (",", ";", "and", "as", "a", "whole")
_LEADS_ON = of.PREPOSITIONS | {"according", "accordance"}


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
    elif before is None or any(token.low not in _BETWEEN for token in every[before : group.first]):
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


def before_designation(every: Sequence[Token], at: int) -> int | None:
    """Where the name ends in "a lock, generally designated 10"; None where nothing designates."""
    said = set()
    end = at
    while end >= 0:
        if (figure := _figure_before(every, end)) is not None:
            end = figure
        elif every[end].low in of.BETWEEN_NAME_AND_CHARACTER or every[end].text == ",":
            said.add(every[end].low)
            end -= 1
        else:
            break
    outright = said & of.DESIGNATED or (said & of.SHOWN_AT and "at" in said) or {"referred", "as"} <= said
    return _before_own_work(every, end) if outright else None


def _figure_before(every: Sequence[Token], end: int) -> int | None:
    """The token before "in FIG. 1" or "in the drawing"; None where nothing of it ends here."""
    if end > 2 and every[end].kind == "character" and every[end - 1].text == "." and every[end - 2].low == "fig":
        return end - 3
    return end - 1 if every[end].low in ("drawing", "drawings") else None


def _before_own_work(every: Sequence[Token], end: int) -> int:
    """Past "according to a preferred embodiment of the invention"."""
    while end > 0 and every[end].low in of.OWN_WORK:
        while end > 0 and every[end].low not in of.PREPOSITIONS:
            end -= 1
        while end > 0 and every[end].low in _LEADS_ON:
            end -= 1
    return end
