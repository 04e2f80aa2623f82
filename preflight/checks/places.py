"""Where something is that was looked at: a whole paper, or what one says."""

from __future__ import annotations

from preflight.checks.api import Place
from preflight.papers import Paper, Said


def of_paper(paper: Paper) -> Place:
    """Where the paper begins."""
    return Place(file=paper.file, page=paper.first_page, role=paper.role)


def of_said(said: Said) -> Place:
    """Where it was said; what is declared has no page."""
    return Place(file=said.file, page=said.page or None, box=said.box, role=said.role or None)
