"""What a certification of micro entity status must hold besides a signature: date, boxes, the completed block."""

from __future__ import annotations

from preflight.checks.api import NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.places import of_paper, of_said
from preflight.papers import Choice, Filing, Paper, Said, certification, choices, cover_sheet, value_at
from preflight.papers.forms.form_words import DATE

JOINT = r"\b(?:several|more than one|joint) inventors?\b|\binventors? (?:is|are) joint\b"
EMPLOYED, GIVEN = r"\bemploy(?:er|ed|ment|s)?\b", r"\b(?:assign|convey|grant|give|licen[cs])\w*\b"
"""Folded words beside the boxes of a certification."""


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


@check("one-block-complete", of=Paper, takes=NoLimits)
def one_block_complete(paper: Paper, _: NoLimits) -> Outcomes:
    """On a certification of the institution basis look whether a block is ticked. Blocks without boxes are not told."""
    found = certification(paper)
    if found.unread:
        yield Unread(why=found.unread, at=of_paper(paper))
        return
    blocks = [one for one in choices(paper, {"employed": EMPLOYED, "given": GIVEN}).values() if _told(one)]
    if found.basis == "institution" and blocks:
        ticked = [one for one in blocks if one.tick == "ticked"]
        yield Seen(
            what="block",
            held=bool(ticked),
            measured="ticked" if ticked else "not ticked",
            at=_at((ticked or blocks)[0].place, paper),
        )


def _told(choice: Choice) -> bool:
    return choice.tick in ("ticked", "empty")


def _seen(what: str, held: bool, at: Place) -> Seen:
    return Seen(what=what, held=held, measured="filled in" if held else "left empty", at=at, words={"field": what})


def _at(said: Said | None, paper: Paper) -> Place:
    return of_said(said) if said else of_paper(paper)
