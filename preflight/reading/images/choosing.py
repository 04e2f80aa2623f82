"""Two readings of one place, as it is and without strange strokes: which one counts, and whether they agree."""

from __future__ import annotations

import re
from typing import NamedTuple

from preflight.reading.images.letters import Word

NUMERAL = re.compile(r"\d{1,4}[A-Za-z]?['\u2032\u2019]{0,2}")
"""A reference character that begins with a digit."""
_PLAIN_WORD = re.compile(r"^(?=.*[A-HJ-NPRT-Yabcdefhijkmnprtuvwxy])[A-Za-z]{2,}$")
"""Letters only, at least one of which looks like no digit."""
SURE = 0.95
"""A numeral or a word whose every letter is so probable is not read again."""
GOOD = 0.93
SHORT = 7
"""Letters: what is longer is no reference character."""


class Chosen(NamedTuple):
    """The reading that counts, and the other one if it says something else."""

    word: Word
    other: Word | None


def needs_second(word: Word) -> bool:
    """Whether a cleaned cut-out may tell more."""
    text = word.text.replace(" ", "")
    settled = word.lowest >= SURE and (is_numeral(word) or _PLAIN_WORD.search(text))
    return len(text) <= SHORT and not settled


def is_numeral(word: Word) -> bool:
    """Whether nothing but a numeral stands there."""
    return bool(NUMERAL.fullmatch(word.text))


def choose(first: Word, cleaned: Word) -> Chosen:
    """Of two readings the better."""
    if first.text == cleaned.text:
        return Chosen(first if first.mean >= cleaned.mean else cleaned, None)
    if not cleaned.text:
        return Chosen(first, None)
    if _one_more_digit(first.text, cleaned.text):
        better = first.lowest < GOOD
    elif is_numeral(cleaned) and not is_numeral(first):
        better = cleaned.mean > GOOD
    else:
        better = first.lowest < SURE and cleaned.mean >= first.mean
    return Chosen(cleaned, first) if better else Chosen(first, cleaned)


def _one_more_digit(one: str, other: str) -> bool:
    """Whether one is the other and a digit at an end: a lead line read as a digit, or a digit painted out."""
    short, long = sorted((one, other), key=len)
    if len(long) != len(short) + 1 or not short:
        return False
    return (long[1:] == short and long[0].isdigit()) or (long[:-1] == short and long[-1].isdigit())
