"""The rows of a page, and the numbers in a column beside the text that count its lines."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from preflight.facts import Line, Page
from preflight.papers.words.lettering import Row, flat, level, rows, upright, words
from preflight.papers.words.remembered import remembered

SLACK = 0.12
"""A number may reach into the text by so many cm (anti-aliasing). House value."""
SAME_COLUMN = 0.3
"""Numbers of one column end within so many cm of each other. House value."""
RULED, EVEN = 4, 0.1
"""So many numbers, down the page by steps that differ by less than so many cm, are printed beforehand. House values."""
RISING = 0.6
"""So large a share of the steps down a column rise: lines of header and footer may be counted apart. House value."""


@remembered
def rows_of(page: Page) -> tuple[Row, ...]:
    """All upright rows of a page, shown or not, without the numbers of its lines."""
    numbers = {id(line) for line in line_numbers(page)}
    return tuple(rows(line for line in page.lines if id(line) not in numbers))


def line_numbers(page: Page) -> tuple[Line, ...]:
    """Bare numbers in a column beside the text that rise down the page: they number its lines."""
    lines = upright(line for line in page.lines if line.visible)
    bare = [line for line in lines if re.fullmatch(r"\d{1,3}", flat(line.text))]
    text = [line for line in lines if len(words(line.text)) >= 3]
    if not text or not bare:
        return ()
    left, right = min(line.box.left for line in text), max(line.box.right for line in text)
    beside = [line for line in bare if line.box.right <= left + SLACK or line.box.left >= right - SLACK]
    found: list[Line] = []
    for line in beside:
        column = [other for other in beside if abs(other.box.right - line.box.right) < SAME_COLUMN]
        values = [int(flat(other.text)) for other in column]
        every_fifth = all(value % 5 == 0 for value in values)
        beside_text = any(level(line, other) for other in text) or _is_ruled(column, values)
        if (len(column) >= 3 or every_fifth) and _rises(values) and beside_text:
            found += [other for other in column if other not in found]
    return tuple(found)


def _is_ruled(column: Sequence[Line], values: Sequence[int]) -> bool:
    """Whether numbers and places go down by equal steps, as on paper with printed line numbers."""
    counts = {second - first for first, second in pairwise(values)}
    drops = [second.box.middle[1] - first.box.middle[1] for first, second in pairwise(column)]
    return len(column) >= RULED and len(counts) == 1 and max(drops) - min(drops) < EVEN


def _rises(values: list[int]) -> bool:
    steps = [second >= first for first, second in pairwise(values)]
    return sum(steps) >= RISING * len(steps)
