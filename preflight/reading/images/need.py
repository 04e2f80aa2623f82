"""Whether the picture of a page has to be read: where its own characters do not tell what is drawn on it."""

from __future__ import annotations

import re
from collections.abc import Iterable

from preflight.facts import Page

STAMP_WORDS = 25
"""A page-wide picture with fewer words on it is a scan with a stamp. House value."""
TEXT_WORDS = 60
"""A page with so many words of its own is text, or a drawing whose writing is characters. House value."""
SCAN_SHARE, PICTURE_SHARE = 0.5, 0.1
"""Of the page: a picture so large is the page itself; one so large may hold a figure. House values."""
FIGURE = 3.0
"""A cluster of ink so wide and so high (cm) may be a figure. House value."""

_FORM = re.compile(
    r"\b(?:cover ?sheet|data ?sheet|transmittal|certification of|entity ?status|power of attorney"
    r"|fee (?:work)?sheet)\b",
    re.IGNORECASE,
)
_NUMERAL = re.compile(r"^[\W_]*\d{1,4}[A-Za-z]?['\u2032\u2019]{0,2}[\W_]*$")


def needs_a_look(page: Page) -> bool:
    """Whether it may bear figure labels or reference characters that are lines or pixels only."""
    if page.unread or page.ink is None:
        return False
    lines = [line for line in page.lines if line.visible]
    count = sum(len(line.text.split()) for line in lines)
    area = page.width * page.height
    largest = max((picture.box.area for picture in page.pictures), default=0.0)
    if largest > SCAN_SHARE * area:
        return count < STAMP_WORDS
    if count >= TEXT_WORDS or not _has_figure(page):
        return False
    if largest > PICTURE_SHARE * area or page.text_unread:
        return True
    return not any(_NUMERAL.match(line.text) for line in lines if not _at_edge(page, line.box.middle[1]))


def heads_form(lines: Iterable[str]) -> bool:
    """Whether one of these lines is what forms are headed with."""
    return any(_FORM.search(line) for line in lines)


def _has_figure(page: Page) -> bool:
    return any(mark.width > FIGURE and mark.height > FIGURE for mark in page.marks)


def _at_edge(page: Page, down: float) -> bool:
    """Whether a number there may be that of the page or the sheet."""
    return not 0.1 * page.height < down < 0.9 * page.height
