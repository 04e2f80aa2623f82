"""Entity, certification and fee held against each other and against the table of the payment day."""

from __future__ import annotations

import re

import msgspec

from preflight.checks.api import Measured, NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.places import of_paper, of_said
from preflight.checks.presence import might_be
from preflight.facts.money import ENTITIES, in_force
from preflight.papers import (
    Certification,
    EntityPicture,
    Filing,
    amount_due,
    cover_sheet,
    entity_claimed,
    entity_said,
)
from preflight.papers.money.entity import TickedIn
from preflight.papers.money.signers import for_an_organisation


class Row(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A combination that contradicts itself; a key that is left out fits anything."""

    sort: str
    tick: tuple[str, ...] = ()
    certification: tuple[str, ...] = ()
    amount: tuple[str, ...] = ()


class Matrix(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Combinations of entity ticked, certification found and amount stated that contradict themselves."""

    rows: tuple[Row, ...]


@check("entity-matrix", of=Filing, takes=Matrix, sorts=("*",), says=("tick", "certification", "amount", "why"))
def entity_matrix(filing: Filing, matrix: Matrix) -> Outcomes:
    """Hold the entity ticked, the certification found and the amount stated against each other."""
    picture = entity_said(filing)
    seen: dict[str, str] = {"tick": picture.tick, "certification": picture.certification, "amount": picture.amount}
    places = _places(picture)
    if "unreadable" in seen.values():
        yield from _unclear(filing, picture)
        return
    if seen == {"tick": "none", "certification": "none", "amount": "not stated"}:
        return
    row = next((r for r in matrix.rows if _fits(r, seen)), None)
    yield Seen(
        what="entity",
        held=row is None,
        measured=f"ticked: {seen['tick']}; certification: {seen['certification']}; fee: {seen['amount']}",
        sort=row.sort if row else "",
        at=places[0],
        also=places[1:],
        words={**seen, "why": _why(filing, picture)},
    )


def _why(filing: Filing, picture: EntityPicture) -> str:
    """Why the certifications there are not enough: for whom, or by whom alone they are signed, or what one lacks."""
    unsigned = next((one for one in picture.certifications if one.signing.signed is False), None)
    signed = [one for one in picture.certifications if one.signing.signed is not False]
    if picture.certification == "by officer":
        found = for_an_organisation(filing, signed)
        return f'"{found.value}"' if found else ""
    if picture.certification == "short" and unsigned:
        return f"in {unsigned.paper.file} {unsigned.signing.why}"
    if picture.certification == "short":
        return f"signed by {' and '.join(name for one in signed for name in one.signers) or 'hand'} only"
    return unsigned.signing.why if unsigned else ""


def _fits(row: Row, seen: dict[str, str]) -> bool:
    return all(not getattr(row, name) or value in getattr(row, name) for name, value in seen.items())


def _unclear(filing: Filing, picture: EntityPicture) -> Outcomes:
    """The papers whose ticks, signatures or words cannot be told; else those that might be the one that is missing."""
    ticks = {t.paper: _seems_ticked(t) for t in picture.ticks if t.tick == "unreadable"}
    unread = {c.paper: _seems_signed(c) for c in picture.certifications if c.signing.signed is None and c.unread}
    silent = {p: Unread(p.text_unread or "", of_paper(p)) for p in filing.with_role("cover-sheet", "fee-sheet")}
    silent = {paper: asked for paper, asked in silent.items() if paper.unread}
    asked = silent | unread | ticks
    yield from asked.values()
    if not asked:
        yield from might_be(filing)


def _seems_ticked(one: TickedIn) -> Unread:
    """Which boxes a person has to look at, and what a scan seems to say there."""
    sheet = cover_sheet(one.paper)
    seems = sheet.seems if sheet else None
    boxes = [choice for choice in (seems.small, seems.micro) if choice.place] if seems else []
    ticked = [choice for choice in boxes if choice.tick == "ticked"]
    if not boxes:
        why = one.paper.text_unread or "which boxes are ticked cannot be told"
        return Unread(why=why, at=of_said(one.place) if one.place else of_paper(one.paper))
    said = " and ".join(f'"{choice.place.value}"' for choice in ticked if choice.place) or "neither small nor micro"
    place = (ticked or boxes)[0].place
    return Unread(f"the scan seems to tick {said}: look there", of_said(place) if place else of_paper(one.paper))


def _seems_signed(one: Certification) -> Unread:
    """Where a scan is signed or should be; what stands there only an eye can tell."""
    ink = "; whether it signs only an eye can tell: look there" if one.signing.kind == "ink" else ""
    at = of_said(one.signing.place) if one.signing.place else of_paper(one.paper)
    return Unread(f"{one.signing.why}{ink}", at)


_CERTIFIED = ("signed", "short", "by officer")
"""What a certification that somebody has signed is found to be."""


def _places(picture: EntityPicture) -> tuple[Place, ...]:
    """Where tick, certification and amount stand, one place a page."""
    unsigned_first = sorted(picture.certifications, key=lambda one: bool(one.signing.signed))
    certified = [_where_signed(one) for one in unsigned_first]
    if picture.certification == "other matter":
        return tuple(certified)  # the other papers are right: it is this one that belongs elsewhere
    ticked = [of_said(t.place) if t.place else of_paper(t.paper) for t in picture.ticks if t.tick != "none"]
    paid = [of_said(a.place) for a in picture.amounts]
    too_much = picture.amount in ("undiscounted", "small") and picture.certification in _CERTIFIED
    unsigned = picture.certification in ("unsigned", "short", "by officer") and picture.tick != "both"
    found = [*ticked, *certified, *paid]
    if too_much or unsigned:
        found = [*paid, *ticked, *certified] if too_much else [*certified, *ticked, *paid]
    once: dict[tuple[str | None, int | None], Place] = {}
    for place in found:
        once.setdefault((place.file, place.page), place)
    return tuple(once.values()) or (Place(),)


def _where_signed(one: Certification) -> Place:
    """Where a certification is signed, or should be; else where it begins."""
    return of_said(one.signing.place) if one.signing.place else of_paper(one.paper)


@check("fee-amount", of=Filing, takes=NoLimits, sorts=("older", "nobody", "size"), says=("entity", "since"))
def fee_amount(filing: Filing, _: NoLimits) -> Outcomes:
    """Compare each amount stated with the table of the payment day; none stated, nothing to compare."""
    picture = entity_said(filing)
    basic = in_force(filing.fees, "basic", filing.payment_date)
    if picture.amounts and basic is None:
        yield Unread(
            why="the fee table does not reach back to the day of payment", at=of_said(picture.amounts[0].place)
        )
        return
    claimed = entity_claimed(filing, picture).name or ENTITIES[0]
    for stated in picture.amounts:
        entity = stated.kind if stated.kind in ENTITIES else claimed
        due = amount_due(filing, entity)
        if basic is None or due is None:
            continue
        yield Measured(
            what="fee",
            value=stated.dollars,
            unit=basic.currency,
            least=due,
            most=due,
            sort="older" if stated.older else "size" if stated.kind in ENTITIES else "nobody",
            at=of_said(stated.place),
            words={"entity": entity, "since": basic.since.isoformat()},
        )


class Codes(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The entity that a fee code of these is for, by the code."""

    entities: dict[str, str]


@check("fee-codes", of=Filing, takes=Codes, says=("entity", "of"))
def fee_codes(filing: Filing, known: Codes) -> Outcomes:
    """Compare the one basic fee code of a fee sheet with the entity whose amount is stated, or else that is ticked."""
    picture = entity_said(filing)
    claimed = next((one for one in (picture.amount, picture.tick) if one in ENTITIES), None)
    code = re.compile(rf"(?<!\d)({'|'.join(map(re.escape, known.entities))})(?!\d)")
    for paper in filing.with_role("fee-sheet"):
        if why := paper.unread:
            yield Unread(why=why, at=of_paper(paper))
            continue
        lines = [(page.number, line) for page in paper.pages for line in page.lines if line.visible]
        found = {number: (page, line) for page, line in lines for number in code.findall(line.text)}
        if len(found) != 1 or claimed is None:
            continue  # a sheet that lists the codes of all entities says nothing
        number, (page, line) = next(iter(found.items()))
        yield Seen(
            what="fee code",
            held=known.entities[number] == claimed,
            measured=number,
            at=Place(file=paper.file, page=page, box=line.box, role=paper.role),
            words={"entity": claimed, "of": known.entities[number]},
        )
