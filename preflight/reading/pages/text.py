"""Characters become lines: what stands together on one base line, with its effective size and direction.

Lines are found by place, not by the order of painting: word processors paint a line in pieces.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from statistics import median_low
from typing import NamedTuple

from preflight.facts import PT_PER_CM, Box, Line, Tint
from preflight.reading.pages.glyphs import Display, Glyph, Trust
from preflight.reading.pages.pdfium import BLACK, Character, Colour, hexadecimal
from preflight.reading.sheet import Affine, Sheet, rounded

NOT_PAINTED = "not painted"
LONGEST_TINT = 80
LONGEST_OUTSIDE = 200
"""Characters kept of what lies outside the page."""
GAP = 2.5
"""A gap wider than so many type sizes ends a line."""
NUMBER_GAP = 0.9
"""After a bare number at the beginning already a smaller one: line numbers stand close before their lines."""

MOST = 2000
"""Lines of one page: a page of text has 60, one of columns of figures 500. What understands pages compares lines."""
TOO_MANY = f"this page has more than {MOST} lines of characters, more than this program reads"

_SAME_BASE = 0.3
_SAME_ROW = 0.45
"""Superscripts are raised by about a third of the type size, lines are a whole one apart."""
_SMALL, _SMALL_ROW = 0.9, 0.55
"""What is so much smaller may be raised or lowered by half of the type size."""
_BACK = 0.5
_WORD_GAP = 0.2
"""The blank of a serif typeface is a quarter of the type size wide; some programs leave it out and move on."""
_JOIN_GAP = 0.15
_TWICE = 0.2
_TALL, _SHORT = 1.1, 0.25
"""Letters are half to three quarters of the type size high: else a font's own matrix is not the usual one."""
_LETTER = 0.6
_LEVEL = 5
"""A scan put straight is off by a degree or two; a watermark runs aslant by thirty and more."""
_ENOUGH = 3
_DIGITS = 3
_LOOK_BACK = 8
_DOUBLED = "ft"
_TELLING = 5
"""So many different characters of one width are those of a monospaced typeface."""
_SAME_WIDTH = 0.02
_SOFT_HYPHEN = "\u00ad"


Edges = tuple[float, float, float, float]


class Words(NamedTuple):
    """The characters of a page as lines; `trouble` says why they cannot be trusted."""

    lines: tuple[Line, ...]
    letters: tuple[Edges, ...]
    """The ink of each visible letter and digit: left, top, right, bottom in cm."""
    outside: str
    trouble: str | None


def find_lines(characters: Iterable[Character], to_display: Affine, sheet: Sheet) -> Words:
    """The lines on the page as displayed, top to bottom, what lies outside, and why they cannot be trusted, if so."""
    runs: dict[tuple[int, bool], list[_Run]] = {}
    trust, display = Trust(), Display(to_display, sheet)
    current: _Run | None = None
    group: tuple[int, bool] | None = None
    outside: list[str] = []
    letters: list[Edges] = []
    for character in characters:
        trust.hear(character)
        if character.text.isspace():
            outside += [" "] if outside else []
            if current is not None:
                current.spaced = True
            continue
        glyph = display.glyph(character)
        if glyph is None:
            outside += [character.text] if character.known else []
            continue
        if glyph.visible and glyph.text.isalnum():
            letters.append(glyph.box)
        own = glyph.angle, not glyph.visible
        if current is not None and group == own and current.takes(glyph):
            current.add(glyph)
        else:
            current, group = _Run(glyph), own
            runs.setdefault(own, []).append(current)
    lines = [_line(run, angle, not hidden) for (angle, hidden), some in sorted(runs.items()) for run in _rows(some)]
    found = tuple(line for line in lines if line is not None)
    if len(found) > MOST:
        return Words((), (), "", TOO_MANY)
    words = " ".join("".join(outside).split())[:LONGEST_OUTSIDE]
    return Words(found, tuple(letters), words, trust.trouble())


class _Run:
    """Glyphs one after the other on one base line; None among them is a space."""

    __slots__ = ("base", "end", "glyphs", "size", "spaced", "start")

    def __init__(self, glyph: Glyph) -> None:
        self.glyphs: list[Glyph | None] = [glyph]
        self.start, self.end, self.base, self.size = glyph.start, glyph.end, glyph.base, glyph.size
        self.spaced = False

    @property
    def text(self) -> str:
        parts = [" " if glyph is None else glyph.text for glyph in self.glyphs]
        last = "-" if parts[-1] == _SOFT_HYPHEN else parts[-1]
        return "".join([part for part in parts[:-1] if part != _SOFT_HYPHEN] + [last])

    @property
    def reach(self) -> float:
        """The widest gap within a line, in type sizes."""
        number = len(self.glyphs) <= _DIGITS and all(g is not None and g.text.isdigit() for g in self.glyphs)
        return NUMBER_GAP if number else GAP

    def takes(self, glyph: Glyph) -> bool:
        """Whether the glyph goes on with this run."""
        if self._completes(glyph):
            return True
        size = max(self.size, glyph.size)
        near = abs(glyph.base - self.base) <= _SAME_BASE * min(self.size, glyph.size)
        return near and -_BACK * size <= glyph.start - self.end <= self.reach * size

    def add(self, glyph: Glyph) -> None:
        """Put the glyph at the end, after a space if there is one or room for one."""
        if not self._completes(glyph) and (self.spaced or glyph.start - self.end > _WORD_GAP * self.size):
            self.glyphs.append(None)
        self.spaced = False
        self.glyphs.append(glyph)
        self.end, self.size = max(self.end, glyph.end), max(self.size, glyph.size)

    def join(self, other: _Run) -> None:
        """Put a whole run at the end."""
        if self.spaced or other.start - self.end > _JOIN_GAP * max(self.size, other.size):
            self.glyphs.append(None)
        self.glyphs += other.glyphs
        self.spaced = other.spaced
        self.end, self.size = max(self.end, other.end), max(self.size, other.size)

    def near(self, other: _Run) -> bool:
        """Whether the other one follows without a wide gap."""
        size = max(self.size, other.size)
        return -_BACK * size <= other.start - self.end <= self.reach * size

    def repeats(self, other: _Run) -> bool:
        """Whether the other one is the same again in the same place: bold by painting twice."""
        return abs(self.start - other.start) <= _TWICE * self.size and self.text == other.text

    def _completes(self, glyph: Glyph) -> bool:
        """Whether the glyph is a further letter of a ligature: PDFium gives all of them one place.

        The same letter at the same place is painted twice to look bold, unless it is one that ligatures double.
        """
        last = self.glyphs[-1]
        if last is None or last.cell != glyph.cell:
            return False
        return last.text != glyph.text or glyph.text in _DOUBLED


def _rows(runs: list[_Run]) -> list[_Run]:
    """Runs of one direction, those of one base line put together, row by row."""
    rows: list[list[_Run]] = []
    leader: _Run | None = None
    for run in sorted(runs, key=lambda r: (r.base, r.start)):
        if leader is not None and _of_one_row(leader, run):
            rows[-1].append(run)
            leader = run if run.size > leader.size else leader
        else:
            rows.append([run])
            leader = run
    return [run for row in rows for run in _across(sorted(row, key=lambda r: (r.start, r.base)))]


def _of_one_row(leader: _Run, run: _Run) -> bool:
    small, large = sorted((leader.size, run.size))
    return run.base - leader.base <= (_SMALL_ROW if small <= _SMALL * large else _SAME_ROW) * large


def _across(row: list[_Run]) -> list[_Run]:
    """Neighbours of one row put together where the gap is small."""
    done: list[_Run] = []
    for run in row:
        last = done[-_LOOK_BACK:]
        if any(other.repeats(run) for other in last):
            continue
        before = next((other for other in reversed(last) if other.near(run)), None)
        if before is None:
            done.append(run)
        else:
            before.join(run)
    return done


def _line(run: _Run, angle: int, visible: bool) -> Line | None:
    glyphs = [glyph for glyph in run.glyphs if glyph is not None]
    text = run.text
    if not text.strip():
        return None
    box = _around([g.box for g in glyphs])
    size = median_low([g.size for g in glyphs])
    if angle % 90 == 0:
        low, high = (1, 3) if angle % 180 == 0 else (0, 2)
        size = _plausible(size, [g.box[high] - g.box[low] for g in glyphs if g.text.isalnum()])
    return Line(
        text,
        box,
        round(size * PT_PER_CM, 2),
        turned=round(angle / 90) % 4 * 90,
        visible=visible,
        hidden="" if visible else NOT_PAINTED,
        base=round(run.base, 4) if angle == 0 else None,
        oblique=angle % 90 > _LEVEL and angle % 90 < 90 - _LEVEL,
        height=_tallest(glyphs, angle),
        tints=_tints(run.glyphs),
        advance=_advance(glyphs) if angle == 0 else None,
    )


def _advance(glyphs: Sequence[Glyph]) -> float | None:
    """The width of the characters where all have the same."""
    if len({glyph.text for glyph in glyphs}) < _TELLING:
        return None
    widths = [glyph.end - glyph.start for glyph in glyphs]
    least, most = min(widths), max(widths)
    return round(most, 4) if most - least <= _SAME_WIDTH * most else None


def _tallest(glyphs: Sequence[Glyph], angle: int) -> float | None:
    """The height across the line of its tallest letter or digit, as far as its box does not tell it."""
    if angle % 90 == 0:
        return None
    low, high = (1, 3) if round(angle / 90) % 2 == 0 else (0, 2)
    return round(max((g.box[high] - g.box[low] for g in glyphs if g.text.isalnum()), default=0.0), 4) or None


def _tints(glyphs: Sequence[Glyph | None]) -> tuple[Tint, ...]:
    """The colours other than black, the commonest first."""
    counts = Counter(g.colour for g in glyphs if g is not None and g.colour != BLACK and g.visible)
    return tuple(_tint(colour, number, glyphs) for colour, number in counts.most_common())


def _tint(colour: Colour, number: int, glyphs: Sequence[Glyph | None]) -> Tint:
    """The glyphs of a colour; words in between are left out."""
    own = [glyph for glyph in glyphs if glyph is not None and glyph.colour == colour]
    marked = "".join(" " if glyph is None or glyph.colour != colour else glyph.text for glyph in glyphs)
    words = " ".join(marked.split())[:LONGEST_TINT]
    return Tint(hexadecimal(colour), number, _around([glyph.cell for glyph in own]), words)


def _around(edges: Sequence[tuple[float, float, float, float]]) -> Box:
    left, top, right, bottom = zip(*edges, strict=True)
    return rounded(min(left), min(top), max(right), max(bottom))


def _plausible(size: float, heights: list[float]) -> float:
    """The type size, or what the height of letters and digits says if they cannot have that size."""
    if len(heights) < _ENOUGH:
        return size
    height = median_low(heights)
    return size if _SHORT * size <= height <= _TALL * size else height / _LETTER
