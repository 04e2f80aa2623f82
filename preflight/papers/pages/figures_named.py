"""Figures that a text names: "FIG. 2A", "FIGS. 1, 3 and 4", "FIGS. 2A-2C"; not those of cited documents."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import msgspec

from preflight.facts import Box
from preflight.papers.model import Paper
from preflight.papers.pages.continuous import continuous

_GOES_ON = r"(?![A-Za-z])(?!\s+(?!(?:and|or|to|through|is|are|shows?|illustrates?|depicts?)\b)[a-z])"
_ONE = rf"\d{{1,3}}(?:\s?\([A-Za-z]\)|[A-Za-z](?![A-Za-z])|\s(?-i:[A-Z]){_GOES_ON})?"
"""A letter that stands apart is a capital, and begins no sentence: "FIG. 3 a latch", "FIG. 3 A latch" name FIG. 3."""
_DENOTES = r"\s*\d{1,3}[a-z]?\s+(?:\w+ly\s+)?(?:denot|designat|indicat|represent|identif)"
"""What follows "In FIG. 1," may be a character: "10 denotes an insole"."""
_NAMED = re.compile(
    rf"\bFIG(?:URE)?S?\b\.?\s*(?P<some>{_ONE}(?:\s*(?:,\s*and|,(?!{_DENOTES})|and|or|&|-|to|through)\s*(?:FIGS?\.?\s*)?{_ONE})*)"
    r"(?P<other>\s+(?:of|in|from)\s+(?:(?:the|that|this|said)\s+)?(?:same\s+|cited\s+|prior\s+|earlier\s+)?"
    r"(?:U\.?\s?S\b|EP|WO|JP|DE|GB|CN|patents?|publications?|documents?|references?|applications?))?",
    re.IGNORECASE,
)
_WHOSE = re.compile(r"\b(?:whose|its|their)\s$", re.IGNORECASE)
"""... whose FIG. 2 shows: that of something else."""
_MEMBER = re.compile(r"(\d{1,3})\s?(?:\(?([A-Za-z])\)?(?![A-Za-z]))?")
_SPAN = re.compile(r"(?:-|to|through)$", re.IGNORECASE)
LONGEST = 26
"""Members of a range: more are not meant. House value."""


class NamedFigure(msgspec.Struct, frozen=True):
    """One figure where the text names it, e.g. number 2, letter "A"."""

    number: int
    letter: str
    file: str
    role: str
    page: int
    box: Box
    at: int = 0
    """Where the words that name it begin in its paper, as `continuous` gives them."""

    @property
    def name(self) -> str:
        """For comparing: "2A"."""
        return f"{self.number}{self.letter}"


def named_figures(papers: Iterable[Paper]) -> tuple[NamedFigure, ...]:
    """Each as often as it is named, ranges with all their members."""
    found: list[NamedFigure] = []
    for paper in papers:
        words = continuous(paper)
        for start, _, members in figures_in(words.text):
            page, box = words.at(start)
            found += [NamedFigure(n, c, paper.file, paper.role, page, box, start) for n, c in members]
    return tuple(found)


def figures_in(text: str) -> Iterator[tuple[int, int, tuple[tuple[int, str], ...]]]:
    """Where figures are named in a text, from and to, and their numbers with letters."""
    for named in _NAMED.finditer(text):
        if not named.group("other") and not _WHOSE.search(text[max(0, named.start() - 8) : named.start()]):
            yield named.start(), named.end("some"), tuple(_members(named.group("some")))


def _members(some: str) -> Iterator[tuple[int, str]]:
    before: tuple[int, str] | None = None
    end = 0
    for found in _MEMBER.finditer(some):
        one = int(found.group(1)), (found.group(2) or "").upper()
        if before and _SPAN.search(re.sub(r"\s*(?:FIGS?\.?)?\s*$", "", some[end : found.start()], flags=re.IGNORECASE)):
            yield from _between(before, one)
        yield one
        before, end = one, found.end()


def _between(first: tuple[int, str], last: tuple[int, str]) -> Iterator[tuple[int, str]]:
    if first[0] == last[0] and first[1] and last[1]:
        yield from ((first[0], chr(c)) for c in range(ord(first[1]) + 1, ord(last[1])))
    elif not first[1] and not last[1] and last[0] - first[0] <= LONGEST:
        yield from ((n, "") for n in range(first[0] + 1, last[0]))
