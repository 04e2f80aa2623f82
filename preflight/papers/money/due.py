"""What is to be paid on a day, at each rate that can be meant, with the sheets that count."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence

import msgspec

from preflight.facts.money import ENTITIES, Fee, in_force
from preflight.papers.model import UNKNOWN, Filing
from preflight.papers.money.claimed import EntityClaimed, entity_claimed
from preflight.papers.money.entity import StatedAmount, entity_said
from preflight.papers.money.fees import COUNTED_ROLES, SIZE, SURCHARGE, FeeLine, SizeSum, size_sum, total, worksheet


class SheetsOf(msgspec.Struct, frozen=True):
    """The sheets of one paper that count."""

    role: str
    file: str
    pages: int


class Uncounted(msgspec.Struct, frozen=True):
    """Pages that were not counted and may have to be."""

    file: str
    pages: int | None
    """None: nobody knows how many."""
    why: str


class Rate(msgspec.Struct, frozen=True):
    """What is due at one rate. `total` is None where the schedule has no such amount."""

    entity: str
    lines: tuple[FeeLine, ...]
    total: int | None
    surcharge: FeeLine | None
    """What would be added if fee or cover sheet came later; None if it is among the lines or not known."""


class Due(msgspec.Struct, frozen=True):
    """The fees of one filing."""

    payment_date: dt.date
    entity: EntityClaimed
    sheets: int
    papers: tuple[SheetsOf, ...]
    uncounted: tuple[Uncounted, ...]
    size: SizeSum | None
    """None where the table does not reach back to the day of payment."""
    rates: tuple[Rate, ...]
    """One, or every one where nothing says which is meant."""
    stated: tuple[StatedAmount, ...] = ()
    of_folder: bool = False
    """Whether papers were looked at; else the sheets were given."""


def due_for_sheets(
    fees: Sequence[Fee], sheets: int, entity: str | None, payment_date: dt.date, *, late: bool = False
) -> Due:
    """The fees for a number of sheets."""
    claimed = EntityClaimed(entity, "given on the command line" if entity else "not given")
    return _due(tuple(fees), sheets, claimed, payment_date, late=late)


def due_for_papers(filing: Filing, *, late: bool = False) -> Due:
    """The fees for the papers of a folder, beside the amounts that they state."""
    papers = tuple(SheetsOf(p.role, p.file, len(p.pages)) for p in filing.with_role(*COUNTED_ROLES))
    picture = entity_said(filing)
    sheets, claimed = sum(p.pages for p in papers), entity_claimed(filing, picture)
    return msgspec.structs.replace(
        _due(filing.fees, sheets, claimed, filing.payment_date, late=late),
        papers=papers,
        uncounted=tuple(_uncounted(filing)),
        stated=picture.amounts,
        of_folder=True,
    )


def _due(fees: tuple[Fee, ...], sheets: int, claimed: EntityClaimed, payment_date: dt.date, *, late: bool) -> Due:
    size = in_force(fees, SIZE, payment_date)
    return Due(
        payment_date=payment_date,
        entity=claimed,
        sheets=sheets,
        papers=(),
        uncounted=(),
        size=size_sum(sheets, size) if size else None,
        rates=tuple(
            _rate(fees, entity, sheets, payment_date, late=late)
            for entity in ([claimed.name] if claimed.name else ENTITIES)
        ),
    )


def _rate(fees: tuple[Fee, ...], entity: str, sheets: int, payment_date: dt.date, *, late: bool) -> Rate:
    lines = worksheet(fees, entity, sheets, payment_date, late=late)
    with_it = worksheet(fees, entity, sheets, payment_date, late=True)
    surcharge = None if late else next((line for line in with_it if line.id == SURCHARGE), None)
    return Rate(entity, lines, total(lines), surcharge)


def _uncounted(filing: Filing) -> Iterator[Uncounted]:
    """Papers that are not told, and files that cannot be opened: their pages may belong to the application."""
    for paper in filing.with_role(UNKNOWN):
        yield Uncounted(paper.file, len(paper.pages), "what they are could not be told")
    for file in filing.files:
        if not file.pages and file.name.lower().endswith(".pdf"):
            yield Uncounted(file.name, None, file.unread or "it needs a password to open")
