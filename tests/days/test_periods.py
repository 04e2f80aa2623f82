"""The periods of the US rulebook against worked examples; K numbers: RULES-us-filing 9a, with its source."""

from __future__ import annotations

import datetime as dt

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from preflight.days import ClockWasChanged, Ended, OfficeDays, ended, office_day
from preflight.testing import rulebook

DAY = dt.date
BOOK = rulebook("us")
OFFICE = OfficeDays(BOOK.holidays, BOOK.closed_days)
PERIODS = {period.id: period for period in BOOK.periods}


def end_of(name: str, start: DAY) -> Ended:
    return ended(PERIODS[name], start, OFFICE)


@pytest.mark.parametrize(
    ("filed", "counted", "end"),
    [
        (DAY(1999, 1, 15), DAY(2000, 1, 15), DAY(2000, 1, 18)),  # K28, MPEP 201.04 as remembered; derived
        (DAY(1999, 11, 30), DAY(2000, 11, 30), DAY(2000, 11, 30)),  # K30, office examination of October 2003
        (DAY(2002, 12, 3), DAY(2003, 12, 3), DAY(2003, 12, 3)),  # K31, third party
        (DAY(2005, 12, 16), DAY(2006, 12, 16), DAY(2006, 12, 18)),  # K32, third party's question, derived
        (DAY(2012, 6, 15), DAY(2013, 6, 15), DAY(2013, 6, 17)),  # K33, paralegal article
        (DAY(2018, 10, 4), DAY(2019, 10, 4), DAY(2019, 10, 4)),  # K34, guide
        (DAY(2019, 2, 15), DAY(2020, 2, 15), DAY(2020, 2, 18)),  # K35, practitioner article
        (DAY(2024, 1, 20), DAY(2025, 1, 20), DAY(2025, 1, 21)),  # K36, derived: King day and Inauguration Day
        (DAY(2024, 2, 29), DAY(2025, 2, 28), DAY(2025, 2, 28)),  # K37, derived
        (DAY(2024, 12, 24), DAY(2025, 12, 24), DAY(2025, 12, 29)),  # K38, derived, closures by third party
        (DAY(2020, 12, 31), DAY(2021, 12, 31), DAY(2022, 1, 3)),  # K39, derived: New Year's Day kept on 31 December
        (DAY(2025, 1, 19), DAY(2026, 1, 19), DAY(2026, 1, 20)),  # K41, derived
        (DAY(2025, 6, 19), DAY(2026, 6, 19), DAY(2026, 6, 22)),  # K42, derived
        (DAY(2025, 7, 3), DAY(2026, 7, 3), DAY(2026, 7, 6)),  # K43, derived: 4 July kept on Friday
        (DAY(2025, 7, 4), DAY(2026, 7, 4), DAY(2026, 7, 6)),  # K44, derived
        (DAY(2025, 9, 5), DAY(2026, 9, 5), DAY(2026, 9, 8)),  # K45, derived
        (DAY(2025, 11, 25), DAY(2026, 11, 25), DAY(2026, 11, 25)),  # K46, derived
        (DAY(2025, 11, 26), DAY(2026, 11, 26), DAY(2026, 11, 27)),  # K47, derived
        (DAY(2025, 12, 25), DAY(2026, 12, 25), DAY(2026, 12, 28)),  # K48, derived
        (DAY(2026, 11, 25), DAY(2027, 11, 25), DAY(2027, 11, 26)),  # K49, derived
        (DAY(2028, 1, 19), DAY(2029, 1, 19), DAY(2029, 1, 19)),  # K50, derived: no roll, a note
    ],
)
def test_twelve_months(filed: DAY, counted: DAY, end: DAY) -> None:
    assert (end_of("nonprovisional", filed).counted, end_of("nonprovisional", filed).end) == (counted, end)
    assert end_of("elsewhere", filed).end == counted  # 35 USC 119(e)(3) second sentence: no US holiday helps there


@pytest.mark.parametrize(
    ("filed", "end"),
    [
        (DAY(2024, 2, 29), DAY(2025, 4, 29)),  # K37, derived
        (DAY(2025, 12, 31), DAY(2027, 3, 1)),  # K40, derived: 28 February 2027 is a Sunday
        (DAY(2025, 11, 25), DAY(2027, 1, 25)),  # K46, derived
        (DAY(2026, 11, 25), DAY(2028, 1, 25)),  # K49, derived
        (DAY(2025, 7, 4), DAY(2026, 9, 4)),  # from the provisional, not from the moved 6 July: the earlier reading
    ],
)
def test_fourteen_months(filed: DAY, end: DAY) -> None:
    assert end_of("restoration", filed).end == end


@pytest.mark.parametrize(
    ("shown", "end"),
    [
        (DAY(2025, 3, 10), DAY(2026, 3, 10)),  # K53, derived
        (DAY(2025, 11, 28), DAY(2026, 11, 30)),  # K54, derived with MPEP 2153.01(a)
    ],
)
def test_the_year_of_grace(shown: DAY, end: DAY) -> None:
    assert end_of("grace", shown).end == end


def test_the_bar_on_filing_abroad() -> None:
    # 35 USC 184(a): six months, calendar months without any moving; 25 April 2026 is a Saturday
    bar = end_of("licence", DAY(2025, 10, 25))
    assert (bar.end, bar.free_from) == (DAY(2026, 4, 25), DAY(2026, 4, 26))


def test_before_the_law_of_1999() -> None:
    # K29, third party: an end before 29 November 1999 did not move. 28 November 1999 was a Sunday
    old = end_of("nonprovisional", DAY(1998, 11, 28))
    assert (old.end, old.passed) == (DAY(1999, 11, 28), ())
    assert "Sunday" in old.doubts[0]
    assert end_of("nonprovisional", DAY(1998, 11, 27)).doubts[0].startswith("Saturday")


def test_what_is_not_sure_is_told() -> None:
    assert end_of("nonprovisional", DAY(2024, 12, 24)).without_hearsay == DAY(2025, 12, 24)  # K38
    assert end_of("nonprovisional", DAY(2028, 1, 19)).doubts  # K50
    sure = end_of("nonprovisional", DAY(2025, 11, 26))
    assert (sure.without_hearsay, sure.doubts) == (None, ())


def test_a_leap_day_says_that_the_month_lacks_it() -> None:
    assert end_of("elsewhere", DAY(2024, 2, 29)).month_end
    assert not end_of("elsewhere", DAY(2023, 2, 28)).month_end


@given(st.dates(DAY(1999, 1, 1), DAY(2040, 12, 31)), st.sampled_from(sorted(PERIODS)))
def test_against_dateutil_and_the_calendar(start: DAY, name: str) -> None:
    found = end_of(name, start)
    assert found.counted == start + relativedelta(months=PERIODS[name].months)
    assert found.counted <= found.end <= found.counted + dt.timedelta(days=7)
    if PERIODS[name].moves and found.counted >= DAY(1999, 11, 29):
        assert found.end.weekday() < 5
        assert (found.end == found.counted) == (OFFICE.closure(found.counted) is None)
    else:
        assert found.end == found.counted


def moment(text: str) -> dt.datetime:
    return dt.datetime.fromisoformat(text)


@pytest.mark.parametrize(
    ("when", "day"),
    [
        ("2026-06-30T21:30:00-07:00", DAY(2026, 7, 1)),  # K51, derived from 37 CFR 1.6(a)(4)
        ("2026-11-29T23:59:59-05:00", DAY(2026, 11, 29)),  # K52: a Sunday keeps its date
        ("2017-01-20T20:00:00-05:00", DAY(2017, 1, 20)),  # K20, office status page: so does a holiday
        ("2026-11-26T05:30:00+01:00", DAY(2026, 11, 25)),  # half past five in Central Europe: still the day before
        ("2026-07-01T05:30:00+02:00", DAY(2026, 6, 30)),  # 23:30 in summer time; a fixed UTC-5 would say 22:30
        ("2026-07-01T04:30:00+00:00", DAY(2026, 7, 1)),  # 00:30 in summer time; a fixed UTC-5 would say 30 June
    ],
)
def test_the_day_at_the_office(when: str, day: DAY) -> None:
    assert office_day(moment(when), BOOK.timezone) == day


def test_a_time_on_a_wall_clock() -> None:
    late = moment("2026-06-30T21:30")
    assert office_day(late, BOOK.timezone, seen_in="America/Los_Angeles") == DAY(2026, 7, 1)
    assert office_day(late, BOOK.timezone) == DAY(2026, 6, 30)
    assert office_day(moment("2026-11-30T23:30"), BOOK.timezone, seen_in="Europe/Berlin") == DAY(2026, 11, 30)


@pytest.mark.parametrize("night", ["2026-11-01T01:30", "2026-03-08T02:30"])  # shown twice; never shown
def test_a_night_in_which_the_clock_was_changed(night: str) -> None:
    with pytest.raises(ClockWasChanged):
        office_day(moment(night), BOOK.timezone)
