"""Tables and displayed formulas among the text, as far as their place on the page shows them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import msgspec

from preflight.facts import Line
from preflight.papers.model import Paper
from preflight.papers.pages.setting import CELL_WORDS, body_lines, is_tabular
from preflight.papers.words.lettering import PROSE_LINE_WORDS, Row, rows, words

ROWS = 3
"""A table has at least so many rows of cells one under the other. House value."""
TELLING = 3
"""A cell of so many letters and digits shows its size of type; shorter ones may be marks of footnotes. House value."""

_FORMULA = re.compile(r"[=<>\u2264\u2265\u2248]")


class Small(msgspec.Struct, frozen=True):
    """The smallest type of the tables or of the formulas of a page, and where it stands."""

    what: str
    page: int
    line: Line


def smallest_in_tables(paper: Paper) -> Iterator[Small]:
    """For each page with a table, or a formula on a line of its own, its smallest type.

    Marks, subscripts and superscripts are left out: of a formula its largest type counts.
    """
    for number, lines in body_lines(paper).items():
        every = rows(lines)
        cells = [line for table in _tables(every) for row in table for line in row.lines]
        telling = [line for line in cells if sum(c.isalnum() for c in line.text) >= TELLING]
        if telling:
            yield Small("text in a table", number, min(telling, key=lambda line: line.size))
        formulas = [max(row.lines, key=lambda line: line.size) for row in every if _is_formula(row)]
        if formulas:
            yield Small("formula", number, min(formulas, key=lambda line: line.size))


def table_pages(paper: Paper) -> tuple[tuple[int, ...], ...]:
    """Pages that tables fill, those that follow each other together."""
    runs: list[list[int]] = []
    for number, lines in body_lines(paper).items():
        if len(lines) < ROWS or not is_tabular(lines):
            continue
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return tuple(map(tuple, runs))


def _tables(every: Sequence[Row]) -> Iterator[list[Row]]:
    """Rows of several short cells that follow each other."""
    run: list[Row] = []
    for row in every:
        if _is_cells(row):
            run.append(row)
            continue
        if len(run) >= ROWS:
            yield run
        run = []
    if len(run) >= ROWS:
        yield run


def _is_cells(row: Row) -> bool:
    return len(row.lines) > 1 and sum(len(words(line.text)) for line in row.lines) < CELL_WORDS * len(row.lines)


def _is_formula(row: Row) -> bool:
    return _FORMULA.search(row.text) is not None and len(words(row.text)) < PROSE_LINE_WORDS
