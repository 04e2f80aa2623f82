"""The inventors as the papers of a filing name them, and whether two names are one."""

from __future__ import annotations

import difflib
from typing import Literal

import msgspec

from preflight.papers.forms.certifications import certification
from preflight.papers.forms.cover_sheets import cover_sheet, serves_as_cover_sheet
from preflight.papers.forms.persons import folded_name
from preflight.papers.matter.identified import declared
from preflight.papers.model import Filing, Paper, Said

ALIKE = 0.8
"""Two names whose letters agree to this share are one name with a slip. House value."""

Agreement = Literal["same", "initials", "spelling", "other"]


def names_said(filing: Filing) -> tuple[tuple[Said, ...], ...]:
    """The names, by paper. What is declared comes first, then cover sheets, then certifications."""
    own = tuple(map(declared, filing.declared.inventors))
    papers = dict.fromkeys((*serves_as_cover_sheet(filing), *filing.with_role("application-data-sheet")))
    sheets = [sheet for paper in papers if (sheet := cover_sheet(paper))]
    listed = [
        tuple(
            (one.place and Said(one.name, one.place.file, one.place.role, one.place.page, one.place.box))
            or Said(one.name, sheet.paper.file, sheet.paper.role, sheet.paper.first_page)
            for one in sheet.inventors
        )
        for sheet in sheets
    ]
    certified = [certification(paper).first_inventor for paper in filing.with_role("entity-certification")]
    return tuple(names for names in (own, *listed, *((said,) for said in certified if said)) if names)


def names_on(paper: Paper) -> tuple[Said, ...]:
    """The names that one paper gives: the inventors of a cover sheet, the first one of a certification."""
    if paper.role == "entity-certification":
        first = certification(paper).first_inventor
        return (first,) if first else ()
    sheet = cover_sheet(paper)
    people = sheet.inventors if sheet else ()
    return tuple(msgspec.structs.replace(one.place, value=one.name) for one in people if one.place)


def agreement(first: str, second: str) -> Agreement:
    """Whether two names are the same, or the same but for initials and middle names, or for a slip."""
    one, two = folded_name(first).split(), folded_name(second).split()
    if one == two or sorted(one) == sorted(two):
        return "same"
    if one and two and one[-1] == two[-1] and (_short(one, two) or _short(two, one)):
        return "initials"
    alike = difflib.SequenceMatcher(None, " ".join(one), " ".join(two)).ratio()
    return "spelling" if alike >= ALIKE else "other"


def _short(short: list[str], long: list[str]) -> bool:
    """Whether each part of the one begins a part of the other, in order: "j roe" and "jane mary roe"."""
    parts = iter(long)
    return all(any(part.startswith(begin) for part in parts) for begin in short)
