"""The end of a period."""

from __future__ import annotations

import datetime as dt

import msgspec

from preflight.days.counting import months_after
from preflight.days.office import Closure, OfficeDays
from preflight.facts.calendar import Period


class Ended(msgspec.Struct, frozen=True):
    """How a period was counted."""

    period: Period
    start: dt.date
    """The day of the event."""
    counted: dt.date
    """The corresponding day, before any moving."""
    end: dt.date
    """The day that counts."""
    passed: tuple[Closure, ...] = ()
    """The days without business that moved it."""
    without_hearsay: dt.date | None = None
    """An earlier end, if closures known from third parties only are left out; None if none was used."""
    doubts: tuple[str, ...] = ()
    """What a person must look at."""

    @property
    def month_end(self) -> bool:
        """Whether the month lacked the corresponding day."""
        return self.counted.day != self.start.day

    @property
    def free_from(self) -> dt.date:
        """The day after: with a bar the first on which it no longer holds."""
        return self.end + dt.timedelta(days=1)


def ended(period: Period, start: dt.date, office: OfficeDays) -> Ended:
    """Count the months, then move on from days without business if the law lets this period move."""
    counted = months_after(start, period.months)
    if not period.moves:
        return Ended(period, start, counted, counted)
    if period.moves_since is not None and counted < period.moves_since:
        closed = office.closure(counted)
        doubt = f"{closed.why}: before {period.moves_since.isoformat()} such an end did not move" if closed else ""
        return Ended(period, start, counted, counted, doubts=(doubt,) if doubt else ())
    end, passed = office.next_business_day(counted)
    sure, _ = office.next_business_day(counted, on_hearsay=False)
    doubts = (*(d for c in passed for d in office.doubts(c.day)), *office.doubts(end))
    return Ended(period, start, counted, end, passed, sure if sure != end else None, doubts)
