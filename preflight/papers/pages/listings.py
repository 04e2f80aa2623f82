"""Program listings among the text: rows of a monospaced typeface that look like code."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import msgspec

from preflight.facts import Box
from preflight.papers.model import Paper
from preflight.papers.pages.setting import body_lines
from preflight.papers.words.lettering import PROSE_LINE_WORDS, Row, rows, words

LONG = 12
"""A row of so many characters in another typeface ends a listing; shorter ones are too short to tell. House value."""
CODE = 1 / 3
"""So large a share of the rows has the look of code: sequences and text are set monospaced as well. House value."""
GOES_ON = 3
"""So many rows of running text after a listing are not its end matter. House value."""

_CODE = re.compile(
    r"[;{}]$|\w\(|[=!<>:+\-*/]=|->|=>|\w = \S|^(?:#|//|/\*|--|\*/)|</?\w+[^>]*>$"
    r"|^(?:if|for|while|else|elif|def|class|switch|case|do|try|with|begin)\b.*[:{)]$|^(?:return|import|end|endif|next)\b"
)


class Listing(msgspec.Struct, frozen=True):
    """One listing; pages and boxes of its rows in cm, in order."""

    places: tuple[tuple[int, Box], ...]
    widest: int
    """Characters of its longest row, counted from where its leftmost row begins."""
    text_after: bool
    """Whether running text of the same paper follows."""

    @property
    def length(self) -> int:
        """In rows."""
        return len(self.places)


def listings(paper: Paper) -> tuple[Listing, ...]:
    """The listings of a paper, also over the end of a page. Listings in other typefaces are not told from text."""
    every = [(page.number, row) for page in paper.pages for row in rows(body_lines(paper)[page.number])]
    blocks = [block for block in _blocks([row for _, row in every]) if _is_code([every[n][1] for n in block])]
    inside = {n for block in blocks for n in block}
    text = [n for n, (_, row) in enumerate(every) if n not in inside and len(words(row.text)) >= PROSE_LINE_WORDS]
    return tuple(
        Listing(
            places=tuple((every[n][0], every[n][1].box) for n in block),
            widest=_widest([every[n][1] for n in block]),
            text_after=sum(n > block[-1] for n in text) >= GOES_ON,
        )
        for block in blocks
    )


def _blocks(every: Sequence[Row]) -> Iterator[range]:
    """From the first to the last monospaced row, where nothing long in another typeface stands in between."""
    first = last = -1
    for n, row in enumerate(every):
        if _advance(row):
            first, last = (n if first < 0 else first), n
        elif len(row.text) >= LONG and first >= 0:
            yield range(first, last + 1)
            first = -1
    if first >= 0:
        yield range(first, last + 1)


def _advance(row: Row) -> float | None:
    """The width of a character of a monospaced row; remarks at its end may be too short to tell."""
    known = [line.advance for line in row.lines if line.advance]
    other = any(line.advance is None and len(line.text) >= LONG for line in row.lines)
    return max(known) if known and not other else None


def _is_code(block: Sequence[Row]) -> bool:
    return sum(bool(_CODE.search(row.text)) for row in block) >= CODE * len(block)


def _widest(block: Sequence[Row]) -> int:
    left = min(row.box.left for row in block)
    return max(round((row.box.right - left) / advance) for row in block if (advance := _advance(row)))
