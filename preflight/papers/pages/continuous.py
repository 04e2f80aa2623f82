"""The words of a paper as one string, from page to page, with the way back to the line where each stands."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable, Iterator

import msgspec

from preflight.facts import Box
from preflight.papers.model import Paper
from preflight.papers.pages.setting import lines_to_read
from preflight.papers.words.divided import together
from preflight.papers.words.headings import PARAGRAPH_NUMBER
from preflight.papers.words.lettering import flat
from preflight.papers.words.remembered import remembered

_LOW = str.maketrans("\u2080\u2081\u2082\u2083\u2084\u2085\u2086\u2087\u2088\u2089", "0123456789")
_HIGH = str.maketrans("\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079", "0123456789")
_LOWERED = re.compile(r"(?<=\d)[\u2080-\u2089]+")
_RAISED = re.compile(r"(?<=\d)[\u2070\u00b9\u00b2\u00b3\u2074-\u2079]+")
_LIST_NUMBER = re.compile(r"^\d{1,3}\.\s+(?=[A-Z])")

_RUNS_ON = re.compile(r"^(?:\S+ ){4}.*[a-z,]$")
"""A line within a sentence: the number that begins the next one is no paragraph's."""


class Continuous(msgspec.Struct, frozen=True):
    """`starts` are the offsets at which the lines begin, `places` their pages and boxes."""

    text: str
    starts: tuple[int, ...]
    places: tuple[tuple[int, Box], ...]

    def at(self, offset: int) -> tuple[int, Box]:
        """Page and box of the line in which this character stands."""
        return self.places[max(0, bisect_right(self.starts, offset) - 1)]


@remembered
def continuous(paper: Paper) -> Continuous:
    """Without headers, footers, page, line and paragraph numbers; words divided at a line's end are joined."""
    lines = [(page, line) for page, some in lines_to_read(paper).items() for line in some]
    text, starts = joined(line.text for _, line in lines)
    return Continuous(text, starts, tuple((page, line.box) for page, line in lines))


def joined(lines: Iterable[str]) -> tuple[str, tuple[int, ...]]:
    """The words of lines as one string, and the offsets at which the lines begin."""
    return together(_unnumbered(as_read(line) for line in lines))


def _unnumbered(lines: Iterable[str]) -> Iterator[str]:
    """Without the number with which a paragraph begins."""
    before = ""
    for line in lines:
        runs_on = _RUNS_ON.search(before) is not None
        before = line if runs_on else _LIST_NUMBER.sub("", PARAGRAPH_NUMBER.sub("", line))
        yield before


def as_read(text: str) -> str:
    """Made plain, but small digits behind a digit stay apart: ten to the third is 10^3, not 103; a part 30 with a low 1
    is 30_1."""
    if text.isascii():
        return " ".join(text.replace("`", "'").split())
    lowered = _LOWERED.sub(lambda found: "_" + found.group().translate(_LOW), text)
    return flat(_RAISED.sub(lambda found: "^" + found.group().translate(_HIGH), lowered))
