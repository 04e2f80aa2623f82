"""Characters as printed, folded so that two wordings of the same thing compare equal, and lines set side by side."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from functools import lru_cache

import msgspec

from preflight.facts import CM_PER_PT, Box, Line, Page

_DASHES = dict.fromkeys(map(ord, "\u2010\u2011\u2012\u2013\u2014\u2015\u2212\ufe58\ufe63\uff0d\u00ad"), "-")
_SINGLE_QUOTES = dict.fromkeys(map(ord, "\u2018\u2019\u201a\u201b\u2032\u00b4`"), "'")
_DOUBLE_QUOTES = dict.fromkeys(map(ord, "\u201c\u201d\u201e\u201f\u2033"), '"')
_HIDDEN = dict.fromkeys(map(ord, "\u200b\u200c\u200d\u2060\ufeff"))
_TABLE = {**_DASHES, **_SINGLE_QUOTES, **_DOUBLE_QUOTES, **_HIDDEN}

KEPT = 1 << 15
"""So many lines are remembered folded: many readers ask the same of every line. Our choice: 800 pages of text."""

PROSE_LINE_WORDS = 7
"""A line with at least so many words is running text; labels in a figure or a form are shorter. House value."""

LEVEL = 0.45
"""Lines whose middles differ by less than this share of the type size stand in one row. House value."""

PROSE_WIDTH = 10.5
"""... and is at least so many cm wide: boxes of a flow chart are narrower than a column of text. House value."""

_WORD = re.compile(r"[A-Za-z\u00c0-\u024f][A-Za-z\u00c0-\u024f'\-]*")
_LETTERS_AND_DIGITS = re.compile(r"[^\W_]+", re.UNICODE)


class Row(msgspec.Struct, frozen=True):
    """Upright lines at one height, from left to right."""

    lines: tuple[Line, ...]
    text: str
    box: Box


@lru_cache(KEPT)
def flat(text: str) -> str:
    """Compatibility forms, dashes, quotes and white space made plain; letters keep their case."""
    return " ".join(unicodedata.normalize("NFKC", text).translate(_TABLE).split())


@lru_cache(KEPT)
def keyed(text: str) -> str:
    """Lower-case words with single spaces between them and nothing else: for comparing headings and labels."""
    return " ".join(_LETTERS_AND_DIGITS.findall(flat(text).casefold()))


@lru_cache(KEPT)
def words(text: str) -> tuple[str, ...]:
    """The words of a text; numbers are no words."""
    return tuple(_WORD.findall(flat(text)))


def upright(lines: Iterable[Line]) -> list[Line]:
    """Lines that read from left to right on the page as displayed, from the top down."""
    return sorted((ln for ln in lines if ln.turned == 0 and ln.text.strip()), key=lambda ln: (ln.box.top, ln.box.left))


def rows(lines: Iterable[Line]) -> list[Row]:
    """Upright lines gathered by height: see `level`."""
    gathered: list[list[Line]] = []
    for line in sorted(upright(lines), key=lambda ln: ln.box.middle[1]):
        if gathered and level(gathered[-1][0], line):
            gathered[-1].append(line)
        else:
            gathered.append([line])
    return [_row(sorted(group, key=lambda ln: ln.box.left)) for group in gathered]


def level(first: Line, second: Line) -> bool:
    """Whether two lines stand at one height.

    Their boxes hug the ink: a dash or a row of underscores is flat, so the type size decides what is near.
    """
    size = min(first.size, second.size) * CM_PER_PT
    return abs(first.box.middle[1] - second.box.middle[1]) <= max(LEVEL * size, 0.05)


def _row(group: Sequence[Line]) -> Row:
    box = Box.around(line.box for line in group) or group[0].box
    return Row(lines=tuple(group), text=flat(" ".join(line.text for line in group)), box=box)


def prose_words(page: Page) -> int:
    """How many words of the page stand in lines of running text, shown or not."""
    wide = (line for line in upright(page.lines) if line.box.width >= PROSE_WIDTH)
    counts = (len(words(line.text)) for line in wide)
    return sum(n for n in counts if n >= PROSE_LINE_WORDS)
