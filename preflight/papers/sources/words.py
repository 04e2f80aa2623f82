"""The words of both sides in one form, each with the way back to where it stands.

Capitals, punctuation, ligatures and soft hyphens are left out: exporting changes them, edits seldom do alone.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from preflight.facts import Prose
from preflight.papers.specification.passages import Row

_WORD = re.compile(r"[^\W_]+")


class Words(NamedTuple):
    """The words of a text; all lists but `gaps` have one entry a word."""

    words: list[str]
    shown: list[tuple[int, int, int]]
    """Where it stands: the number of its paragraph or row, and its offsets there."""
    computed: list[bool]
    """The program worked it out."""
    gaps: set[int]
    """Words before which something stands that has no words here."""
    starts: set[int]
    """Words that begin a paragraph or row."""
    cells: list[bool]


def words_of(paragraphs: Sequence[Prose]) -> Words:
    """Of a source."""
    found = Words([], [], [], set(), set(), [])
    for number, prose in enumerate(paragraphs):
        found.starts.add(len(found.words))
        for start, _ in prose.computed:
            before = len(_WORD.findall(prose.text, 0, start))
            found.gaps.add(len(found.words) + before)
        _take(found, number, prose.text, prose.computed, cell=prose.cell)
    return found


def words_in(rows: Iterable[Row]) -> Words:
    """Of the rows of papers."""
    found = Words([], [], [], set(), set(), [])
    for number, row in enumerate(rows):
        found.starts.add(len(found.words))
        _take(found, number, row.text, (), cell=False)
    return found


def _take(found: Words, number: int, text: str, computed: Sequence[tuple[int, int]], *, cell: bool) -> None:
    for match in _WORD.finditer(text):
        if word := plain(match.group()):
            found.words.append(word)
            found.shown.append((number, match.start(), match.end()))
            found.computed.append(any(start < match.end() and match.start() < end for start, end in computed))
            found.cells.append(cell)


def plain(word: str) -> str:
    """One word without capitals, ligatures and signs."""
    folded = unicodedata.normalize("NFKC", word).casefold()
    return folded if folded.isalnum() else "".join(filter(str.isalnum, folded))


def plain_words(text: str) -> Iterator[str]:
    """Every word of a text so; one of signs alone is empty."""
    return map(plain, _WORD.findall(text))


def said(text: str) -> tuple[str, ...]:
    """The words of a line that are no numbers."""
    return tuple(word for word in plain_words(text) if word and not word.isdecimal())
