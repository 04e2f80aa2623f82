"""Amounts of an office's fee schedule, as dated data."""

from __future__ import annotations

import datetime as dt

import msgspec

ENTITIES = ("undiscounted", "small", "micro")


class Fee(msgspec.Struct, frozen=True, kw_only=True):
    """One fee from one day on, in whole units of `currency`. None where there was no such rate."""

    id: str
    """What it is for: basic, size, surcharge."""
    since: dt.date
    undiscounted: int
    small: int | None = None
    micro: int | None = None
    citation: str
    known: str
    """read, third party or memory."""
    name: str = ""
    codes: tuple[str, ...] = ()
    """The schedule's own codes, in the order of ENTITIES."""
    currency: str = "USD"
    sheets_free: int = 0
    """Size fee: this many sheets cost nothing."""
    sheets_each: int = 0
    """Size fee: one unit for each such number of further sheets or a part of it."""
    sheet_weight: float = 1.0
    """Size fee: what a page counts when filed electronically."""

    def amount(self, entity: str) -> int | None:
        """The amount for "undiscounted", "small" or "micro"."""
        return {"undiscounted": self.undiscounted, "small": self.small, "micro": self.micro}[entity]


class IncomeLimit(msgspec.Struct, frozen=True, kw_only=True):
    """The greatest gross income with which the micro fee may be paid, from one day on; equal to it still passes."""

    since: dt.date
    day_known: bool = False
    """Whether that day is known; if not only its month is, and a payment in that month must ask."""
    income_year: int
    """The calendar year of the median income."""
    median: int | None = None
    limit: int | None = None
    """None: there is one, but it is not known here; an older limit must never be shown as the current one."""
    citation: str
    known: str
    """read, third party or memory: the better of limit and median."""
    currency: str = "USD"


def last_limits(limits: tuple[IncomeLimit, ...], day: dt.date) -> tuple[IncomeLimit | None, IncomeLimit | None]:
    """The row of that day, which may have no limit, and the newest row until then that has one."""
    rows = sorted((row for row in limits if row.since <= day), key=lambda row: row.since)
    known = [row for row in rows if row.limit is not None]
    return (rows[-1] if rows else None), (known[-1] if known else None)


def in_force(fees: tuple[Fee, ...], fee_id: str, day: dt.date) -> Fee | None:
    """The newest row for `fee_id` that was in force on `day`; None if the table does not reach back so far."""
    rows = [f for f in fees if f.id == fee_id and f.since <= day]
    return max(rows, key=lambda f: f.since, default=None)
