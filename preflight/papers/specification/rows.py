"""The rows of the text papers in the order of reading, without what only runs along."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from statistics import median

from preflight.facts import Box, Line, Page
from preflight.papers.model import Paper
from preflight.papers.pages.running import numbered_from
from preflight.papers.pages.setting import direction, lines_to_read
from preflight.papers.specification.passages import Row, Spot
from preflight.papers.words.lettering import flat, rows

_LINE_NUMBER = re.compile(r"^\d{1,3}\s+")


def written(papers: Iterable[Paper]) -> tuple[Row, ...]:
    """Every row of the bodies of these papers."""
    return tuple(row for paper in papers for row in _of_paper(paper))


def _of_paper(paper: Paper) -> Iterator[Row]:
    lines = lines_to_read(paper)
    for page in paper.pages:
        yield from _of_page(paper, page, lines[page.number])


def _of_page(paper: Paper, page: Page, lines: Sequence[Line]) -> Iterator[Row]:
    if direction(page):
        yield from (_row(paper, page, [line], 0.0, page.width, 0.0) for line in lines)
        return
    every = rows(lines)
    if not every:
        return
    wide = [row.box for row in every if row.box.width > page.width / 4] or [row.box for row in every]
    edge = numbered_from(page)
    left, right = min(box.left for box in wide), max(box.right for box in wide)
    steps = [low.box.middle[1] - high.box.middle[1] for high, low in pairwise(every)]
    pitch = median(steps) if len(steps) > 2 else 0.0
    for row in every:
        numbered = edge is not None and row.box.left < edge - 0.1
        yield _row(paper, page, row.lines, left, right, pitch, numbered=numbered)


def _row(
    paper: Paper, page: Page, lines: Sequence[Line], left: float, right: float, pitch: float, *, numbered: bool = False
) -> Row:
    box = Box.around(line.box for line in lines) or lines[0].box
    text = flat(" ".join(line.text for line in lines))
    return Row(
        text=_LINE_NUMBER.sub("", text) if numbered else text,
        spot=Spot(paper.file, paper.role, page.number, box),
        size=max(line.size for line in lines),
        width=page.width,
        left=left,
        right=right,
        pitch=pitch,
    )
