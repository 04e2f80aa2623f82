"""Which entity the papers, the certification and the amount each say, side by side."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from typing import Literal

import msgspec

from preflight.facts.declared import DECLARATION
from preflight.facts.money import ENTITIES, Fee
from preflight.papers.forms.certifications import Certification, certification
from preflight.papers.forms.cover_sheets import CoverSheet, cover_sheet, total_fee
from preflight.papers.forms.persons import folded_name
from preflight.papers.matter.titles import difference, title_of
from preflight.papers.model import UNKNOWN, Filing, Paper, Said
from preflight.papers.money.fees import BASIC, sheet_count, total, worksheet
from preflight.papers.money.signers import bears_a_signature, for_an_organisation, too_few
from preflight.papers.words.remembered import remembered

TickSaid = Literal["none", "small", "micro", "both", "unreadable"]
CertificationSaid = Literal["none", "signed", "short", "by officer", "unsigned", "unreadable", "other matter"]
"""Short: fewer joint inventors have signed than there are, and nobody may sign for them. By officer: the applicant is
an organisation, or whoever signs holds an office in one, and no practitioner has signed."""
AmountSaid = Literal["undiscounted", "small", "micro", "older schedule", "nobody's", "not stated", "unreadable"]


class TickedIn(msgspec.Struct, frozen=True):
    """What one paper says about entity status."""

    paper: Paper
    tick: TickSaid
    place: Said | None = None


class OlderRow(msgspec.Struct, frozen=True):
    """A schedule no longer in force that an amount fits: its day and the entity."""

    since: dt.date
    entity: str


class StatedAmount(msgspec.Struct, frozen=True):
    """An amount somewhere stated, held against the fee table of the payment day."""

    dollars: int
    kind: AmountSaid
    place: Said
    with_size: bool = False
    """It covers the size fee too, or none is due."""
    older: tuple[OlderRow, ...] = ()


class EntityPicture(msgspec.Struct, frozen=True):
    """The three answers and where each was found. What is declared comes first, what is printed stays beside it."""

    tick: TickSaid
    certification: CertificationSaid
    amount: AmountSaid
    ticks: tuple[TickedIn, ...] = ()
    certifications: tuple[Certification, ...] = ()
    amounts: tuple[StatedAmount, ...] = ()
    """Declared first, then printed ones."""
    declared: str | None = None
    """The entity declared in filing.toml."""
    contradicts_declared: tuple[Said, ...] = ()
    """Ticks and amounts printed that say another entity or sum than the one declared."""


@remembered
def entity_said(filing: Filing) -> EntityPicture:
    """Hold tick, certification and amount side by side; which combinations are consistent is for the rulebook."""
    ticks = tuple(_ticks(filing))
    certificates = tuple(certification(paper) for paper in filing.with_role("entity-certification"))
    amounts = tuple(_amounts(filing))
    declared = filing.declared.entity
    tick = _overall(ticks) if ticks or not _unreadable(filing) else "unreadable"
    certified = _certified(filing, certificates)
    if declared in ("undiscounted", "small"):
        # what cannot be read need not be: the filer says it, and no certification is asked for
        tick = ("small" if declared == "small" else "none") if tick == "unreadable" else tick
        certified = "none" if certified == "unreadable" and not certificates else certified
    return EntityPicture(
        tick=tick,
        certification=certified,
        amount=amounts[0].kind if amounts else _no_amount(filing),
        ticks=ticks,
        certifications=certificates,
        amounts=amounts,
        declared=declared,
        contradicts_declared=tuple(_contradictions(filing, ticks, amounts)),
    )


def _unreadable(filing: Filing) -> bool:
    """Whether a paper that might be any cannot be read: what is not seen may stand there."""
    closed = any(not file.pages and file.name.lower().endswith(".pdf") for file in filing.files)
    return closed or any(paper.text_unread for paper in filing.with_role(UNKNOWN))


def _ticks(filing: Filing) -> Iterator[TickedIn]:
    for paper in filing.with_role("cover-sheet", "application-data-sheet", "fee-sheet", "letter"):
        sheet = cover_sheet(paper)
        if sheet is not None:
            yield _tick(sheet)


def _tick(sheet: CoverSheet) -> TickedIn:
    if sheet.unread:
        return TickedIn(sheet.paper, "unreadable")
    # a letter has no boxes: what it states is said
    says = ("ticked", "unreadable") if sheet.paper.kind == "letter" else ("ticked",)
    marked = [name for name in ("small", "micro") if getattr(sheet, name).tick in says]
    place = next((choice.place for choice in (sheet.small, sheet.micro) if choice.tick in says), None)
    if len(marked) == 2:
        return TickedIn(sheet.paper, "both", place)
    if marked:
        return TickedIn(sheet.paper, "small" if marked[0] == "small" else "micro", place)
    unclear = next((choice for choice in (sheet.small, sheet.micro) if choice.tick == "unreadable"), None)
    return TickedIn(sheet.paper, "unreadable", unclear.place) if unclear else TickedIn(sheet.paper, "none")


def _overall(ticks: tuple[TickedIn, ...]) -> TickSaid:
    """The first paper that says something; unreadable before none."""
    order = sorted(ticks, key=lambda one: one.paper.role != "cover-sheet")
    for one in order:
        if one.tick not in ("none", "unreadable"):
            return one.tick
    return "unreadable" if any(one.tick == "unreadable" for one in order) else "none"


def _certified(filing: Filing, every: tuple[Certification, ...]) -> CertificationSaid:
    if not every:
        return "unreadable" if _unreadable(filing) else "none"
    ours = [one for one in every if not other_matter(filing, one)]
    if not ours:
        return "other matter"
    signed = [one for one in ours if bears_a_signature(one)]
    if signed:
        if for_an_organisation(filing, signed):
            return "by officer"
        return "short" if too_few(filing, signed) else "signed"
    return "unreadable" if any(one.signing.signed is None for one in ours) else "unsigned"


def other_matter(filing: Filing, one: Certification) -> tuple[Said, Said] | None:
    """The two places that disagree, if a certification names another title or first inventor than the filing."""
    sheet = cover_sheet(filing)
    ours = [
        title
        for title in ((sheet.title if sheet else None), *(title_of(p) for p in filing.with_role("specification")))
        if title
    ]
    if one.title and ours and all(difference(one.title.value, title.value) == "other" for title in ours):
        return one.title, ours[0]
    names = sheet.inventors if sheet else ()
    place = names[0].place if names else None
    if one.first_inventor and place and not any(_same_name(one.first_inventor.value, name.name) for name in names):
        return one.first_inventor, place
    return None


def _same_name(first: str, second: str) -> bool:
    """Whether two names can be one person's: a family name and a first letter in common."""
    one, two = folded_name(first).split(), folded_name(second).split()
    return bool(one and two and {*one} & {*two} and {w[0] for w in one} & {w[0] for w in two})


def _amounts(filing: Filing) -> Iterator[StatedAmount]:
    if filing.declared.fee_paid is not None:
        place = Said(str(filing.declared.fee_paid), DECLARATION, "", 0)
        yield _stated(filing, filing.declared.fee_paid, place)
    for paper in filing.with_role("cover-sheet", "fee-sheet", "letter"):
        amount = total_fee(paper)
        if amount is not None and amount.dollars is not None:
            yield _stated(filing, amount.dollars, amount.place)


def _no_amount(filing: Filing) -> AmountSaid:
    papers = filing.with_role("cover-sheet", "fee-sheet")
    return "unreadable" if papers and all(p.unread for p in papers) else "not stated"


def _stated(filing: Filing, dollars: int, place: Said) -> StatedAmount:
    """Compare with what each entity owes on the payment day; then with each schedule before it."""
    sheets = sheet_count(filing)
    for entity in ENTITIES:
        fit = _fits(filing.fees, entity, sheets, filing.payment_date, dollars)
        if fit is not None:
            return StatedAmount(dollars, _as_kind(entity), place, fit)
    days = sorted({fee.since for fee in filing.fees if fee.since <= filing.payment_date}, reverse=True)
    older = tuple(
        OlderRow(day, entity)
        for day in days
        for entity in ENTITIES
        if _fits(filing.fees, entity, sheets, day, dollars) is not None
    )
    return StatedAmount(dollars, "older schedule" if older else "nobody's", place, older=older)


def _as_kind(entity: str) -> AmountSaid:
    return "undiscounted" if entity == "undiscounted" else "small" if entity == "small" else "micro"


def _fits(fees: tuple[Fee, ...], entity: str, sheets: int, day: dt.date, dollars: int) -> bool | None:
    """True if the amount is all that is due, False if only the basic fee without the size fee, None if neither."""
    lines = worksheet(fees, entity, sheets, day)
    if not lines:
        return None
    if total(lines) == dollars:
        return True
    return False if lines[0].id == BASIC and lines[0].amount == dollars else None


def _contradictions(filing: Filing, ticks: tuple[TickedIn, ...], amounts: tuple[StatedAmount, ...]) -> Iterator[Said]:
    declared = filing.declared.entity
    for tick in ticks:
        if declared and tick.place and tick.tick in ENTITIES and tick.tick != declared:
            yield tick.place
    paid = filing.declared.fee_paid
    for amount in amounts:
        if amount.place.file == DECLARATION:
            continue
        other_sum = paid is not None and amount.dollars != paid
        other_entity = paid is None and declared and amount.kind in ENTITIES and amount.kind != declared
        if other_sum or other_entity:
            yield amount.place
