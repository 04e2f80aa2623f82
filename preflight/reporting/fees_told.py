"""What a filing costs on a day: as JSON (schemas/fees.schema.json), and as a worksheet for people."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from typing import Any

from rich.text import Text

from preflight.facts.money import ENTITIES, IncomeLimit, last_limits
from preflight.papers.money.due import Due, Rate
from preflight.papers.money.entity import StatedAmount
from preflight.papers.money.fees import FeeLine, SizeSum, total, worksheet
from preflight.reporting.build import STALE_AFTER
from preflight.reporting.findings import known_as
from preflight.reporting.lines import FAINT, INDENT, STRONG, Sheet, styled
from preflight.reporting.machine import encoded
from preflight.reporting.wording import apart, clean, counted, day, listed, money, month, number, role
from preflight.rulebooks import Rulebook

SCHEMA = "preflight-fees/1"
_MICRO = ENTITIES[2]


def sum_of_sheets(due: Due) -> str:
    """The sheets that count, as a sum: "60 specification + 8 drawings = 68 sheets"."""
    by_role: dict[str, int] = {}
    for paper in due.papers:
        by_role[paper.role] = by_role.get(paper.role, 0) + paper.pages
    sheets = counted(due.sheets, "sheets")
    if len(by_role) < 2:
        return sheets + "".join(f" ({role(name)})" for name in by_role)
    return f"{' + '.join(f'{number(pages)} {role(name)}' for name, pages in by_role.items())} = {sheets}"


def size_told(size: SizeSum) -> str:
    """How the size fee was reckoned: "68 x 75% = 51, up to 100 are free: no size fee"."""
    weighed, over = number(float(size.weighed)), number(float(size.over))
    share = f"{number(size.sheets)} x {number(100 * size.weight)}% = {weighed} when filed electronically"
    if not size.over:
        return f"{share}; up to {number(size.free)} are free: no size fee"
    return (
        f"{share}; {over} more than the {number(size.free)} that are free;"
        f" each {number(size.each)} or part of it: {counted(size.units, 'size fees')}"
    )


def stated_told(stated: StatedAmount, due: Due, currency: str) -> str:
    """An amount stated in the folder, held against what is due."""
    said = money(stated.dollars, currency)
    totals = {rate.entity: rate.total for rate in due.rates if rate.total is not None}
    if fits := [entity for entity, total in totals.items() if total == stated.dollars]:
        return f"{said}: agrees with the total for {listed(fits, 'or')}"
    if stated.older:
        older = stated.older[0]
        return f"{said}: the {older.entity} amount of the older schedule since {day(older.since)}"
    if len(totals) == 1:
        (wanted,) = totals.values()
        other = f" (it is the {stated.kind} amount)" if stated.kind in ENTITIES and stated.kind not in totals else ""
        return f"{said}: {apart(stated.dollars, wanted, currency)}{other}"
    return f"{said}: no total of that day"


def notes_on(due: Due, book: Rulebook) -> Iterator[str]:
    """What must be known beside the amounts, the gravest first."""
    if due.of_folder and not due.papers:
        yield "No specification and no drawings were found in the folder: no sheets are counted."
    for left_out in due.uncounted:
        pages = "pages" if left_out.pages is None else counted(left_out.pages, "pages")
        yield f"Not counted: {pages} of {clean(left_out.file)} ({clean(left_out.why)}); the total may be higher."
    lines = [line for rate in due.rates for line in rate.lines]
    if not lines:
        yield f"No fee table reaches back to {day(due.payment_date)}: nothing is known of that day."
    if any(line.amount is None for line in lines):
        yield "There was no such rate on that day where no amount is shown."
    if names := dict.fromkeys(line.name for line in lines if line.known == "memory"):
        yield f"{listed(names)}: last known, not confirmed."
    if book.fees_checked_on:
        yield _age(due.payment_date, book.fees_checked_on)
    if any(rate.entity == _MICRO for rate in due.rates):
        yield from _limit(*last_limits(book.income_limits, due.payment_date))
    yield from _if_not_due(due, book)
    yield from book.fee_cautions


def _if_not_due(due: Due, book: Rulebook) -> Iterator[str]:
    """What paying at a discount without the right to it leaves owed, at the amounts of the same day."""
    for rate in due.rates if len(due.rates) == 1 else ():
        higher = {
            entity: all_of_it - rate.total
            for entity in ENTITIES[: ENTITIES.index(rate.entity)]
            if rate.total is not None
            and (all_of_it := total(worksheet(book.fees, entity, due.sheets, due.payment_date))) is not None
        }
        if higher:
            currency = _currency(book)
            owed = [f"{money(more, currency)} if {entity} is right" for entity, more in reversed(higher.items())]
            said = f"Paid as {rate.entity} without the right to it, there is still owed, at this day's amounts"
            yield f"{said}: {listed(owed)}."


def _age(payment: dt.date, checked: dt.date) -> str:
    if payment - checked > STALE_AFTER:
        return f"THE TABLE IS OLD: it was last compared on {day(checked)}, more than six months before the payment."
    return f"The table was last compared on {day(checked)}."


def _limit(row: IncomeLimit | None, last: IncomeLimit | None) -> Iterator[str]:
    if row is None or last is None or last.limit is None:
        return
    since = day(last.since) if last.day_known else f"about {month(last.since)}"
    said = f"Micro income limit, last known: {money(last.limit, last.currency)} since {since}{known_as(last.known)}"
    if row.limit is None:
        said += f"; superseded since about {month(row.since)} by one that is not known here: look it up"
    yield f"{said}. It is held against the income of the calendar year before the payment."


def fees_to_json(due: Due, book: Rulebook, how: str, *, late: bool) -> bytes:
    """Amounts in whole units of the currency; null where there was no such rate."""
    currency = _currency(book)
    data = {
        "schema": SCHEMA,
        "rulebook": {"id": book.id, "edition": book.edition, "sha256": book.sha256},
        "fees_checked_on": book.fees_checked_on,
        "payment_date": due.payment_date,
        "payment_date_how": how,
        "currency": currency,
        "entity": due.entity.name,
        "entity_how": clean(due.entity.how_known),
        "late": late,
        "sheets": due.sheets,
        "papers": [{"role": p.role, "file": clean(p.file), "pages": p.pages} for p in due.papers],
        "uncounted": [{"file": clean(u.file), "pages": u.pages, "why": clean(u.why)} for u in due.uncounted],
        "size": _size_as_data(due.size) if due.size else None,
        "rates": [_rate_as_data(rate) for rate in due.rates],
        "stated": [
            {
                "file": clean(s.place.file),
                "page": s.place.page or None,
                "amount": s.dollars,
                "said": stated_told(s, due, currency),
            }
            for s in due.stated
        ],
        "notes": list(notes_on(due, book)),
    }
    return encoded(data)


def _size_as_data(size: SizeSum) -> dict[str, Any]:
    return {
        "weight": size.weight,
        "weighed": float(size.weighed),
        "free": size.free,
        "each": size.each,
        "units": size.units,
        "said": size_told(size),
    }


def _rate_as_data(rate: Rate) -> dict[str, Any]:
    return {
        "entity": rate.entity,
        "lines": rate.lines,
        "total": rate.total,
        "surcharge_if_late": rate.surcharge,
    }


def _currency(book: Rulebook) -> str:
    return book.fees[0].currency if book.fees else ""


def show_fees(due: Due, book: Rulebook, how: str, sheet: Sheet) -> None:
    """The sum of the sheets, a worksheet for each rate, what the papers state, and what must be known."""
    currency = _currency(book)
    sheet.hang(styled(f"Fees for a payment on {day(due.payment_date)} ({how})", STRONG))
    sheet.hang(sum_of_sheets(due), indent=INDENT, label="sheets  ")
    if due.size:
        sheet.hang(size_told(due.size), indent=INDENT, label="size    ")
    who = due.entity.name or "not known: every rate is shown"
    sheet.hang(f"{who} ({due.entity.how_known})", indent=INDENT, label="entity  ")
    for rate in due.rates:
        _worksheet(rate, currency, sheet, at_least=bool(due.uncounted))
    if due.of_folder:
        sheet.heading("stated in the folder")
        for stated in due.stated:
            where = f"{stated.place.file}, page {stated.place.page}" if stated.place.page else stated.place.file
            sheet.hang(f"{where}: {stated_told(stated, due, currency)}", indent=INDENT)
        if not due.stated:
            sheet.hang("no paper states an amount", indent=INDENT)
    sheet.heading("look at")
    for note in notes_on(due, book):
        sheet.hang(note, indent=INDENT, label="- ")


def _worksheet(rate: Rate, currency: str, sheet: Sheet, *, at_least: bool) -> None:
    sheet.heading(rate.entity)
    rows = [_row(line, currency) for line in rate.lines]
    words = "total, at least" if at_least else "total"
    total = (
        "no rate"
        if rate.lines and rate.total is None
        else "not known"
        if rate.total is None
        else money(rate.total, currency)
    )
    rows.append((styled(words, STRONG), "", styled(total, STRONG), ""))
    if rate.surcharge is not None and rate.surcharge.amount is not None:
        rows.append(("only if fee or cover sheet comes late: further", *_row(rate.surcharge, currency)[1:]))
    sheet.rows(rows, right=(2,))


def _row(line: FeeLine, currency: str) -> tuple[Text | str, ...]:
    name = f"{line.name} (code {line.code})" if line.code else line.name
    each = "no rate" if line.each is None else f"{line.quantity} x {money(line.each, currency)}"
    amount = "-" if line.amount is None else money(line.amount, currency)
    return name, each, amount, styled(f"{line.citation}, since {day(line.since)}{known_as(line.known)}", FAINT)
