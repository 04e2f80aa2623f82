"""The filer's clock against the office's: which day it is there, and how much of it is left."""

from __future__ import annotations

from zoneinfo import ZoneInfo

import msgspec

from preflight.checks.api import NoLimits, Outcomes, Seen, check
from preflight.papers import Filing


class Hours(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The full hour of the office's day, 0 to 23, from which it is late."""

    late: int


@check("office-day", of=Filing, takes=NoLimits, says=("office",))
def office_day(filing: Filing, _: NoLimits) -> Outcomes:
    """Look whether the day of filing, today by the filer's clock, is over at the office. Other days are not judged."""
    if filing.clock is None:
        return
    there = filing.clock.astimezone(ZoneInfo(filing.office_zone)).date()
    today = filing.clock.date()
    if filing.filing_date in (today, there):
        yield Seen(
            what="day of filing",
            held=not today == filing.filing_date < there,
            measured=filing.filing_date.isoformat(),
            required=there.isoformat(),
            words={"office": there.isoformat()},
        )


@check("time-left", of=Filing, takes=Hours)
def time_left(filing: Filing, hours: Hours) -> Outcomes:
    """Look at the office's clock if the filer has named today as the day of filing: then the day may matter."""
    if filing.clock is None:
        return
    there = filing.clock.astimezone(ZoneInfo(filing.office_zone))
    if filing.declared.filing_date == there.date():
        yield Seen(
            what="time at the office",
            held=there.hour < hours.late,
            measured=f"{there:%H:%M}",
            required=f"{hours.late}:00",
            fleeting=True,
        )
