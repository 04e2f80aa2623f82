"""The rules as they were read from the published sources: two sheets that are not part of the project.

They stand in ../shared beside the checkout, or in the folder that the variable PREFLIGHT_LAW names.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from preflight.testing import flat

FOLDER = Path(os.environ.get("PREFLIGHT_LAW") or Path(__file__).parents[3] / "shared")
PAPERS, FILING = FOLDER / "RULES-us-papers.md", FOLDER / "RULES-us-filing.md"
SHEETS = [PAPERS, FILING]
THERE = all(path.exists() for path in SHEETS)
MARKS = [
    pytest.mark.reference,
    pytest.mark.skipif(not THERE, reason="the rules as read from the sources are not beside this checkout"),
]
"""For every test that holds the rulebook to the sheets."""
ID = re.compile(r"us\.[a-z0-9.-]*[a-z0-9]")


def lines(path: Path) -> list[str]:
    """The lines of a sheet without the marks of bold type; none if it is not there."""
    return path.read_text("utf-8").replace("**", "").splitlines() if path.exists() else []


TEXT = flat(" ".join(line for path in SHEETS for line in lines(path)))


def tables(path: Path) -> Iterator[tuple[str, list[str], list[list[str]]]]:
    """Every table of a sheet: the number of its section, its head, its rows."""
    section, head, rows = "", [], []
    for line in [*lines(path), ""]:
        if line.startswith("#"):
            section = line.split()[1].rstrip(".")
        cells = [cell.strip() for cell in re.split(r"(?<!\\)\|", line)][1:-1]
        if not cells:
            if head:
                yield section, head, rows
            head, rows = [], []
        elif not head:
            head = cells
        elif not all(re.fullmatch(r":?-+:?", cell) for cell in cells):
            rows.append(cells)


def table(path: Path, section: str, first: str) -> list[list[str]]:
    """The rows of the one table of a section whose first column is headed so."""
    (found,) = [rows for at, head, rows in tables(path) if at == section and head[0] == first]
    return found


def rows() -> dict[str, list[tuple[str, str]]]:
    """For each id its rows in both sheets: the whole row, and the cell with the two consequences."""
    found: dict[str, list[tuple[str, str]]] = {}
    for path in SHEETS:
        for _, head, body in tables(path):
            column = next((n for n, cell in enumerate(head) if cell.endswith("a / b")), None)
            for cells in body:
                if ID.fullmatch(cells[0]):
                    cell = cells[column] if column is not None and column < len(cells) else ""
                    found.setdefault(cells[0], []).append((flat(" | ".join(cells)), cell))
    return found


ROWS = rows()
