"""What stands on the pages of a form-like paper, typed values of its form fields included, and what stands by what."""

from __future__ import annotations

from collections.abc import Sequence

from preflight.facts import Box, Line, Page
from preflight.papers.model import Paper
from preflight.papers.words.lettering import flat, level, upright
from preflight.papers.words.remembered import remembered

REACH_RIGHT = 9.0
"""A value begins at most so many cm right of its label. House value."""
REACH_BELOW = 1.3
"""A value under its label begins at most so many cm below it. House value."""
CENTRED_FROM = 4.0
"""A label that begins so far (cm) from the left edge may be centred over its cell. House value."""
FIELD_SIZE = 10.0
"""Type size in pt assumed for the value of a form field."""


def lines_on(paper: Paper, page: Page) -> list[Line]:
    """The visible upright lines of a page of the paper from the top down, and the values of its text fields as lines.

    Readers differ in whether they show the value of a field as text too; one that is there already is not doubled.
    """
    return _lines(paper)[page.number]


@remembered
def _lines(paper: Paper) -> dict[int, list[Line]]:
    return {page.number: _printed(paper, page) for page in paper.pages}


def _printed(paper: Paper, page: Page) -> list[Line]:
    visible = [part for line in page.lines if line.visible for part in _by_cell(page, line)]
    values = [
        Line(text=field.value, box=field.box, size=FIELD_SIZE)
        for field in paper.fields
        if field.page == page.number and field.box and field.value and field.kind in ("text", "choice")
    ]
    missing = [value for value in values if not any(_shows(line, value) for line in visible)]
    return upright([*visible, *missing])


def _by_cell(page: Page, line: Line) -> list[Line]:
    """A line cut where lay-out analysis sees several cells side by side: narrow columns look like one line."""
    if line.turned or not page.blocks:
        return [line]
    cells = [
        (block, text)
        for block in sorted(page.blocks, key=lambda b: b.box.left)
        if block.box.touches(line.box) and len(flat(block.lines[0])) < len(flat(line.text))
        for text in (flat(one) for one in block.lines)
        if text and text in flat(line.text)
    ]
    if len(cells) < 2 or "".join(text for _, text in cells).replace(" ", "") != flat(line.text).replace(" ", ""):
        return [line]
    return [
        Line(text, Box(b.box.left, line.box.top, b.box.right, line.box.bottom), line.size, line.turned, line.visible)
        for b, text in cells
    ]


def _shows(line: Line, value: Line) -> bool:
    first = flat(value.text).split(" ")[0] if flat(value.text) else ""
    return line.box.touches(value.box) and bool(first) and first in flat(line.text)


def beside(every: Sequence[Line], label: Line) -> Line | None:
    """The nearest line to the right of a label at the same height."""
    right = [
        line
        for line in every
        if line is not label and level(line, label) and -0.1 <= line.box.left - label.box.right <= REACH_RIGHT
    ]
    return min(right, key=lambda line: line.box.left, default=None)


def below(every: Sequence[Line], label: Line) -> Line | None:
    """The nearest line under a label in the same column: one that begins no further left and overlaps it.

    Under a label that is centred over a wide cell the value may begin at the left of the cell.
    """
    under = [
        line
        for line in every
        if line is not label
        and line.box.middle[1] - label.box.middle[1] > 0
        and line.box.top - label.box.bottom <= REACH_BELOW
        and not level(line, label)
        and line.box.left < max(label.box.right, label.box.left + 3.0)
        and line.box.right > label.box.left - 0.3
        and line.box.left > label.box.left - 1.5
    ]
    if not under and label.box.left > CENTRED_FROM and not beside(every, label):
        under = [line for line in every if 0.0 <= line.box.top - label.box.bottom <= REACH_BELOW]
    return min(under, key=lambda line: (round(line.box.top, 1), abs(line.box.left - label.box.left)), default=None)
