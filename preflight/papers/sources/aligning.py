"""Which words of one text are those of the other: by runs of words that stand once in each, then between them."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher
from typing import NamedTuple

RUNS = (7, 4, 2, 1)
"""Words in a row that stand once in each text: long ones first, shorter ones between them."""
CLOSE = 400
"""Stretches with fewer words on each side are compared word by word."""


class Stretch(NamedTuple):
    """Words of the first text, from `i` up to `i_end`, against those of the second."""

    i: int
    i_end: int
    j: int
    j_end: int

    @property
    def empty(self) -> bool:
        """Whether nothing differs here."""
        return self.i == self.i_end and self.j == self.j_end


def differing(first: Sequence[str], second: Sequence[str]) -> list[Stretch]:
    """The stretches that differ, in order. Time grows with the length of the texts, not with its square."""
    found: list[Stretch] = []
    for stretch in _apart(first, second, Stretch(0, len(first), 0, len(second)), 0):
        if found and found[-1].i_end == stretch.i and found[-1].j_end == stretch.j:
            found[-1] = Stretch(found[-1].i, stretch.i_end, found[-1].j, stretch.j_end)
        elif not stretch.empty:
            found.append(stretch)
    return found


def _apart(first: Sequence[str], second: Sequence[str], within: Stretch, step: int) -> Iterator[Stretch]:
    within = _trimmed(first, second, within)
    if within.i == within.i_end or within.j == within.j_end:
        yield within
    elif max(within.i_end - within.i, within.j_end - within.j) <= CLOSE:
        yield from _word_by_word(first, second, within)
    elif step == len(RUNS):
        yield within
    else:
        run = RUNS[step]
        i, j = within.i, within.j
        for at, there in _anchors(first, second, within, run):
            if at >= i and there >= j:  # anchors may overlap
                yield from _apart(first, second, Stretch(i, at, j, there), step + 1)
                i, j = at + run, there + run
        yield from _apart(first, second, Stretch(i, within.i_end, j, within.j_end), step + 1)


def _trimmed(first: Sequence[str], second: Sequence[str], within: Stretch) -> Stretch:
    i, i_end, j, j_end = within
    while i < i_end and j < j_end and first[i] == second[j]:
        i, j = i + 1, j + 1
    while i < i_end and j < j_end and first[i_end - 1] == second[j_end - 1]:
        i_end, j_end = i_end - 1, j_end - 1
    return Stretch(i, i_end, j, j_end)


def _word_by_word(first: Sequence[str], second: Sequence[str], within: Stretch) -> Iterator[Stretch]:
    i, i_end, j, j_end = within
    matcher = SequenceMatcher(None, first[i:i_end], second[j:j_end], autojunk=False)
    for tag, a, a_end, b, b_end in matcher.get_opcodes():
        if tag != "equal":
            yield Stretch(i + a, i + a_end, j + b, j + b_end)


def _anchors(first: Sequence[str], second: Sequence[str], within: Stretch, run: int) -> list[tuple[int, int]]:
    """Places of runs that stand once in each stretch, rising in both: the longest such row of them."""
    here = _once(first, within.i, within.i_end, run)
    there = _once(second, within.j, within.j_end, run)
    pairs = [(at, there[words]) for words, at in here.items() if words in there]
    return _longest_rising(sorted(pairs))


def _once(words: Sequence[str], start: int, end: int, run: int) -> dict[tuple[str, ...], int]:
    found: dict[tuple[str, ...], int] = {}
    twice: set[tuple[str, ...]] = set()
    for at in range(start, end - run + 1):
        some = tuple(words[at : at + run])
        if some in found:
            twice.add(some)
        found[some] = at
    return {some: at for some, at in found.items() if some not in twice}


def _longest_rising(pairs: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    lasts: list[int] = []
    ends: list[int] = []
    before: list[int] = []
    for number, (_, there) in enumerate(pairs):
        at = bisect_left(lasts, there)
        if at == len(lasts):
            lasts.append(there)
            ends.append(number)
        else:
            lasts[at], ends[at] = there, number
        before.append(ends[at - 1] if at else -1)
    chain: list[tuple[int, int]] = []
    number = ends[-1] if ends else -1
    while number >= 0:
        chain.append(pairs[number])
        number = before[number]
    return chain[::-1]
