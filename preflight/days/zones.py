"""Which day it is at the office when it is some time elsewhere."""

from __future__ import annotations

import datetime as dt
from zoneinfo import ZoneInfo


class ClockWasChanged(Exception):
    """A wall clock showed this time twice or never in that night: only an offset from UTC says which is meant."""


def office_day(moment: dt.datetime, timezone: str, *, seen_in: str | None = None) -> dt.date:
    """The date at an office in `timezone`, summer time and all.

    `moment` holds its offset from UTC, or is the time on a wall clock in the zone `seen_in`. Raises ClockWasChanged
    where such a clock was changed.
    """
    if moment.tzinfo is None:
        moment = moment.replace(tzinfo=ZoneInfo(seen_in or timezone))
        if moment.utcoffset() != moment.replace(fold=1).utcoffset():
            raise ClockWasChanged
    return moment.astimezone(ZoneInfo(timezone)).date()
