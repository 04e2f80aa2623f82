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
SURCHARGE = "surcharge"
"""The id of the rows for the surcharge on a fee or cover sheet that comes late."""
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


class SizeSum(msgspec.Struct, frozen=True):
    """How a number of sheets becomes units of the size fee. Exact: nothing is rounded before the comparison."""

    sheets: int
    weight: float
    """What a sheet counts when filed electronically."""
    free: int
    each: int
    """So many further sheets, or a part of them, make one unit."""

    @property
    def weighed(self) -> Fraction:
        """What the sheets come to."""
        return self.sheets * Fraction(str(self.weight))

    @property
    def over(self) -> Fraction:
        """What is not free."""
        return max(Fraction(0), self.weighed - self.free)

    @property
    def units(self) -> int:
        """How often the size fee is due."""
        return math.ceil(self.over / self.each) if self.each > 0 else 0


def sheet_count(filing: Filing) -> int:
    """Pages of specification, claims, abstract and drawings together."""
    return sum(len(paper.pages) for paper in filing.with_role(*COUNTED_ROLES))


def size_sum(sheets: int, fee: Fee) -> SizeSum:
    """The reckoning by one row of the size fee."""
    return SizeSum(sheets, fee.sheet_weight, fee.sheets_free, fee.sheets_each)


def size_units(sheets: int, fee: Fee) -> int:
    """How often the size fee is due."""
    return size_sum(sheets, fee).units


def worksheet(
    fees: Sequence[Fee], entity: str, sheets: int, payment_date: dt.date, *, late: bool = False
) -> tuple[FeeLine, ...]:
    """The basic fee, the size fee if due, the surcharge if `late`, by the rows in force on the day of payment.

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
    surcharge = in_force(table, SURCHARGE, payment_date) if late else None
    if surcharge is not None:
        lines.append(_line(surcharge, entity, 1))
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
