"""Paragraphs as their parts are heard; one may stand within another (a text box, a note)."""

from __future__ import annotations

from preflight.facts.sources import Prose
from preflight.reading.written.packed import Unreadable

MOST_TEXT = 12_000_000
"""Characters: 2,000 dense pages have 8 million."""


class _Open:
    """A paragraph that has begun."""

    def __init__(self, *, aside: bool, cell: bool) -> None:
        self.pieces: list[str] = []
        self.length = 0
        self.computed: list[tuple[int, int]] = []
        self.aside = aside
        self.cell = cell


class Collector:
    """Gathers paragraphs in the order in which they end."""

    def __init__(self) -> None:
        self.body: list[Prose] = []
        self.aside: list[Prose] = []
        self._open: list[_Open] = []
        self._length = 0

    @property
    def within(self) -> bool:
        """Whether a paragraph is open."""
        return bool(self._open)

    def begin(self, *, aside: bool, cell: bool) -> None:
        """A paragraph begins."""
        self._open.append(_Open(aside=aside, cell=cell))

    def add(self, text: str, *, computed: bool = False) -> None:
        """Characters of the innermost paragraph. Computed ones may be none: something stands there."""
        if not self._open:
            return
        now = self._open[-1]
        if computed:
            now.computed.append((now.length, now.length + len(text)))
        now.pieces.append(text)
        now.length += len(text)
        self._length += len(text)
        if self._length > MOST_TEXT:
            raise Unreadable("it holds more text than this program reads")

    def finish(self) -> None:
        """The innermost paragraph ends; empty ones are left out."""
        if not self._open:
            return
        now = self._open.pop()
        text = "".join(now.pieces)
        if text.strip() or now.computed:
            kept = self.aside if now.aside else self.body
            kept.append(Prose(text, _joined(now.computed), cell=now.cell))


def _joined(spans: list[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    found: list[tuple[int, int]] = []
    for start, end in spans:
        if found and found[-1][1] == start:
            found[-1] = found[-1][0], end
        else:
            found.append((start, end))
    return tuple(found)
