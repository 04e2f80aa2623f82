"""What on a page is body, and what only runs along with it: headers, footers, page and line numbers."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise

import msgspec

from preflight.facts import CM_PER_PT, Box, Line, Page
from preflight.papers.model import Paper, text_unread
from preflight.papers.pages.dockets import is_docket_label, unlabelled_tokens
from preflight.papers.pages.dust import without_dust
from preflight.papers.pages.page_numbers import PageNumber, page_numbers
from preflight.papers.words.headings import EDGE, PARAGRAPH_NUMBER, without_numbers
from preflight.papers.words.lettering import Row, flat, rows, upright, words
from preflight.papers.words.remembered import remembered
from preflight.papers.words.rows import line_numbers

ZONE = 3.2
"""Headers and footers stand within so many cm of the upper and lower edge. House value."""
LABEL_WORDS = 8
"""A line with the label of a docket number and at most so many words is no body, however close. House value."""
FEW = 2
"""On so many pages of another paper the same words show that they run along. House value."""
SHORT_WORDS = 14
"""A header or footer has at most so many words. House value."""
SAME_HEIGHT = 0.3
"""A header keeps its height from page to page within so many cm. House value."""
APART = 1.1
"""A header stands at least so many of its own type sizes away from the body. House value."""
WELL_APART = 2.5
"""... and so many where nothing else tells it: more than lines set double. House value."""
LONE_WIDTH, LONE_HEIGHT, LONE_GAP = 6.0, 0.8, 0.6
"""On a scan: a cluster no wider, no higher than this (cm), so far from the rest, runs along. House values."""
SLACK = 0.12
"""Ink may stick out of the box of its line by so many cm (anti-aliasing, clusters). House value."""

LEAST_NUMBERS, MOST_STEP = 3, 10
"""Line numbers: at least so many on a page, evenly rising, each so many lines at most. House values."""

_NUMBERED_LINE = re.compile(r"^\d{1,3}\s+\S")
_DOCKET_WORDS = re.compile(r"\b(?:docket|attorney|our ref|matter no|file no|confidential|patent application)\b", re.I)


def body(page: Page, paper: Paper) -> Box | None:
    """The ink of a page without page number, header, footer, docket number and line numbers in the margin.

    None for a page that is blank apart from those, or that could not be drawn. On a page without
    visible text only a single short cluster apart from the rest near an edge is left out.
    """
    if page.ink is None:
        return None
    lines = [line for line in page.lines if line.visible]
    if not lines or text_unread(page):
        return _scan_body(page)
    left_out = running_lines(page, paper)
    if not page.marks:
        return Box.around(line.box for line in lines if line not in left_out) if left_out else page.ink
    kept = (_remains(mark, left_out, lines) for mark in page.marks)
    return Box.around(_beside_numbers(page, paper, [box for box in kept if box is not None]))


def _beside_numbers(page: Page, paper: Paper, kept: list[Box]) -> list[Box]:
    """The boxes without what lies in the column of line numbers, where those run into the lines of text."""
    edge = numbered_from(page, least=1 if _numbers_its_lines(paper) else LEAST_NUMBERS)
    if edge is None:
        return kept
    right = [box for box in kept if box.right > edge]
    return [Box(max(box.left, edge), box.top, box.right, box.bottom) for box in right]


@remembered
def _numbers_its_lines(paper: Paper) -> bool:
    return any(numbered_from(page) is not None for page in paper.pages)


def numbered_from(page: Page, least: int = LEAST_NUMBERS) -> float | None:
    """Where the text begins if line numbers stand so close before it that they are read as part of its lines."""
    text = [line for line in upright(line for line in page.lines if line.visible) if len(words(line.text)) >= 3]
    numbered = [line for line in text if _NUMBERED_LINE.match(flat(line.text))]
    plain = [line.box.left for line in text if line not in numbered]
    values = [int(flat(line.text).split()[0]) for line in numbered]
    steps = {second - first for first, second in pairwise(values)}
    every_fifth = all(value % 5 == 0 for value in values)  # few lines on the page: one number may stand alone
    if (
        len(numbered) < (1 if every_fifth else least)
        or not plain
        or len(steps) > 1
        or not all(0 < step <= MOST_STEP for step in steps)
    ):
        return None
    edge = min(plain)
    return edge if all(line.box.left < edge - SLACK for line in numbered) else None


def running_lines(page: Page, paper: Paper) -> tuple[Line, ...]:
    """The visible lines of a page that are header, footer, page number or line numbers."""
    every = rows(line for line in page.lines if line.visible)
    number = next((one for one in page_numbers(paper) if one.page == page.number), None)
    found: list[Line] = []
    for at in range(len(every)):
        if _runs_along(page, paper, every, at, number):
            found += [line for other in _outside(page, every, at) for line in other.lines]
    found += line_numbers(page)
    found += [line for line in page.lines if line.visible and line.turned and _in_margin(page, line)]
    return tuple(found)


class RunningText(msgspec.Struct, frozen=True):
    """What one page says in its header and in its footer, page number included; empty where it says nothing.

    From left to right and from the top down, dashes, quotes and white space made plain. `unread` says why the words
    of the page, or those in a picture that covers it, cannot be read; it may still have some, such as a stamp.
    """

    page: int
    header: str = ""
    footer: str = ""
    header_box: Box | None = None
    footer_box: Box | None = None
    unread: str | None = None


@remembered
def running_text(paper: Paper) -> tuple[RunningText, ...]:
    """One record a page, in page order.

    What `running_lines` finds without line numbers, upright rows at the very edge, and on a text paper rows near it
    that stand well apart from the body: a paper of one page repeats nothing.
    """
    return tuple(_running_text(page, paper) for page in paper.pages)


def _running_text(page: Page, paper: Paper) -> RunningText:
    every = rows(line for line in page.lines if line.visible)
    numbers = line_numbers(page)
    along = [line for line in running_lines(page, paper) if line not in numbers]
    found = [
        at for at, row in enumerate(every) if any(one in along for one in row.lines) or _set_off(page, paper, every, at)
    ]
    upper = [at for at in found if every[at].box.middle[1] < page.height / 2]
    lower = [at for at in found if at not in upper]
    header = every[: max(upper) + 1] if upper else []
    footer = every[min(lower) :] if lower else []
    return RunningText(
        page=page.number,
        header=" ".join(row.text for row in header),
        footer=" ".join(row.text for row in footer),
        header_box=Box.around(row.box for row in header),
        footer_box=Box.around(row.box for row in footer),
        unread=text_unread(page),
    )


def _set_off(page: Page, paper: Paper, every: Sequence[Row], at: int) -> bool:
    """At the very edge, or near it with more white towards the body than lines of text have between them."""
    box = every[at].box
    if box.bottom < EDGE or box.top > page.height - EDGE:
        return True
    if paper.kind != "text" or not _in_zone(page, box):
        return False
    upper = box.middle[1] < page.height / 2
    inner = every[at + 1 : at + 2] if upper else every[max(0, at - 1) : at]
    gaps = [max(other.box.top - box.bottom, box.top - other.box.bottom) for other in inner]
    return min(gaps, default=0.0) > WELL_APART * max(line.size for line in every[at].lines) * CM_PER_PT


def _outside(page: Page, every: Sequence[Row], at: int) -> Sequence[Row]:
    """A running row with the short rows between it and the edge of the page: they run along as well."""
    upper = every[at].box.middle[1] < page.height / 2
    beyond = every[: at + 1] if upper else every[at:]
    return [row for row in beyond if len(words(row.text)) <= SHORT_WORDS]


def _in_margin(page: Page, line: Line) -> bool:
    """Turned text at the very edge (a stamp, a running docket) is no body text."""
    return line.box.right < EDGE or line.box.left > page.width - EDGE


def _runs_along(page: Page, paper: Paper, every: Sequence[Row], at: int, number: PageNumber | None) -> bool:
    row = every[at]
    if not _in_zone(page, row.box) or len(words(row.text)) > SHORT_WORDS:
        return False
    if number is not None and number.box is not None and _holds(row, number.box):
        return not _prose_row(every, at)
    if _repeated(page, paper, row):
        return True
    if is_docket_label(row.text) and len(words(row.text)) <= LABEL_WORDS:
        return True
    plain = any(_DOCKET_WORDS.search(line.text) or unlabelled_tokens(flat(line.text)) for line in row.lines)
    return plain and _stands_apart(page, every, at)


def _holds(row: Row, box: Box) -> bool:
    return row.box.top - 0.05 <= box.middle[1] <= row.box.bottom + 0.05 and row.box.touches(box)


def _in_zone(page: Page, box: Box) -> bool:
    return box.bottom <= ZONE or box.top >= page.height - ZONE


def _prose_row(every: Sequence[Row], at: int) -> bool:
    """A full row set as close to its neighbour as running text is: a number at its end is no page number."""
    row = every[at]
    gaps = [
        abs(other.box.middle[1] - row.box.middle[1]) for other in every[max(0, at - 1) : at + 2] if other is not row
    ]
    size = max(line.size for line in row.lines) * CM_PER_PT
    return len(words(row.text)) > 6 and bool(gaps) and min(gaps) < APART * size


def _repeated(page: Page, paper: Paper, row: Row) -> bool:
    """The same words (numbers apart) at the same height on another page; no numbered paragraph is one.

    On two of another paper: a title over the abstract stands on the first page of the description too.
    """
    said = "" if PARAGRAPH_NUMBER.match(row.text) else without_numbers(row.text)
    if not said:
        return False
    own, *others = (
        sum(
            one is not page and abs(top - row.box.top) < SAME_HEIGHT for one, top in _near_the_edges(each).get(said, ())
        )
        for each in (paper, *paper.around)
    )
    return own > 0 or any(times >= FEW for times in others)


@remembered
def _near_the_edges(paper: Paper) -> dict[str, tuple[tuple[Page, float], ...]]:
    """The words of the rows near the edges, and where each stands: the page, cm from its top."""
    found: dict[str, list[tuple[Page, float]]] = {}
    for page in paper.pages:
        for row in rows(line for line in page.lines if line.visible and _in_zone(page, line.box)):
            found.setdefault(without_numbers(row.text), []).append((page, row.lines[0].box.top))
    return {said: tuple(places) for said, places in found.items()}


def _stands_apart(page: Page, every: Sequence[Row], at: int) -> bool:
    """White of more than a line between a row and the body, or all of it at the edge of the page."""
    row = every[at]
    if row.box.bottom < EDGE or row.box.top > page.height - EDGE:
        return True
    upper = row.box.middle[1] < page.height / 2
    inner = every[at + 1 : at + 2] if upper else every[max(0, at - 1) : at]
    if not inner:
        return True
    gap = inner[0].box.top - row.box.bottom if upper else row.box.top - inner[0].box.bottom
    return gap > APART * max(line.size for line in row.lines) * CM_PER_PT


def _remains(mark: Box, left_out: Iterable[Line], lines: Sequence[Line]) -> Box | None:
    """What is left of a cluster of ink without the lines that run along; None if that is nothing."""
    out = [line for line in left_out if line.box.touches(mark)]
    if not out:
        return mark
    kept = [line for line in lines if line not in out and line.box.touches(mark) and line.box.middle[1] <= mark.bottom]
    covered = Box.around(line.box.grown(SLACK) for line in out)
    if covered is None or _within(mark, covered):
        return None
    if kept:
        around = Box.around(line.box for line in kept)
        return around and _cut(mark, around, out)
    return mark


def _within(inner: Box, outer: Box) -> bool:
    return (
        outer.left <= inner.left
        and outer.top <= inner.top
        and inner.right <= outer.right
        and inner.bottom <= outer.bottom
    )


def _cut(mark: Box, kept: Box, out: Sequence[Line]) -> Box:
    """A cluster cut off on each side where only lines that run along reach beyond the kept ones."""
    gone = Box.around(line.box for line in out) or mark
    return Box(
        kept.left if gone.left <= mark.left + SLACK and kept.left > mark.left + SLACK else mark.left,
        kept.top if gone.top <= mark.top + SLACK and kept.top > mark.top + SLACK else mark.top,
        kept.right if gone.right >= mark.right - SLACK and kept.right < mark.right - SLACK else mark.right,
        kept.bottom if gone.bottom >= mark.bottom - SLACK and kept.bottom < mark.bottom - SLACK else mark.bottom,
    )


def _scan_body(page: Page) -> Box | None:
    """The ink of a scan without a lone short cluster at its upper and one at its lower edge."""
    marks = list(without_dust(page))
    if not marks:
        return page.ink
    for upper in (True, False):
        lone = _lone(page, marks, upper=upper)
        if lone is not None and len(marks) > 1:
            marks.remove(lone)
    return Box.around(marks)


def _lone(page: Page, marks: Sequence[Box], *, upper: bool) -> Box | None:
    outer = min(marks, key=lambda m: m.top) if upper else max(marks, key=lambda m: m.bottom)
    rest = [mark for mark in marks if mark is not outer]
    if not rest or not _in_zone(page, outer) or outer.width > LONE_WIDTH or outer.height > LONE_HEIGHT:
        return None
    gap = min(m.top for m in rest) - outer.bottom if upper else outer.top - max(m.bottom for m in rest)
    return outer if gap > LONE_GAP else None
