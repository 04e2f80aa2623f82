"""Where the words of papers differ from those of the word processor's file, apart from what exporting itself changes.

Exporting adds automatic numbers, headers and footers, moves notes and the cells of tables, divides words, draws
formulas and works out fields. None of that is a difference of the text.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

import msgspec

from preflight.facts import Source
from preflight.papers.sources.aligning import Stretch, differing
from preflight.papers.sources.words import Words, said, words_in, words_of
from preflight.papers.specification.passages import Row, Spot

CONTEXT = 4
"""Words shown on each side of a difference."""
MOST_SHOWN = 12
"""Words of a difference that are shown."""
DRAWN = 40
"""What a field, a formula or a picture shows has at most so many words. House value."""
SHUFFLED = 40
"""Letters of a stretch that may merely stand in another order: raised and lowered ones are read apart. House value."""
LABEL = 4
"""Words that a program puts before a paragraph: "Claim 1", "[0012]", "(a)". House value."""

_NUMBER = re.compile(r"\d+[a-z]?|[ivxlc]+|[a-z]")
_FURNITURE = re.compile(r"figs?|figures?|sheets?|pages?|of|\d+[a-z]?")
"""Words of labels of figures and of numbers of sheets: they may stand on the drawings instead."""


class Difference(msgspec.Struct, frozen=True):
    """One paragraph that differs: a few words of both sides round the first difference, and where the paper has it."""

    printed: str
    written: str
    spot: Spot


def differences(source: Source, rows: Sequence[Row], aside: Iterable[str]) -> tuple[Difference, ...]:
    """In the order of the source. `rows` are the bodies of the papers, `aside` all other lines of their files."""
    if not rows:
        return ()
    written, printed = words_of(source.body), words_in(rows)
    compared = _Compared(
        written,
        printed,
        {words for text in (*(prose.text for prose in source.aside), *aside) if (words := said(text))},
    )
    found: dict[int, Difference] = {}
    for stretch in compared.real():
        paragraph = _paragraph(written, stretch)
        if paragraph not in found:
            found[paragraph] = _told(source, rows, written, printed, stretch)
    return tuple(found.values())


class _Compared:
    """The stretches that differ, and why most of them do not matter."""

    def __init__(self, written: Words, printed: Words, aside: set[tuple[str, ...]]) -> None:
        self.written, self.printed, self._aside = written, printed, aside

    def real(self) -> list[Stretch]:
        """What differs indeed."""
        every = [s for s in differing(self.written.words, self.printed.words) if not self._by_export(s)]
        return list(self._without_moved(self._without_tables(every)))

    def _by_export(self, stretch: Stretch) -> bool:
        left = self.written.words[stretch.i : stretch.i_end]
        right = self.printed.words[stretch.j : stretch.j_end]
        if left and right:
            return _same_letters(left, right) or self._worked_out(stretch) or self._bears_a_mark(stretch)
        if right:
            return self._worked_out(stretch) or self._is_label(stretch) or _all_of(right, self._aside)
        return (
            all(self.written.computed[stretch.i : stretch.i_end])
            or all(map(_FURNITURE.fullmatch, left))
            or _all_of(left, self._aside)
        )

    def _bears_a_mark(self, stretch: Stretch) -> bool:
        """Whether the words are the same but for the mark of a note, read as if it belonged to the last of them."""
        left = "".join(self.written.words[stretch.i : stretch.i_end])
        right = "".join(self.printed.words[stretch.j : stretch.j_end])
        return stretch.i_end in self.written.gaps and right.startswith(left) and right[len(left) :].isdecimal()

    def _worked_out(self, stretch: Stretch) -> bool:
        """Whether the program put the words there, and no more of them than it shows at such a place."""
        typed = any(not self.written.computed[at] for at in range(stretch.i, stretch.i_end))
        if typed or stretch.j_end - stretch.j > DRAWN:
            return False
        near = range(max(0, stretch.i - 1), min(len(self.written.words), stretch.i_end + 1))
        return any(self.written.computed[at] for at in near) or bool(
            self.written.gaps & set(range(stretch.i, stretch.i_end + 1))
        )

    def _is_label(self, stretch: Stretch) -> bool:
        """Whether a few words alone are a number before a paragraph, or the number of a page by itself."""
        at, words, printed = stretch.i, self.written.words, self.printed.words
        j, j_end = stretch.j, stretch.j_end
        if j_end - j > LABEL:
            return False
        while at not in self.written.starts and at < len(words) and j_end < len(printed) and printed[j] == words[at]:
            at, j, j_end = at + 1, j + 1, j_end + 1  # "2 [2] A" may as well be "[2] 2 A"
        some = printed[j:j_end]
        whole_rows = j in self.printed.starts and (j_end in self.printed.starts or j_end == len(printed))
        if whole_rows and all(map(_FURNITURE.fullmatch, some)):
            return True
        begins = at in self.written.starts or at == len(words)
        numbers = [_NUMBER.fullmatch(word) is not None for word in some]
        return begins and any(numbers) and numbers.count(False) <= 1

    def _without_tables(self, every: list[Stretch]) -> Iterator[Stretch]:
        """Without tables that hold the same words in another order: cells may be read across or down."""
        held: list[Stretch] = []
        for stretch in [*every, None]:
            if stretch and self._in_table(stretch):
                held.append(stretch)
                continue
            yield from self._changed(held)
            held = []
            if stretch:
                yield stretch

    def _in_table(self, stretch: Stretch) -> bool:
        cells = self.written.cells
        return any(cells[max(0, stretch.i - 1) : stretch.i_end + 1])

    def _changed(self, held: Sequence[Stretch]) -> Iterator[Stretch]:
        """Those of a table with a word that one side has more often than the other."""
        left = Counter(word for s in held for word in self.written.words[s.i : s.i_end])
        right = Counter(word for s in held for word in self.printed.words[s.j : s.j_end])
        odd = (left - right) + (right - left)
        for stretch in held:
            some = (*self.written.words[stretch.i : stretch.i_end], *self.printed.words[stretch.j : stretch.j_end])
            if any(word in odd for word in some):
                yield stretch

    def _without_moved(self, every: Iterable[Stretch]) -> Iterator[Stretch]:
        """Without what stands on both sides, but at another place: nothing of it is missing."""
        some = list(every)
        added = Counter("".join(self.printed.words[s.j : s.j_end]) for s in some if s.i == s.i_end)
        gone = Counter("".join(self.written.words[s.i : s.i_end]) for s in some if s.j == s.j_end)
        for stretch in some:
            text = "".join(self.written.words[stretch.i : stretch.i_end]) or "".join(
                self.printed.words[stretch.j : stretch.j_end]
            )
            one_sided = stretch.i == stretch.i_end or stretch.j == stretch.j_end
            if not (one_sided and len(text) > SHUFFLED and added[text] and added[text] == gone[text]):
                yield stretch


def _same_letters(left: Sequence[str], right: Sequence[str]) -> bool:
    """Whether both sides have the same letters: divided words, or raised and lowered letters that are read apart."""
    one, other = "".join(left), "".join(right)
    if one == other:
        return True
    numbers = all(word.isdecimal() for word in (*left, *right)) and len(left) == len(right)
    return not numbers and len(one) <= SHUFFLED and Counter(one) == Counter(other)


def _all_of(words: Sequence[str], aside: set[tuple[str, ...]]) -> bool:
    """Whether the words, numbers apart, are whole lines of those that stand aside."""
    rest = tuple(word for word in words if not word.isdecimal())
    while rest:
        taken = next((len(line) for line in aside if rest[: len(line)] == line), 0)
        if not taken:
            return False
        rest = rest[taken:]
    return bool(aside) and any(not word.isdecimal() for word in words)


def _paragraph(written: Words, stretch: Stretch) -> int:
    """The paragraph of the source in which it lies, or after which it should."""
    if stretch.i < stretch.i_end:
        return written.shown[stretch.i][0]
    return written.shown[stretch.i - 1][0] if stretch.i else 0


def _told(source: Source, rows: Sequence[Row], written: Words, printed: Words, stretch: Stretch) -> Difference:
    texts = [prose.text for prose in source.body]
    row = printed.shown[min(stretch.j, len(printed.words) - 1)][0]
    return Difference(
        printed=_shown([one.text for one in rows], printed, stretch.j, stretch.j_end),
        written=_shown(texts, written, stretch.i, stretch.i_end),
        spot=rows[row].spot,
    )


def _shown(texts: Sequence[str], words: Words, start: int, end: int) -> str:
    """A few words before, the words themselves as they are spelled, and a few after; "..." where it goes on."""
    first, last = max(0, start - CONTEXT), min(len(words.words), min(end, start + MOST_SHOWN) + CONTEXT)
    if first >= last:
        return ""
    found: list[str] = []
    at = first
    while at < last:
        number, begins, _ = words.shown[at]
        stop = min(last, _end_of(words, at))
        ends = words.shown[stop - 1][2]
        text = texts[number]
        closing = re.match(r"[^\s\w]*", text[ends:])
        found.append(text[begins : ends + (closing.end() if closing else 0)])
        at = stop
    return f"{'... ' if first else ''}{' '.join(' '.join(found).split())}{' ...' if last < len(words.words) else ''}"


def _end_of(words: Words, at: int) -> int:
    """The first word of the next paragraph or row."""
    return bisect_left(words.shown, (words.shown[at][0] + 1, 0, 0), lo=at)
