"""Which figures each paragraph speaks of: those that it names, else perhaps those of the paragraph before it."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator

import msgspec

from preflight.facts import Box
from preflight.papers.pages.figures_named import figures_in
from preflight.papers.specification.structure import Specification

Names = tuple[str, ...]
REACH = 120
"""Characters before the name of a figure that tell how it is named. House value."""


class Spoken(msgspec.Struct, frozen=True):
    """By paragraph: the labels that it names ("2A"), and those of the last one that named any if it names none.

    `rows` leads there: by file and page the upper edges of the rows and their paragraphs, from the top down.
    """

    rows: dict[tuple[str, int], tuple[tuple[float, ...], tuple[int, ...]]]
    figures: tuple[tuple[Names, Names], ...]

    def at(self, file: str, page: int, box: Box) -> tuple[Names, Names]:
        """Both, of the paragraph in which a line stands."""
        tops, numbers = self.rows.get((file, page), ((), ()))
        row = bisect_right(tops, box.middle[1]) - 1
        return self.figures[numbers[row]] if row >= 0 else ((), ())


_LATER = re.compile(
    r"\b(?:below|later|hereinafter|hereafter|subsequently|in (?:more|greater|further) detail)\b[^.;:]*$", re.IGNORECASE
)
"""Before a figure that is only pointed at: "which is described below with reference to FIG. 5"."""


def _spoken_of(text: str) -> Iterator[str]:
    """The figures that a paragraph is about: not those to which it sends the reader for more, if it has others."""
    every = list(figures_in(text))
    here = [one for one in every if not _LATER.search(text[max(0, one[0] - REACH) : one[0]])]
    for _, _, members in here or every:
        yield from (f"{number}{letter}" for number, letter in members)


def figures_spoken_of(found: Specification) -> Spoken:
    """Of the text beside claims and abstract. A range such as FIGS. 2A-2C counts with all its members."""
    rows: dict[tuple[str, int], list[tuple[float, int]]] = {}
    figures: list[tuple[Names, Names]] = []
    last: Names = ()
    paragraphs = [
        p for section in found.sections if section.part not in ("claims", "abstract") for p in section.paragraphs
    ]
    for number, paragraph in enumerate(paragraphs):
        for row in paragraph.rows:
            rows.setdefault((row.spot.file, row.spot.page), []).append((row.spot.box.top, number))
        named = tuple(dict.fromkeys(_spoken_of(paragraph.text)))
        figures.append((named, () if named else last))
        last = named or last
    ordered = {place: sorted(some) for place, some in rows.items()}
    return Spoken(
        {
            place: (tuple(top for top, _ in some), tuple(number for _, number in some))
            for place, some in ordered.items()
        },
        tuple(figures),
    )
