"""Reference characters of a sheet (37 CFR 1.84(p)), told apart from the other numbers on it as far as measured."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator

import msgspec

from preflight.facts import Box, Page, Reading
from preflight.papers.pages.sheets import labels_on
from preflight.papers.words.drawn import Drawn, strings_on
from preflight.papers.words.lettering import flat
from preflight.papers.words.units import UNITS

CHARACTER = re.compile(r"(?:\d{1,4}[A-Za-z]?|S\d{2,4}[A-Za-z]?|\d{2,4}-\d{1,2})'{0,3}")
"""A numeral, perhaps with a letter or primes; a step such as S10; one of several such as 120-1. Letters alone are not
told from other letters."""
SEVERAL = re.compile(r"(\d+)-(\d+)")
"""One of several; a span such as 10-20 is none."""
ONLY_IF_NAMED = re.compile(r"[A-Z]{1,2}\d{1,3}[a-z]?'*|\d[A-Za-z]'*|\d{2,4}\((?:\d{1,2}|[a-z])\)|\d{2,4}-[A-Znmk]")
"""A part of a circuit, a mirror M2, a bend 4a, a pin 126(1): told from other words only where the text names it."""
LEAD_LINES = '-~_.,<>|/\\()[]:;\u00b0" '
"""What a lead line, a bracket or a speck beside a character reads as."""
LIKE_DIGITS = str.maketrans("gqoOQlIsSzZ", "99000115552")
"""Letters after digits that stand for the digit which they look like."""

_NO_CHARACTERS = re.compile(
    r"[=+%#<>]\s*\w|\w\s*[=+%#]|\d\s*/\s*\d|\d\s*:\s*\d\d|\d[.,]\d|\b(?:19|20)\d\d\b.*\d|\d{1,2}[/-]\d{1,2}[/-]\d{2,4}"
)
"""Formulas, percentages, fractions, times, decimals, dates."""
_OTHER_NUMBER = re.compile(r"[-+\u2212]?\d[\d.,]*\s?[%\u00b0]?")
_HEADER = re.compile(
    r"\bpatents?\b|\bpublication\b|\bsheet\s*\d|\b(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?\s*\d{1,2}"
    r"|^(?:US|WO|EP|GB|DE|JP|CN)\W*[\d/,. ]{6,}|^\d{1,2},\d{3},\d{3}$"
    r"|\b(?:docket|application|attorney|replacement|copyright)\b|\u00a9",
    re.IGNORECASE,
)
"""Lines that identify the sheet: headers of published copies, docket numbers, sheet numbers in words, copyright."""
LISTED = 6
"""Words of a line that is no legend of a part. House value."""
_BEFORE = frozenset(
    re.findall(r"\S+", "stage level phase version rev revision scale size no no. date time id page sheet class type")
)
"""Words before a number that is no reference character."""


class Character(msgspec.Struct, frozen=True):
    """A reference character as it stands on one sheet."""

    text: str
    page: int
    box: Box
    height: float | None
    """Of its ink, in cm; None where it was not measured."""
    sure: bool
    could_be: tuple[str, ...] = ()
    """What else it may say."""
    turned: int = 0
    reading: Reading | None = None
    """None where it stands as a character of the file."""
    led: bool | None = None
    """Whether a stroke comes to it, as a lead line does, or it is underlined; None where that is not known."""
    on_line: bool = False
    """A line goes on to both sides of it, as a dimension line does."""
    alone: bool = True
    """No other words stand in its line."""
    listed: bool = False
    """It stands in a longer line of words or among other numbers, as in a listing or on a screen."""


def characters_on(page: Page) -> tuple[Character, ...]:
    """All that begin with a digit, as often as they are drawn. Not those of figure labels and sheet numbers."""
    labels = [label.box for label in labels_on(page)]
    return tuple(
        found
        for one in strings_on(page)
        if not _HEADER.search(flat(one.text)) and not any(box.holds_middle_of(one.box) for box in labels)
        for found in _of(one, page.number)
    )


def usual_height(page: Page) -> float | None:
    """The middle height of the characters of a sheet, in cm; None where there are none."""
    heights = sorted(one.height for one in characters_on(page) if one.height and one.sure)
    return heights[len(heights) // 2] if heights else None


def numbers_on(page: Page) -> tuple[Character, ...]:
    """Other numbers that stand by themselves: 0, 0.5, 12,000, 40%."""
    every = [one for one in strings_on(page) if _OTHER_NUMBER.fullmatch(flat(one.text))]
    return tuple(
        _character(one, page.number, flat(one.text), alone=True) for one in every if not character_in(flat(one.text))
    )


def named_on(page: Page, names: Container[str]) -> Iterator[Character]:
    """Those of the names that might be other words (R1, Q3, 4a) and stand as a word on a sheet, not in a label."""
    labels = [label.box for label in labels_on(page)]
    for one in strings_on(page):
        if any(box.holds_middle_of(one.box) for box in labels):
            continue
        words = flat(one.text).split()
        for word in words:
            if ONLY_IF_NAMED.fullmatch(word) and word in names:
                yield _character(one, page.number, word, alone=len(words) == 1)


def _of(one: Drawn, page: int) -> Iterator[Character]:
    text = flat(one.text).strip(LEAD_LINES)
    if _NO_CHARACTERS.search(text):
        return
    words = list(re.finditer(r"[^\s&]+", text))
    for i, word in enumerate(words):
        before = words[i - 1].group().casefold() if i else ""
        after = words[i + 1].group().casefold().strip(".,;:") if i + 1 < len(words) else ""
        token = character_in(word.group())
        if token and before not in _BEFORE and after not in UNITS:
            yield _character(one, page, token, alone=len(words) == 1)


def character_in(word: str) -> str | None:
    """The reference character that a word is, or that ends it; None if there is none."""
    plain = re.sub(r"^[A-Z]{3,}(?=\d{2,})", "", word.strip(LEAD_LINES))
    if re.fullmatch(r"\d+[gqoOQlIsSzZ]", plain):
        plain = plain.translate(LIKE_DIGITS)
    span = SEVERAL.fullmatch(plain)
    if span and int(span.group(2)) >= int(span.group(1)):
        return None
    if not CHARACTER.fullmatch(plain) or plain.startswith("0") or re.fullmatch(r"\d[A-Za-z]'*", plain):
        return None
    return plain


def _character(one: Drawn, page: int, token: str, *, alone: bool) -> Character:
    other = character_in(flat(one.reading.other)) if one.reading and alone else None
    return Character(
        text=token,
        page=page,
        box=one.box,
        height=one.height if alone else None,
        sure=one.sure and (one.reading is None or alone),
        could_be=(other,) if other and other != token else (),
        turned=one.turned,
        reading=one.reading,
        led=None if one.strokes is None or not alone else one.strokes > 0 or one.underlined,
        on_line=one.on_line and alone,
        alone=alone,
        listed=len(one.text.split()) >= LISTED,
    )
