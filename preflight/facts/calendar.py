"""Times that run, and days on which an office does no business, as data: periods, rules of holidays, closed days.

Nothing is computed here.
"""

from __future__ import annotations

import datetime as dt
from typing import Literal

import msgspec

Weekday = Literal["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"]


class Holiday(msgspec.Struct, frozen=True, kw_only=True):
    """A holiday that comes back: on a fixed day (`month`, `day`) or on a weekday (`month`, `weekday`, `nth`)."""

    id: str
    name: str
    month: int
    day: int | None = None
    weekday: Weekday | None = None
    nth: int | None = None
    """1 to 4, or -1 for the last of the month."""
    every_years: int = 1
    after_year: int | None = None
    """With `every_years`: the first is so many years after this one."""
    on_saturday: Literal["Friday before", "none"] | None = None
    """The day that is kept when it falls on a Saturday; none: no other day is known to take its place."""
    on_sunday: Literal["Monday after"] | None = None
    since: dt.date | None = None
    """The first day on which the rule held; None: before all days that matter here."""
    until: dt.date | None = None
    citation: str
    known: str
    note: str = ""


class ClosedDay(msgspec.Struct, frozen=True, kw_only=True):
    """A day on which the whole office was closed for all of it, or of which somebody might think so."""

    day: dt.date
    closed: bool = True
    """False: not closed, although other accounts or the occasion suggest it."""
    next_business_day: dt.date | None = None
    """The day on which what fell due was still in time; None where it was not closed or this is not known."""
    why: str = ""
    citation: str
    known: str
    """Only read is sure; for the others a person must look."""


class Period(msgspec.Struct, frozen=True, kw_only=True):
    """A time of so many months that runs from an event; the day of the event is not counted."""

    id: str
    name: str
    months: int
    counts_from: Literal["filing", "disclosure"]
    ends: Literal["last day", "bar", "last resort"]
    """Last day: something can be done up to and including it. Bar: something must not, as long. Last resort: a last day
    that helps only after another was missed; nobody is reminded of it as if it were a plan."""
    moves: bool
    """Whether an end on a day without business moves to the office's next business day."""
    moves_since: dt.date | None = None
    """An end before this day did not move."""
    citations: tuple[str, ...]
    known: str
    """read, third party or memory."""
    caution: str
