"""What is due on the day of payment, as the report shows it."""

from __future__ import annotations

import datetime as dt
from collections import Counter

from preflight.facts.money import ENTITIES, in_force
from preflight.papers import Filing, entity_said, sheet_count, total, worksheet
from preflight.papers.money.fees import COUNTED_ROLES
from preflight.reporting.report import FeeRow, Worksheet
from preflight.reporting.wording import day, file_name, listed, number

_NAMED = 6


def worksheet_of(filing: Filing, entity: str | None, checked_on: dt.date | None) -> Worksheet | None:
    """The worksheet by the table of the payment day; None where the table does not reach back so far."""
    rate = entity or ENTITIES[0]
    sheets = sheet_count(filing)
    lines = worksheet(filing.fees, rate, sheets, filing.payment_date)
    due = total(lines)
    if due is None:
        return None
    rows = tuple(
        FeeRow(ln.id, ln.name, ln.code, ln.quantity, ln.each or 0, ln.amount or 0, ln.citation, ln.since, ln.known)
        for ln in lines
    )
    stated = entity_said(filing).amounts
    notes = [f"counted: {_counted(filing)}; forms and letters do not count"] if sheets else []
    size = in_force(filing.fees, "size", filing.payment_date)
    if size and size.sheet_weight != 1:
        weighed = number(sheets * size.sheet_weight)
        notes.append(
            f"filed electronically they count as {weighed} sheets; {size.sheets_free} are free of the size fee"
        )
    if rate != entity:
        notes.append("no paper claims small or micro entity: the undiscounted rate is shown")
    if checked_on:
        notes.append(f"fees were last compared on {day(checked_on)}; check the office's current schedule")
    return Worksheet(
        currency=filing.fees[0].currency,
        entity=rate,
        payment_date=filing.payment_date,
        sheets=sheets,
        lines=rows,
        total=due,
        stated=stated[0].dollars if stated else None,
        note="; ".join(notes),
    )


def _counted(filing: Filing) -> str:
    """How many pages of which file, so that the sum can be checked: "specification.pdf 6 and drawings.pdf 3"."""
    pages = Counter[str]()
    for paper in filing.with_role(*COUNTED_ROLES):
        pages[paper.file] += len(paper.pages)
    named = [f"{file_name(name)} {many}" for name, many in pages.items()]
    more = len(named) - _NAMED
    return listed([*named[:_NAMED], f"{more} more files"] if more > 0 else named)
