"""Headers that a sheet has only later: labels of replaced sheets, and the header of a published document."""

from __future__ import annotations

import re

from preflight.facts import Box, Page
from preflight.papers.words.drawn import Drawn, strings_on
from preflight.papers.words.lettering import flat

TOP = 0.12
"""Headers stand in this upper share of a sheet, whichever way its figure lies. House value."""
SIGNS = 3
"""A published copy shows so many signs or more: a filer's own header may well show two. House value."""

_LATER = re.compile(
    r"^\W*(?:replacement|new|annotated|substitute)\s+sheets?(?:\s+showing\s+changes)?\W*$", re.IGNORECASE
)
"""37 CFR 1.121(d) names the replacement, new and annotated sheets of an amendment."""
_SIGNS = (
    re.compile(r"\bU\.?\s?S\.?\s*Patent\b(?!\s*(?:appl|prov))|\bPatent\s+Application\s+Publication\b", re.IGNORECASE),
    re.compile(
        r"\b(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?\s*\d{1,2},?\s*(?:19|20)\d\d\b", re.IGNORECASE
    ),
    re.compile(r"\bsheet\s*\d{1,3}\s*of\s*\d{1,3}\b", re.IGNORECASE),
    re.compile(r"(?<![\d,])(?:RE|D)?\d{1,2},\d{3},\d{3}(?![\d,])|\b(?:US\s?)?(?:19|20)\d\d/\d{7}\b"),
)
"""The office's name for it, the day of publication, the sheet in words, the number of the document."""


def later_label(page: Page) -> Drawn | None:
    """A label of an amended sheet: "Replacement Sheet"."""
    return next((one for one in strings_on(page) if _LATER.match(flat(one.text))), None)


def published_header(page: Page) -> tuple[str, Box] | None:
    """The header of a published patent or application with its place, as far as it was read."""
    upper = [one for one in strings_on(page) if one.box.middle[1] < TOP * page.height]
    told = [one for one in upper if any(sign.search(flat(one.text)) for sign in _SIGNS)]
    words = "  ".join(flat(one.text) for one in sorted(told, key=lambda one: one.box.left))
    place = Box.around(one.box for one in told)
    if place is None or sum(sign.search(words) is not None for sign in _SIGNS) < SIGNS:
        return None
    return words, place
