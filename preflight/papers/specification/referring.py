"""How a claim refers to other claims, by the worked forms of MPEP 608.01(n).

Where the manual gives no form that fits, `form` is "unclear" and nothing is said of it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal

import msgspec

Form = Literal["single", "alternative", "cumulative", "range", "and/or", "preceding", "later", "unclear"]
"""single: one claim; alternative: several of which one counts; the others are no proper multiple reference: several
together, a bare range, "and/or", "the preceding claims", "the following claims"."""

_N = r"\d{1,3}"
_LIST = (
    rf"{_N}(?:\s?(?:,\s?and/or|,\s?and|,\s?or|,|and/or|and|or|to|through|-)\s?(?:(?:of\s)?(?:any (?:one"
    rf" )?of\s)?claims?\s)?{_N})*"
)
_REFERENCE = re.compile(
    r"(?P<lead>\b(?:any(?: (?:single )?(?:one|preceding))?(?: or more)?|(?:at least )?one(?: or more)?|either(?: one)?"
    r"|each|all)(?: of)?\s(?:the\s)?)?"
    r"(?P<where>\b(?:the\s)?(?:preceding|previous|prior|foregoing|above|earlier|following|subsequent|succeeding|later)\s)?"
    rf"\bclaims?\b(?P<after>\s(?:above|below|preceding))?(?:\s(?P<list>{_LIST}))?(?P<foreign>\s(?:of|in)\s(?:the\s)?"
    r"(?:U\.?\s?S\b|EP|WO|JP|DE|GB|CN|patents?|publications?|applications?))?",
    re.IGNORECASE,
)
_JOINS = re.compile(r"^[\s,]*(?:or|and/or|and)?\s*(?:of\s|to\s|with\s|in\s|as in\s)?$", re.IGNORECASE)
_ALTERNATIVE = re.compile(r"\b(?:any|one of|one or more of|either|at least one)\b", re.IGNORECASE)
_LATER = re.compile(r"\b(?:following|subsequent|succeeding|later)\b", re.IGNORECASE)
_RANGE = re.compile(rf"({_N})\s?(?:-|to|through)\s?(?:claims?\s)?({_N})", re.IGNORECASE)
LONGEST = 100
"""Members of a range: more are not meant. House value."""


class Reference(msgspec.Struct, frozen=True):
    """One set of claims that a claim refers to. `claims` is empty for "any preceding claim"."""

    words: str
    claims: tuple[int, ...]
    form: Form
    offset: int
    """In the text of the claim."""

    @property
    def multiple(self) -> bool:
        """Whether it refers to more than one claim."""
        return self.form != "single"


def references(text: str) -> tuple[Reference, ...]:
    """Each set of claims that is referred to, in order; claims of other documents are not meant."""
    return tuple(_reference(group, text) for group in _groups(text))


def _groups(text: str) -> Iterator[list[re.Match[str]]]:
    """References that "or" or "and" join are one set: "either claim 1 or claim 2"."""
    group: list[re.Match[str]] = []
    for found in _REFERENCE.finditer(text):
        if found.group("foreign") or not (found.group("list") or found.group("where") or _any(found)):
            continue
        if group and _JOINS.match(text[group[-1].end() : found.start()]):
            group.append(found)
            continue
        if group:
            yield group
        group = [found]
    if group:
        yield group


def _any(found: re.Match[str]) -> bool:
    lead = (found.group("lead") or "").casefold()
    return "preceding" in lead or bool(found.group("after"))


def _reference(group: list[re.Match[str]], text: str) -> Reference:
    words = " ".join(text[group[0].start() : group[-1].end()].split())
    listed = " ".join(found.group("list") or "" for found in group)
    claims = tuple(dict.fromkeys(number for found in group for number in _members(found.group("list") or "")))
    return Reference(words, claims, _form(words, listed, claims), group[0].start())


def _members(listed: str) -> Iterator[int]:
    spans = {(int(a), int(b)) for a, b in _RANGE.findall(listed)}
    for number in map(int, re.findall(_N, listed)):
        yield number
        for low, high in spans:
            if number == low and low < high <= low + LONGEST:
                yield from range(low + 1, high + 1)


def _form(words: str, listed: str, claims: tuple[int, ...]) -> Form:
    plural = bool(re.search(r"\bclaims\b", words, re.IGNORECASE)) and not claims
    if not claims and _LATER.search(words):
        return "later"
    if len(claims) == 1:
        return "single"
    if "and/or" in words.casefold():
        return "and/or"
    if _ALTERNATIVE.search(words):
        return "alternative"
    if not claims:
        return "preceding" if plural else "unclear"
    between = re.sub(r"\d+", " ", re.sub(r"\bclaims?\b", " ", words, flags=re.IGNORECASE)).casefold().split()
    if "and" in between:
        return "cumulative"
    if _RANGE.search(listed):
        return "range"
    return "alternative" if "or" in between else "unclear"
