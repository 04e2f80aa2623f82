"""Days on which an office does no business, from its rules of holidays and its list of closed days."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from typing import get_args

import msgspec

from preflight.facts.calendar import ClosedDay, Holiday, Weekday

WEEKDAYS: tuple[str, ...] = get_args(Weekday)
"""In the order of `date.weekday()`."""
_FRIDAY, _SATURDAY, _SUNDAY = 4, 5, 6
_WEEK, _ONE = 7, dt.timedelta(days=1)
SURE = "read"
"""What was compared with a text of the office."""
HEARSAY = "third party"
"""What somebody tells of the office: it counts, and a person must look."""


class Closure(msgspec.Struct, frozen=True):
    """Why an office does no business on a day."""

    day: dt.date
    why: str
    """"Saturday", the name of a holiday, or the occasion of a closure."""
    citation: str = ""
    sure: bool = True
    """False: closed according to a third party."""


class OfficeDays(msgspec.Struct, frozen=True):
    """The calendar of one office."""

    holidays: tuple[Holiday, ...] = ()
    closed_days: tuple[ClosedDay, ...] = ()

    def closure(self, day: dt.date) -> Closure | None:
        """Why there is no business on this day: weekend, then holiday, then closure; None if there is."""
        if day.weekday() in (_SATURDAY, _SUNDAY):
            return Closure(day, WEEKDAYS[day.weekday()])
        for holiday, named in self._holidays_near(day):
            if _kept(holiday, named) == day:
                moved = "" if named == day else f", kept for {WEEKDAYS[named.weekday()]} {named.isoformat()}"
                return Closure(day, f"{holiday.name}{moved}", holiday.citation)
        for closed in self.closed_days:
            if closed.day == day and closed.closed and closed.known in (SURE, HEARSAY):
                return Closure(day, closed.why or "the office was closed", closed.citation, closed.known == SURE)
        return None

    def doubts(self, day: dt.date) -> Iterator[str]:
        """What a person must look at before taking this day for a business day."""
        for closed in self.closed_days:
            if closed.day == day and not closed.closed:
                yield f"no closure: {closed.why}"
            elif closed.day == day and closed.known not in (SURE, HEARSAY):
                yield "the office may have been closed on this day (from memory): look at its notices"
        for holiday, named in self._holidays_near(day):
            if named == day + _ONE and named.weekday() == _SATURDAY and holiday.on_saturday == "none":
                yield f"{holiday.name} falls on the Saturday after: {holiday.note}"

    def next_business_day(self, day: dt.date, *, on_hearsay: bool = True) -> tuple[dt.date, tuple[Closure, ...]]:
        """The day itself or the first after it with business, and every day passed over on the way.

        Without `on_hearsay` only closures that are sure are passed over.
        """
        passed: list[Closure] = []
        while (closed := self.closure(day)) is not None and (closed.sure or on_hearsay):
            passed.append(closed)
            day += _ONE
        return day, tuple(passed)

    def _holidays_near(self, day: dt.date) -> Iterator[tuple[Holiday, dt.date]]:
        """The holidays of this year and of those beside it: 31 December can be kept for 1 January."""
        for year in (day.year - 1, day.year, day.year + 1):
            for holiday in self.holidays:
                if dt.MINYEAR <= year <= dt.MAXYEAR and (named := _named(holiday, year)) is not None:
                    yield holiday, named


def _named(holiday: Holiday, year: int) -> dt.date | None:
    """The day that the rule names in a year; None in a year without it."""
    if holiday.after_year is not None:
        past = year - holiday.after_year
        if past <= 0 or past % holiday.every_years:
            return None
    if holiday.day is not None:
        return dt.date(year, holiday.month, holiday.day)
    nth = holiday.nth or 1
    wanted = WEEKDAYS.index(holiday.weekday or WEEKDAYS[0])
    if nth > 0:
        first = dt.date(year, holiday.month, 1)
        return first + dt.timedelta(days=(wanted - first.weekday()) % _WEEK + _WEEK * (nth - 1))
    last = (dt.date(year, holiday.month, 28) + dt.timedelta(days=4)).replace(day=1) - _ONE  # 28 + 4: always next month
    return last - dt.timedelta(days=(last.weekday() - wanted) % _WEEK + _WEEK * (-nth - 1))


def _kept(holiday: Holiday, named: dt.date) -> dt.date | None:
    """The day on which it is kept; None before or after the rule held, or where nothing takes a Saturday's place."""
    kept = named
    if named.weekday() == _SATURDAY:
        kept = named - _ONE if holiday.on_saturday == "Friday before" else named
    elif named.weekday() == _SUNDAY and holiday.on_sunday == "Monday after":
        kept = named + _ONE
    began = holiday.since is None or holiday.since <= kept
    return kept if began and (holiday.until is None or kept < holiday.until) else None
