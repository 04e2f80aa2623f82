"""Title and docket number as each paper of a filing says them. What is declared comes first, then the specification."""

from __future__ import annotations

from preflight.facts.declared import DECLARATION
from preflight.papers.forms.cover_sheets import cover_sheet
from preflight.papers.matter.titles import title_of
from preflight.papers.model import Filing, Paper, Said
from preflight.papers.pages.dockets import dockets


def titles_said(filing: Filing) -> list[Said]:
    """The title as each paper says it."""
    sheet = cover_sheet(filing)
    people = (
        (*filing.declared.inventors, *(one.name for one in sheet.inventors)) if sheet else filing.declared.inventors
    )
    said = [title for paper in _readable(filing) if (title := title_of(paper, people))]
    return _declared(filing.declared.title) + said


def dockets_said(filing: Filing) -> list[Said]:
    """The docket numbers that each paper says."""
    return _declared(filing.declared.docket) + [docket for paper in _readable(filing) for docket in dockets(paper)]


def declared(value: str) -> Said:
    """What the filer declares, as something said: it stands on no page."""
    return Said(value, DECLARATION, "declared", 0)


def _declared(value: str | None) -> list[Said]:
    return [declared(value)] if value else []


def _readable(filing: Filing) -> list[Paper]:
    """The specification first. A stamp on a scan says nothing of the paper beneath."""
    papers = [paper for paper in filing.papers if not paper.unread]
    return sorted(papers, key=lambda p: p.role != "specification")
