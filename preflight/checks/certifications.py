"""What a certification of micro entity status must hold besides a signature: date, boxes, the completed block."""

from __future__ import annotations

from preflight.checks.api import NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.places import of_paper, of_said
from preflight.papers import (
    Certification,
    Choice,
    Filing,
    Paper,
    Said,
    certification,
    choices,
    cover_sheet,
    pictured,
    value_at,
)
from preflight.papers.forms.basis import EMPLOYED, GIVEN, basis_stated
from preflight.papers.forms.form_words import DATE

JOINT = r"\b(?:several|more than one|joint) inventors?\b|\binventors? (?:is|are) joint\b"
"""Folded words beside a box of a certification."""


@check("certification-fields", of=Filing, takes=NoLimits, says=("field",))
def certification_fields(filing: Filing, _: NoLimits) -> Outcomes:
    """Look for the date of a signed certification, and for the tick that joint inventors who sign apart set."""
    sheet = cover_sheet(filing)
    several = len(sheet.inventors) > 1 if sheet else False
    for paper in filing.with_role("entity-certification"):
        found = certification(paper)
        if found.unread:
            yield Unread(why=found.unread, at=of_paper(paper))
            continue
        if not found.signing.signed:
            continue
        date = value_at(paper, DATE)
        if date:
            yield _seen("date", bool(date.text), Place(page=date.page, box=date.box, file=paper.file, role=paper.role))
        numbered = any(one.registration for one in found.signing.signatures)
        joint = choices(paper, {"joint": JOINT})["joint"]
        if several and not numbered and not filing.with_role("power-of-attorney") and _told(joint):
            yield _seen("box for several inventors", joint.tick == "ticked", _at(joint.place, paper))


@check("certification-basis", of=Filing, takes=NoLimits, sorts=("other", "stated"), says=("basis",))
def certification_basis(filing: Filing, _: NoLimits) -> Outcomes:
    """Hold the basis of each certification against its ticks, and against the basis that another paper names.

    On the institution basis one block is ticked; blocks without boxes are not told.
    """
    every = [certification(paper) for paper in filing.with_role("entity-certification")]
    for found in every:
        if found.unread:
            yield _seems_on(found.paper)
        elif found.other_basis:
            yield _basis(found, f'"{found.other_basis.value}"', "other", of_said(found.other_basis))
        else:
            yield from _block(found)
    bases = {found.basis for found in every}
    if not every or None in bases:
        return
    for paper in filing.with_role("cover-sheet", "application-data-sheet", "letter", "fee-sheet"):
        stated = None if paper.unread else basis_stated(paper)
        if stated and stated.name in bases:
            yield _basis(every[0], stated.name, "", of_said(stated.place))
        elif stated:
            there = tuple(of_said(one.basis_at) for one in every if one.basis_at)
            yield _basis(every[0], f'"{stated.place.value}"', "stated", of_said(stated.place), there)


def _seems_on(paper: Paper) -> Unread:
    """On which basis a scan seems to be, for a person to hold against the boxes."""
    seen = pictured(paper)
    found = certification(seen.paper) if seen else None
    nothing_to_see = found is not None and found.basis == "income" and found.other_basis is None  # it has no boxes
    if found is None or found.basis is None or found.basis_at is None or nothing_to_see:
        return Unread(why=paper.text_unread or "", at=of_paper(paper))
    return Unread(
        why=f"the scan seems to be on the {found.basis} basis; whether its boxes fit it cannot be told: look there",
        at=of_said(found.other_basis or found.basis_at),
    )


def _block(found: Certification) -> Outcomes:
    """Whether one of the two blocks of the institution basis is ticked."""
    blocks = [one for one in choices(found.paper, {"employed": EMPLOYED, "given": GIVEN}).values() if _told(one)]
    if found.basis == "institution" and blocks:
        ticked = [one for one in blocks if one.tick == "ticked"]
        yield Seen(
            what="block",
            held=bool(ticked),
            measured="ticked" if ticked else "not ticked",
            at=_at((ticked or blocks)[0].place, found.paper),
        )


def _basis(found: Certification, measured: str, sort: str, at: Place, also: tuple[Place, ...] = ()) -> Seen:
    words: dict[str, str] = {"basis": found.basis or ""}
    return Seen(what="basis", held=not sort, measured=measured, sort=sort, at=at, also=also, words=words)


def _told(choice: Choice) -> bool:
    return choice.tick in ("ticked", "empty")


def _seen(what: str, held: bool, at: Place) -> Seen:
    return Seen(what=what, held=held, measured="filled in" if held else "left empty", at=at, words={"field": what})


def _at(said: Said | None, paper: Paper) -> Place:
    return of_said(said) if said else of_paper(paper)
