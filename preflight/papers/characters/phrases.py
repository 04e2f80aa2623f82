"""The words of a noun phrase before a character, up to the word at which no name can go on."""

from __future__ import annotations

import re
from collections.abc import Sequence

from preflight.papers.characters import part_words as of
from preflight.papers.characters.deeds import is_verb_in_s, without_verb
from preflight.papers.characters.groups import is_plural, numbers_a_kind
from preflight.papers.characters.tokens import Token
from preflight.papers.words.units import UNITS

_KINDS = of.OFTEN_COUNTED - of.PARTS_TOO
_NUMBERED = of.OFTEN_COUNTED | of.MARKED_FIRST | (of.NO_NAMES - {"usb", "hdmi", "pci", "bluetooth"})
LONGEST = 7
"""A name has at most so many words. House value."""
_KIND = re.compile(r"[A-Z]{1,2}\d{1,2}|\d{1,3}[A-Za-z]|[A-Z]{2,}-?\d+[A-Z]?")
"""What an article stands before is no reference character: "an M6 bolt 82", "a 5G network 24"."""
_KIND_ALONE = re.compile(r"[A-Z]{3,}-?\d+[A-Z]?")
"""What is none without an article either: "of DDR5 memory 18"."""
THREAD = re.compile(r"M(?:3|4|5|6|8|10|12|14|16|20|24|30|36)")
"""The usual metric threads (ISO 261, from memory)."""
ENOUGH_DIGITS = 3
"""Of the number of a step: "in operation 810". House value."""
FEW = 2


def phrase_before(every: Sequence[Token], at: int) -> tuple[list[Token], int]:
    """The words of the noun phrase that ends at a token, and the token before which it begins."""
    at = _before_short_form(every, at)
    words: list[Token] = []
    if at > 0 and re.fullmatch("[A-Z]", every[at].text) and not _stops(every, at - 1, words):
        words, at = [every[at]], at - 1  # "the valve A 12"
    while at >= 0 and len(words) < LONGEST and not _stops(every, at, words):
        words.insert(0, every[at])
        at -= 1
    bare = without_verb(every, words, at)
    if len(bare) < len(words):
        return bare, -1
    if words and at > 0 and every[at].low == "of" and len(words) < LONGEST and _is_named_with_of(every, at - 1):
        start = at - 1
        while start >= 0 and at - start < LONGEST and not _stops(every, start, words):
            start -= 1
        head = every[start + 1 : at + 1]
        if len(head) > 1:
            return [*head, *words], start
    return words, at


def _is_named_with_of(every: Sequence[Token], at: int) -> bool:
    """Whether a noun is named with what follows "of": "the axis of rotation 44", "a first ring of struts 32"."""
    counted = at > 0 and every[at - 1].low in of.ORDINALS and every[at].kind == "word" and every[at].low not in of.STOPS
    return counted or every[at].low in of.OF_NOUNS


def _before_short_form(every: Sequence[Token], at: int) -> int:
    """Past the brackets in "a central processing unit (CPU) 12"."""
    if at < 2 or every[at].text != ")":
        return at
    inside = [back for back in range(at - 1, max(-1, at - 6), -1) if every[back].text == "("]
    if not inside or any(every[n].kind != "word" for n in range(inside[0] + 1, at)):
        return at
    return inside[0] - 1


def _stops(every: Sequence[Token], at: int, words: Sequence[Token]) -> bool:
    """Whether the name cannot go on to this word. `words` is what stands to its right already."""
    token = every[at]
    low = token.low
    before = every[at - 1] if at else None
    if token.kind in ("character", "number") and words and before is not None and before.low in of.ARTICLES:
        return _KIND.fullmatch(token.text) is None
    if words and _is_size_or_version(token, before, words[0]):
        return False
    opened = before is not None and before.low in of.ARTICLES
    if words and (_is_kind(every, at) or numbers_a_kind(every, at) or _KIND_ALONE.fullmatch(token.text)):
        return False
    if not words and low == "number" and _ends_a_name(every, at):
        return False
    if words and before is not None and _is_adjective(token, before, words, opened=opened):
        return False
    if words and opened and len(token.text) >= FEW and token.text.isupper() and words[0].text.islower():
        return False  # "a CAN bus 30", "the OR gate 26"
    if token.kind != "word" or token.possessive or low in of.STOPS or _ends_an_adverb(every, at):
        return True
    if low in UNITS and before is not None and before.kind in ("character", "number", "range"):
        return True
    if not words:
        return False
    if (low in of.PARTICIPLES or low in of.NEVER_NOUNS) and not opened:
        return True
    relative = before is not None and before.low == "that"  # "a browser that supports it"
    return is_verb_in_s(low) and (relative or not opened)


def _is_size_or_version(token: Token, before: Token | None, noun: Token) -> bool:
    """Whether it belongs to the name without an article too: "M8 screws 62", "a USB 3.0 cable 34"."""
    if THREAD.fullmatch(token.text):
        return noun.low in of.SCREWS
    proper = before is not None and before.kind == "word" and before.text[0].isupper() and before.low not in of.STOPS
    numbered = proper and before is not None and before.low in _NUMBERED
    return proper and not numbered and re.fullmatch(r"\d\.\d", token.text) is not None


def _is_kind(every: Sequence[Token], at: int) -> bool:
    """Whether a number and the word before it tell a kind: "a level 1 cache 22"."""
    if at < FEW or len(every[at].text) > 1 or not every[at].text.isdigit() or every[at - 1].low not in _KINDS:
        return False
    return every[at - 2].low in of.ARTICLES or every[at - 2].text == "."


def _ends_a_name(every: Sequence[Token], number: int) -> bool:
    """Whether a part is called so: "a sequence number 56", not "the serial number 447", "a number 12"."""
    if number < FEW or every[number - 1].kind != "word" or every[number - 2].low not in of.ARTICLES | {"same"}:
        return False
    return every[number - 1].low not in of.STOPS | of.IDENTIFIED_BY_NUMBER | of.NOT_OF_THE_NAME


def _ends_an_adverb(every: Sequence[Token], at: int) -> bool:
    """Whether an adverb of several words ends here: "in the meantime", "at the same time", "in operation"."""
    low = every[at].low
    if low in of.ADVERBS_WITH_IN:
        step = low == "operation" and at + 1 < len(every) and len(every[at + 1].text) >= ENOUGH_DIGITS
        return at > 0 and every[at - 1].low == "in" and not (step and every[at + 1].kind == "character")
    if low not in of.ADVERBS_WITH_THE:
        return False
    before = [token.low for token in every[max(0, at - 3) : at]]
    back = before[-2:-1] if before[-1:] in (["this"], ["that"], ["which"]) or low == "meantime" else before[-3:-2]
    fixed = before[-1:] in (["this"], ["that"], ["which"], ["same"]) or low == "meantime"
    return fixed and back in (["in"], ["at"], ["by"])


def _is_adjective(token: Token, before: Token, words: Sequence[Token], *, opened: bool) -> bool:
    """Whether what usually ends a name belongs to it: "a through hole 72", "a protein A column 9"."""
    if token.low in of.PLACES_AS_ADJECTIVES:
        starts = before.text == "." and token.low in ("adjacent", "opposite") and is_plural(words[-1].low)
        return opened or starts or before.low in of.PREPOSITIONS
    if len(token.text) == 1 and token.text.isupper():
        return before.kind == "word" and before.text[0].islower() and before.low not in of.STOPS
    return opened and token.low in of.WAYS
