"""Months counted from a day."""

from __future__ import annotations

import datetime as dt
from calendar import monthrange

_YEAR = 12


def months_after(day: dt.date, months: int) -> dt.date:
    """The corresponding day so many months later; where that month lacks it, its last day.

    The day counted from is not counted itself. Raises ValueError beyond the years that a date can hold.
    """
    past, month = divmod(day.month - 1 + months, _YEAR)
    year = day.year + past
    if not dt.MINYEAR <= year <= dt.MAXYEAR:
        raise ValueError(f"year {year} is out of range")
    return dt.date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))
