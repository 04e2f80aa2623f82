"""Whether the characters of a page may say something else than what is seen on it."""

from __future__ import annotations

import re
from collections.abc import Collection

from preflight.facts import Line, Page
from preflight.reading.images.need import SCAN_SHARE

PROSE_WORDS = 4
"""Lines with so many words are prose, or what is left of it. House value."""
WORDS = 25
"""So many words of prose tell whether they are a language. House value."""
COMMON = 0.08
"""In prose at least so large a share of the words is common: English has 0.35. House value."""
LETTERS = 15
"""A line with fewer letters is too short to be held against its picture. House value."""

_WORD = re.compile(r"[^\W\d_]+")
_OFTEN = """
the of an and to in is are for with by on as or at from that this be which it its when can may
der die das und ein eine in den von zu mit ist im des auf le la les de du des un une et en est que par pour dans
el los las del con por para il lo gli che di non per sono uma os as do da em no na het van een op te
och att det som p\u00e5 av og til
"""
_COMMON = frozenset(_OFTEN.split())


def needs_proof(page: Page, unnamed: Collection[int]) -> bool:
    """Whether its characters have to be held against its picture: a font on it names no characters (its number is
    among `unnamed`), they stand on a picture of the page, or they read like no language.
    """
    if page.unread or page.text_unread or not long_lines(page):
        return False
    area = page.width * page.height
    on_picture = any(picture.box.area > SCAN_SHARE * area for picture in page.pictures)
    return page.number in unnamed or on_picture or _no_language(page)


def long_lines(page: Page) -> list[Line]:
    """Its visible lines with enough letters."""
    upright = (line for line in page.lines if line.visible and not line.oblique)
    return [line for line in upright if sum(map(str.isalnum, line.text)) >= LETTERS]


def _no_language(page: Page) -> bool:
    """Whether its prose has hardly any word that every text has."""
    prose = (found for line in page.lines if line.visible and len(found := _WORD.findall(line.text)) >= PROSE_WORDS)
    words = [word.casefold() for found in prose for word in found]
    return len(words) >= WORDS and sum(word in _COMMON for word in words) < COMMON * len(words)
