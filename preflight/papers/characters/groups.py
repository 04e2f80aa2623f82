"""Which numbers stand together as characters of one part, and which are quantities or number a list."""

from __future__ import annotations

import re
from collections.abc import Sequence

import msgspec

from preflight.papers.characters import part_words as of
from preflight.papers.characters.tokens import Token, members
from preflight.papers.words.units import UNITS

FEW = 2
NEAR = 60
"""The numbers of a list within a sentence stand at most so many words apart. House value."""
YEAR = re.compile(r"(?:19|20)\d\d[a-z]?")
_UNIT = re.compile(r"[-/]")
_NOT_COUNTED = of.UNCOUNTED | of.STOPS
_GOES_ON = of.STOPS | of.SHOWN_AT
_NO_NOUNS = of.STOPS | of.PARTICIPLES | of.VERBS
_IN_A_ROW = (",", "to", "and", "or", "-", "\u00b1")
_NO_PLURAL = ("ss", "us", "is", "os", "ics", "'s")


class Group(msgspec.Struct):
    """The characters that stand together, from token `first` up to `last`."""

    first: int
    last: int
    characters: list[tuple[str, int]]
    spans: list[tuple[int, int]]
    bracketed: bool = False


def group_at(every: Sequence[Token], first: int) -> Group:
    """A character with those that go on its list: "20, 22 and 24", "18a to 18d", "90 and/or 92"."""
    group = Group(first, first, [(c, every[first].start) for c in every[first].characters], [])
    group.spans += [span] if (span := every[first].span) else []
    group.bracketed = first > 0 and every[first - 1].text in "([" and every[first - 1].kind == "mark"
    while (step := _joined(every, group.last)) and not every[group.last].possessive:
        to, nxt = step
        token = every[nxt]
        if to and len(token.characters) == 1 and every[group.last].kind == "character":
            characters, span = members(group.characters[-1][0], token.characters[0])
            group.characters += [(c, token.start) for c in characters[1:]]
            group.spans += [span] if span else []
        else:
            group.characters += [(c, token.start) for c in token.characters]
            group.spans += [token.span] if token.span else []
        group.last = nxt
    return group


def _joined(every: Sequence[Token], last: int) -> tuple[bool, int] | None:
    """The next character of the list, and whether "to" leads to it."""
    at, comma, to = last + 1, False, False
    while at < len(every) and (every[at].text == "," or (comma and every[at].text in (".", "\u2026"))):
        at, comma = at + 1, True  # 12-1, 12-2, ..., 12-N
    if at + 1 < len(every) and every[at].low == "resp" and every[at + 1].text == ".":
        at += 2  # "the bearings 9 resp. 10"
    elif at < len(every) and every[at].low in ("and", "or", "to", "through", "thru", "&", "and/or", "-"):
        to = every[at].low in ("to", "through", "thru", "-")
        at += 1
    elif not comma:
        return None
    if at >= len(every) or every[at].kind not in ("character", "range"):
        return None
    alone = Group(at, at, [], [])
    counts = counts_things(every, at) or _measured(every, alone) or _out_of(every, at)
    return None if counts or _designates_surely(every, at) else (to, at)


def designates(every: Sequence[Token], last: int) -> bool:
    """Whether what the character means is said behind it: "12 denotes a ski pole", "12 generally denotes it"."""
    return verb_behind(every, last) is not None


def _designates_surely(every: Sequence[Token], last: int) -> bool:
    """The same, where the verb has no other meaning: "markers 22a, 22b identify the ends"."""
    verb = verb_behind(every, last)
    return verb is not None and every[verb].low in of.SURELY_DESIGNATES


def verb_behind(every: Sequence[Token], last: int) -> int | None:
    """The token of the verb that designates."""
    at = last + 1
    if at < len(every) and every[at].low.endswith("ly"):
        at += 1
    return at if at < len(every) and every[at].low in of.DESIGNATES else None


def _out_of(every: Sequence[Token], at: int) -> bool:
    """Whether it counts out of a number: "8 of 10"."""
    of_it = at + 2 < len(every) and every[at].text.isdigit() and every[at + 1].low == "of"
    return of_it and every[at + 2].kind != "mark" and every[at + 2].text[0].isdigit()


def counts_things(every: Sequence[Token], at: int) -> bool:
    """Whether a plural noun follows: "the lever 14 and 16 pins"."""
    after = _word_after(every, at) if every[at].text.isdigit() else None
    return after is not None and is_plural(after) and after not in _NOT_COUNTED and not _has_object(every, at + 1)


def _has_object(every: Sequence[Token], verb: int) -> bool:
    """Whether a part follows a word that may be a verb: "the perforations 132 spans panels 106"."""
    low = every[verb].low
    if not {low.removesuffix("s"), low.removesuffix("es")} & of.VERBS:
        return False
    for token in every[verb + 1 : verb + 5]:
        if token.kind != "word" or (token.low in of.STOPS and token.low not in of.ARTICLES):
            return token.kind in ("character", "range") and token is not every[verb + 1]
    return False


def _word_after(every: Sequence[Token], at: int) -> str | None:
    nxt = every[at + 1] if at + 1 < len(every) else None
    return nxt.low if nxt and nxt.kind == "word" and nxt.text[0].islower() else None


def counted_out(every: Sequence[Token], at: int) -> bool:
    """Whether the words before a number say that it counts: "up to 500 items", "more than 12"."""
    before = every[at - 1].low if at else ""
    return before in of.UP_TO or (before == "to" and at > 1 and every[at - 2].low == "up")


def is_plural(word: str) -> bool:
    """Whether a noun is one of several, by its ending."""
    return word in of.OTHER_PLURALS or (
        word.endswith("s") and not word.endswith(_NO_PLURAL) and word not in of.NO_PLURALS
    )


def numbers_a_kind(every: Sequence[Token], at: int) -> bool:
    """Whether a number is part of a name that goes on to a character: "a Pt 100 sensor 218", "the Tier 3 center 16"."""
    if at < 2 or at + 2 >= len(every) or not every[at].text.isdigit():
        return False
    kind, noun = every[at - 1], every[at + 1]
    begins = kind.kind == "word" and kind.text[0].isupper() and every[at - 2].low in of.ARTICLES
    goes_on = noun.kind == "word" and noun.text.islower() and noun.low not in _NO_NOUNS
    noun_in_s = not noun.low.endswith("s") or noun.low in of.NOUNS_IN_S
    return begins and goes_on and noun_in_s and not noun.low.endswith("ed") and every[at + 2].kind == "character"


def is_quantity(every: Sequence[Token], group: Group) -> bool:
    """Whether they are so many of something, number a kind or number a list."""
    if group.first == group.last and (numbers_a_kind(every, group.first) or _numbers_a_class(every, group.first)):
        return True
    readings = (_measured, _enumerates, _counts_in_brackets, _is_a_volume)
    return any(reading(every, group) for reading in readings)


def _numbers_a_class(every: Sequence[Token], at: int) -> bool:
    """Whether a noun follows the number of a class: "a class 150 flange", "a type 2 seal"."""
    if at < FEW or every[at - 1].low not in of.CLASSES:
        return False
    opens = [every[n].low for n in (at - 2, at - 3) if n >= 0]  # "the class 150", "the usual class 150"
    if not any(low in of.ARTICLES for low in opens):
        return False
    after = _word_after(every, at)
    return after is not None and after not in _NO_NOUNS and not after.endswith(("s", "ed"))


def _is_a_volume(every: Sequence[Token], group: Group) -> bool:
    """Whether a year in brackets follows, as behind the volume of a journal: "Bull. Soc. Tracers 41 (1998)"."""
    behind = every[group.last + 1 : group.last + 4]
    return (
        len(behind) == len("(y)") and behind[0].text + behind[2].text == "()" and bool(YEAR.fullmatch(behind[1].text))
    )


def _counts_in_brackets(every: Sequence[Token], group: Group) -> bool:
    """Whether one word ends the brackets: "polyester (75 denier)"."""
    if not group.bracketed or group.last + 2 >= len(every):
        return False
    word, end = every[group.last + 1 : group.last + 3]
    return word.kind == "word" and end.text in ")]" and word.low not in _GOES_ON


def _measured(every: Sequence[Token], group: Group) -> bool:
    """Whether a unit follows, or "or more"."""
    nxt = every[group.last + 1] if group.last + 1 < len(every) else None
    if nxt is None or nxt.kind not in ("word", "mark"):
        return False
    then = every[group.last + 2] if group.last + 2 < len(every) else None
    if nxt.low == "in" and then and then.text == "." and then.start == nxt.end:
        return True
    if nxt.low == "or" and then and then.low in of.OR_SO:
        return True
    if nxt.low == "of" and then and then.low == "them":
        return True
    if nxt.text in ("C", "F", "K") and then and then.text in ".,;)":
        return True
    return nxt.low in UNITS or (("-" in nxt.low or "/" in nxt.low) and _UNIT.split(nxt.low, maxsplit=1)[0] in UNITS)


def measured_with(every: Sequence[Token], last: int) -> bool:
    """Whether the number stands in a row that ends with a unit: "85 to 90 degrees", "9, 10 and 14 mm"."""
    at = last
    while at + 2 < len(every) and every[at + 1].low in _IN_A_ROW and every[at + 2].text[:1].isdigit():
        at += 2
    return at > last and _measured(every, Group(at, at, [], []))


def _enumerates(every: Sequence[Token], group: Group) -> bool:
    """Whether it numbers a list within a sentence: "mixing (1) the resin and (2) the filler"."""
    number = group.characters[0][0]
    if not (group.bracketed and group.first == group.last and re.fullmatch(r"\d{1,2}", number)):
        return False
    if not _opens_an_item(every, group.first):
        return False
    others = {str(int(number) - 1), str(int(number) + 1)}
    near = range(max(1, group.first - NEAR), min(len(every), group.first + NEAR))
    return any(every[at].text in others and every[at - 1].text == "(" and _opens_an_item(every, at) for at in near)


def _opens_an_item(every: Sequence[Token], at: int) -> bool:
    """Whether something begins behind a number in brackets: "(1) the resin", "(2) mixing"."""
    after = every[at + 2].low if at + 2 < len(every) else ""
    return after in ("the", "a", "an") or after.endswith("ing")
