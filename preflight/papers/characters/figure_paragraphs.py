"""Which figures each paragraph speaks of: those that it names, else perhaps those of the paragraph before it."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator
from statistics import median

import msgspec

from preflight.papers.model import Paper
from preflight.papers.pages.continuous import Continuous, continuous
from preflight.papers.pages.figures_named import named_figures

SHORT = 1.0
"""The last line of a paragraph ends so many cm before the column does. House value."""
INDENTED = 0.5
"""The first begins so many cm further right. House value."""
APART = 1.5
"""Or stands so many times the usual distance below the line before. House value."""


class Spoken(msgspec.Struct, frozen=True):
    """`starts` are the places at which paragraphs begin, `named` the labels that each names ("2A"), `before` those of
    the last paragraph that named any, where it names none itself."""

    starts: tuple[int, ...]
    named: tuple[tuple[str, ...], ...]
    before: tuple[tuple[str, ...], ...]

    def at(self, place: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Both, of the paragraph in which a place lies."""
        paragraph = bisect_right(self.starts, place) - 1
        return (self.named[paragraph], self.before[paragraph]) if paragraph >= 0 else ((), ())


def figures_spoken_of(paper: Paper) -> Spoken:
    """By paragraph. A range such as FIGS. 2A-2C counts with all its members."""
    words = continuous(paper)
    starts = tuple(_starts(words))
    named: list[dict[str, None]] = [{} for _ in starts]
    for one in named_figures([paper]):
        named[bisect_right(starts, one.at) - 1][one.name] = None
    last: tuple[str, ...] = ()
    before = []
    for some in named:
        before.append(() if some else last)
        last = tuple(some) or last
    return Spoken(starts, tuple(tuple(some) for some in named), tuple(before))


def _starts(words: Continuous) -> Iterator[int]:
    if not words.starts:
        return
    boxes = [box for _, box in words.places]
    rights = sorted(box.right for box in boxes)
    left, right = median(box.left for box in boxes), rights[len(rights) * 9 // 10]
    pitches = [b.top - a.top for (p, a), (q, b) in zip(words.places, words.places[1:], strict=False) if p == q]
    pitch = median([one for one in pitches if one > 0] or [0.0])
    yield 0
    for n in range(1, len(boxes)):
        before = words.text[words.starts[n - 1] : words.starts[n]].rstrip()
        ended = re.search(r"[.:;!?\"')\]]$", before) is not None
        short = boxes[n - 1].right < right - SHORT
        indented = boxes[n].left > left + INDENTED
        apart = words.places[n - 1][0] == words.places[n][0] and boxes[n].top - boxes[n - 1].top > APART * pitch
        if (ended and (short or indented or apart)) or (short and apart):
            yield words.starts[n]
