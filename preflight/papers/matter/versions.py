"""Papers that are probably two versions of one: much the same words, but not the same paper."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from itertools import combinations, pairwise

import msgspec

from preflight.facts import Box, Page
from preflight.papers.model import Paper
from preflight.papers.words.lettering import flat

ALIKE = 0.6
"""Two papers that share so large a part of their word pairs are versions of one. House value."""
LEAST_WORDS = 20
"""Fewer words than this prove nothing. House value."""
ONE_OF_EACH = ("specification", "claims", "abstract", "drawings", "cover-sheet", "application-data-sheet", "letter")
"""A filing holds one paper of each. Certifications and the like come once an inventor, alike by right."""

SAME_MARK = 0.1
"""Clusters of ink at one place of two sheets differ by at most so many cm. House value."""
LEAST_MARKS = 4
"""Sheets with fewer clusters prove nothing unless they are the same to the pixel. House value."""

_TOKEN = re.compile(r"[^\W_]+(?:['\-][^\W_]+)*")


class Twins(msgspec.Struct, frozen=True):
    """Two papers of one role with much the same content; `alike` is the share that they have in common: of their word
    pairs, or for drawings of their clusters of ink.
    """

    first: Paper
    second: Paper
    alike: float


def text_of(paper: Paper) -> str:
    """The visible words of a paper, line by line from the top down; empty if none can be read."""
    pages = (
        "\n".join(
            flat(line.text) for line in sorted(page.lines, key=lambda ln: (ln.box.top, ln.box.left)) if line.visible
        )
        for page in paper.pages
    )
    return "\n".join(text for text in pages if text)


def similarity(first: Paper, second: Paper) -> float:
    """From 0 to 1: twice the word pairs in common over all word pairs. 0 if either has too few words to tell.

    Of drawings in two files: how alike each sheet of the shorter is to the sheet of the other that is most like it.
    """
    if first.kind == "drawing" and first.file != second.file:
        return _sheets_alike(first.pages, second.pages)
    one, two = _pairs(first), _pairs(second)
    if min(one.total(), two.total()) < LEAST_WORDS:
        return 0.0
    return 2 * (one & two).total() / (one.total() + two.total())


def _sheets_alike(first: Sequence[Page], second: Sequence[Page]) -> float:
    fewer, more = sorted((first, second), key=len)
    return sum(max(_sheet_alike(a, b) for b in more) for a in fewer) / len(fewer)


def _sheet_alike(first: Page, second: Page) -> float:
    """The share of clusters of ink of the one that stand at the same place of the other."""
    if first.digest and first.digest == second.digest and first.ink:
        return 1.0
    if min(len(first.marks), len(second.marks)) < LEAST_MARKS:
        return 0.0
    same = sum(any(_same_mark(mark, other) for other in second.marks) for mark in first.marks)
    return same / max(len(first.marks), len(second.marks))


def _same_mark(mark: Box, other: Box) -> bool:
    sides = (mark.left - other.left, mark.top - other.top, mark.right - other.right, mark.bottom - other.bottom)
    return all(abs(side) <= SAME_MARK for side in sides)


def _pairs(paper: Paper) -> Counter[tuple[str, str]]:
    tokens = _TOKEN.findall(text_of(paper).casefold())
    return Counter(pairwise(tokens))


def near_twins(papers: Sequence[Paper]) -> tuple[Twins, ...]:
    """Pairs of papers of the same role that look like two versions of one. Files equal byte for byte are left out."""
    found = []
    for first, second in combinations(papers, 2):
        same_bytes = first.file != second.file and first.sha256 == second.sha256
        if first.role != second.role or first.role not in ONE_OF_EACH or same_bytes:
            continue
        alike = similarity(first, second)
        if alike >= ALIKE:
            found.append(Twins(first, second, alike))
    return tuple(found)
