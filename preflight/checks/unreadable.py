"""What the checks of drawings and of their description share: which papers and sheets could not be read."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from preflight.checks.api import Outcomes, Place, Unread
from preflight.checks.places import of_paper
from preflight.facts import Page
from preflight.papers import Filing, Paper, sheet_unread


def unread_papers(papers: Iterable[Paper]) -> Iterator[Unread]:
    """One for each whose words cannot be read."""
    for paper in papers:
        if why := paper.text_unread:
            yield Unread(why=why, at=of_paper(paper))


def unread_sheets(filing: Filing, why_not: Callable[[Page], str | None] = sheet_unread) -> list[Unread]:
    """One for each sheet of the drawings of which `why_not` says why it is not known."""
    return [
        Unread(why=why, at=Place(file=paper.file, page=page.number, role=paper.role))
        for paper in filing.with_role("drawings")
        for page in paper.pages
        if (why := why_not(page))
    ]


def each_sheet(paper: Paper, measured: Callable[[Page], Outcomes]) -> Outcomes:
    """What is measured on each sheet that could be read, and why the others could not."""
    for page in paper.pages:
        if why := sheet_unread(page):
            yield Unread(why=why, at=Place(page=page.number))
        else:
            yield from measured(page)
