"""Dust on the glass of a scanner: specks that stand alone are no ink of the paper."""

from __future__ import annotations

from preflight.facts import Box, Page
from preflight.papers.model import is_scanned
from preflight.papers.words.remembered import remembered

DUST, APART = 0.06, 0.3
"""Ink that is no larger and so far from all other (cm) is dust: full stops and dotted lines have neighbours. House
values."""


@remembered
def without_dust(page: Page) -> tuple[Box, ...]:
    """The clusters of ink of a page; of a scan without specks that stand alone, unless there is nothing else."""
    if not is_scanned(page):
        return page.marks
    kept = tuple(mark for mark in page.marks if not _is_dust(mark, page.marks))
    return kept or page.marks


def _is_dust(mark: Box, every: tuple[Box, ...]) -> bool:
    small = max(mark.width, mark.height) <= DUST
    return small and not any(other is not mark and other.touches(mark.grown(APART)) for other in every)
