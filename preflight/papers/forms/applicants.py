"""Who applies and who signs for the applicant, where that is an organisation."""

from __future__ import annotations

from preflight.papers.forms.cover_sheets import cover_sheet
from preflight.papers.forms.persons import folded_name, is_organisation, names_office
from preflight.papers.forms.signatures import NAME_ROWS, Signature
from preflight.papers.model import Filing, Paper, Said
from preflight.papers.words.lettering import flat
from preflight.papers.words.printed import lines_on

OFFICE_WORDS = 10
"""What names an office beside a signature has at most so many words. House value."""


def organisation_applicant(filing: Filing) -> Said | None:
    """The applicant, if it is no person, as the first paper says it that names one: PTO/SB/16 has no place for it."""
    for paper in filing.with_role("cover-sheet", "application-data-sheet", "letter"):
        sheet = cover_sheet(paper)
        applicant = sheet.applicant if sheet else None
        if sheet and applicant and is_organisation(applicant.value):
            folded = folded_name(applicant.value)
            if not any(folded_name(one.name) in folded for one in sheet.inventors):
                return applicant
    return None


def office_beside(paper: Paper, signature: Signature) -> Said | None:
    """The office in an organisation that stands at or right under a signature: "Chief Executive Officer"."""
    page = next(page for page in paper.pages if page.number == signature.page)
    for line in lines_on(paper, page):
        under = -0.2 <= line.box.top - signature.box.top <= NAME_ROWS
        if under and names_office(line.text) and len(line.text.split()) <= OFFICE_WORDS:
            return Said(flat(line.text), paper.file, paper.role, page.number, line.box)
    return None
