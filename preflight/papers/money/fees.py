"""How many sheets count for the size fee, and what a payment on a given day comes to."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Sequence
from fractions import Fraction

import msgspec

from preflight.facts.money import ENTITIES, Fee, in_force
from preflight.papers.model import Filing

BASIC = "basic"
"""The id of the rows for the basic filing fee."""
SIZE = "size"
"""The id of the rows for the size fee."""
COUNTED_ROLES = ("specification", "claims", "abstract", "drawings")
"""Whose pages make up the application; forms and letters do not count."""


class FeeLine(msgspec.Struct, frozen=True):
    """One line of the fee worksheet. `each` and `amount` are None where the schedule had no such rate on that day."""

    id: str
    name: str
    code: str
    quantity: int
    each: int | None
    amount: int | None
    citation: str
    since: dt.date
    known: str


def sheet_count(filing: Filing) -> int:
    """Pages of specification, claims, abstract and drawings together."""
    return sum(len(paper.pages) for paper in filing.with_role(*COUNTED_ROLES))


def size_units(sheets: int, fee: Fee) -> int:
    """How often the size fee is due. Exact arithmetic, nothing is rounded before the comparison.

    The row says how much of a page counts, how many sheets are free, and how many make one unit.
    """
    if fee.sheets_each <= 0:
        return 0
    over = sheets * Fraction(str(fee.sheet_weight)) - fee.sheets_free
    return max(0, math.ceil(over / fee.sheets_each))


def worksheet(fees: Sequence[Fee], entity: str, sheets: int, payment_date: dt.date) -> tuple[FeeLine, ...]:
    """The basic fee, and the size fee if it is due, by the rows in force on the day of payment.

    Empty if the table does not reach back to that day: nothing is known then.
    """
    table = tuple(fees)
    lines: list[FeeLine] = []
    basic = in_force(table, BASIC, payment_date)
    if basic is not None:
        lines.append(_line(basic, entity, 1))
    size = in_force(table, SIZE, payment_date)
    units = size_units(sheets, size) if size is not None else 0
    if size is not None and units:
        lines.append(_line(size, entity, units))
    return tuple(lines)


def total(lines: Sequence[FeeLine]) -> int | None:
    """The sum of a worksheet; None for an empty one or where an amount is not known."""
    amounts = [line.amount for line in lines]
    if not amounts or any(amount is None for amount in amounts):
        return None
    return sum(amount for amount in amounts if amount is not None)


def _line(fee: Fee, entity: str, quantity: int) -> FeeLine:
    each = fee.amount(entity)
    code = fee.codes[ENTITIES.index(entity)] if len(fee.codes) == len(ENTITIES) else ""
    amount = None if each is None else each * quantity
    return FeeLine(fee.id, fee.name or fee.id, code, quantity, each, amount, fee.citation, fee.since, fee.known)
