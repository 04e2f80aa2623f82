"""How a page of text is set: direction, size of type, spacing of lines, columns, tables."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from statistics import median

import msgspec

from preflight.facts import PT_PER_CM, Box, Line, Page
from preflight.papers.model import Paper
from preflight.papers.pages.running import running_lines
from preflight.papers.words.lettering import PROSE_LINE_WORDS, PROSE_WIDTH, level, rows, words
from preflight.papers.words.remembered import remembered

LETTERS = 20
"""So many letters show in which direction a page is set; fewer may be a stamp. House value."""
MAINLY = 0.6
"""A page is set in one direction if so large a share of its letters is. House value."""
TYPE_WORDS = 4
"""A line of so many words shows the size of its text; shorter ones may be marks of footnotes. House value."""
PARAGRAPH_LINES = 4
"""A paragraph shows its spacing from so many lines on. House value."""
STEADY = 0.08
"""Lines of one paragraph are apart by the same to this share. House value."""
FAR = 3.5
"""Lines further apart than so many sizes belong to different paragraphs. House value."""
INDENT = 2.0
"""Lines of a paragraph begin within so many cm of each other: its first may be indented. House value."""
CELL_WORDS = 5.0
"""The cells of a table hold fewer words than this on average. House value."""
GUTTER = 0.4
"""At least so many cm of white stand between two columns of text. House value."""
FULL = 0.75
"""The lines of a column reach over so large a share of its width, most of them. House value."""
ALIKE = 0.6
"""Two columns of text are of much the same width. House value."""
COLUMN_LINES = 8
"""Each has at least so many lines. House value."""
EVEN = 0.9
"""Two columns run side by side in so large a share of the rows; the cells of a chart end at different heights. House
value."""
COLUMN_SHARE = 0.5
"""... and they stand side by side over this share of the height of the page. House value."""


class Spacing(msgspec.Struct, frozen=True):
    """The pitch of the lines of a page's paragraphs over their size of type, and where they stand."""

    page: int
    ratio: float
    box: Box


@remembered
def body_lines(paper: Paper) -> dict[int, tuple[Line, ...]]:
    """By page: the visible upright lines apart from header, footer, page and line numbers."""
    return {page.number: tuple(_body(page, paper)) for page in paper.pages}


@remembered
def lines_to_read(paper: Paper) -> dict[int, tuple[Line, ...]]:
    """The same in the order of reading, also of pages that stand on their side or on their head."""
    return {page.number: _in_order(page, paper) for page in paper.pages}


def _in_order(page: Page, paper: Paper) -> tuple[Line, ...]:
    turned = direction(page) or 0
    lines = [ln for ln in page.lines if ln.visible and ln.turned == turned] if turned else _body(page, paper)
    return tuple(sorted(lines, key=lambda line: _down_and_across(line, turned)))


def _down_and_across(line: Line, turned: int) -> tuple[float, float]:
    across, down = line.box.middle
    return {
        90: (round(-across, 1), line.box.top),
        180: (round(-down, 1), -line.box.right),
        270: (round(across, 1), -line.box.bottom),
    }.get(turned, (round(down, 1), line.box.left))


def _body(page: Page, paper: Paper) -> list[Line]:
    along = running_lines(page, paper)
    return [ln for ln in page.lines if ln.visible and not ln.turned and not ln.oblique and ln not in along]


def direction(page: Page) -> int | None:
    """The direction of most of the text, degrees clockwise as displayed; None if there is too little to tell."""
    letters: Counter[int] = Counter()
    for line in page.lines:
        if line.visible and not line.oblique:
            letters[line.turned] += sum(character.isalpha() for character in line.text)
    if letters.total() < LETTERS:
        return None
    turned, number = letters.most_common(1)[0]
    return turned if number >= MAINLY * letters.total() else None


def is_tabular(lines: Iterable[Line]) -> bool:
    """Whether most rows are cut into short cells, as in a table; turned lines count as they would stand upright."""
    every = rows(msgspec.structs.replace(line, turned=0, box=_upright(line)) for line in lines)
    cells = [row.lines for row in every if len(row.lines) > 1]
    counts = [len(words(line.text)) for row in cells for line in row]
    return bool(every) and len(cells) >= len(every) / 2 and sum(counts) < CELL_WORDS * len(counts)


def _upright(line: Line) -> Box:
    """A place that orders turned lines as reading does: along the line to the right, across it downwards."""
    box = line.box
    return {
        90: Box(box.top, -box.right, box.bottom, -box.left),
        180: Box(-box.right, -box.bottom, -box.left, -box.top),
        270: Box(-box.bottom, box.left, -box.top, box.right),
    }.get(line.turned, box)


def smallest_type(lines: Iterable[Line]) -> Line | None:
    """The line of running text with the smallest type."""
    telling = (line for line in lines if len(words(line.text)) >= TYPE_WORDS)
    return min(telling, key=lambda line: line.size, default=None)


def spacings(paper: Paper) -> tuple[Spacing, ...]:
    """The spacing of each page that has a paragraph of running text with enough lines."""
    found = []
    for page in paper.pages:
        blocks = list(_paragraphs(body_lines(paper)[page.number]))
        ratios = [pitch for _, ratio in blocks for pitch in ratio]
        box = Box.around(line.box for lines, _ in blocks for line in lines)
        if ratios and box:
            found.append(Spacing(page.number, median(ratios), box))
    return tuple(found)


def _paragraphs(lines: Sequence[Line]) -> Iterator[tuple[list[Line], list[float]]]:
    """Lines that follow each other at one pitch, and their pitches in sizes of type."""
    prose = sorted((ln for ln in lines if _is_prose(ln)), key=lambda ln: ln.base or 0.0)
    run: list[Line] = []
    pitches: list[float] = []
    for above, line in pairwise(prose):
        pitch = ((line.base or 0.0) - (above.base or 0.0)) * PT_PER_CM / line.size
        steady = not pitches or abs(pitch - pitches[-1]) <= STEADY * pitches[-1]
        if _goes_on(above, line, pitch) and steady:
            run, pitches = run or [above], [*pitches, pitch]
            run.append(line)
            continue
        if len(run) >= PARAGRAPH_LINES:
            yield run, pitches
        run, pitches = [], []
    if len(run) >= PARAGRAPH_LINES:
        yield run, pitches


def _is_prose(line: Line) -> bool:
    return line.base is not None and line.box.width >= PROSE_WIDTH and len(words(line.text)) >= PROSE_LINE_WORDS


def _goes_on(above: Line, line: Line, pitch: float) -> bool:
    return 0 < pitch < FAR and abs(above.size - line.size) < 0.6 and abs(above.box.left - line.box.left) < INDENT


def two_columns(page: Page, lines: Sequence[Line]) -> tuple[Box, Box] | None:
    """Two columns of running text side by side over much of the page, or None. Cells of a table are not full."""
    every = rows(lines)
    pairs = [pair for row in every for pair in pairwise(row.lines) if _faces(*pair)]
    left, right = [pair[0] for pair in pairs], [pair[1] for pair in pairs]
    first, second = Box.around(line.box for line in left), Box.around(line.box for line in right)
    if first is None or second is None or len(pairs) < COLUMN_LINES:
        return None
    apart = second.left - first.right >= GUTTER
    high = min(first.height, second.height) > COLUMN_SHARE * page.height
    alike = min(first.width, second.width) >= ALIKE * max(first.width, second.width)
    full = all(_full(column, box) for column, box in ((left, first), (right, second)))
    between = [row for row in every if row.box.top >= first.top - 0.1 and row.box.bottom <= first.bottom + 0.1]
    even = len(pairs) >= EVEN * len(between)
    return (first, second) if apart and high and alike and full and even else None


def _faces(left: Line, right: Line) -> bool:
    return level(left, right) and right.box.left - left.box.right >= GUTTER


def _full(column: Sequence[Line], box: Box) -> bool:
    """Whether most lines fill the column with words."""
    full = [ln for ln in column if ln.box.width >= FULL * box.width and len(words(ln.text)) >= 3]
    return len(full) >= FULL * len(column)
