"""Business days of the office against published notices, the holiday library, and what the rules say.

K numbers: RULES-us-filing 9a, whose own source is named beside each.
"""

from __future__ import annotations

import datetime as dt

import holidays
import pytest
from hypothesis import given
from hypothesis import strategies as st

from preflight.days import OfficeDays
from preflight.testing import rulebook

DAY = dt.date
BOOK = rulebook("us")
OFFICE = OfficeDays(BOOK.holidays, BOOK.closed_days)
WITHOUT_CLOSED_DAYS = OfficeDays(BOOK.holidays)
GAZETTE = "Official Gazette notice"


@pytest.mark.parametrize(
    ("due", "end", "source"),
    [
        (DAY(1999, 7, 5), DAY(1999, 7, 6), "K6, office registration examination with model answer"),
        (DAY(1987, 1, 26), DAY(1987, 1, 27), f"K7, {GAZETTE}"),
        (DAY(1987, 2, 23), DAY(1987, 2, 24), f"K8, {GAZETTE}"),
        (DAY(1989, 1, 20), DAY(1989, 1, 23), f"K9, {GAZETTE}"),
        (DAY(1994, 1, 20), DAY(1994, 1, 21), f"K10, {GAZETTE}"),
        (DAY(1994, 2, 11), DAY(1994, 2, 14), f"K11, {GAZETTE}"),
        (DAY(1994, 4, 27), DAY(1994, 4, 28), f"K12, {GAZETTE}"),
        (DAY(1996, 1, 8), DAY(1996, 1, 11), f"K13, {GAZETTE}"),
        (DAY(1996, 1, 9), DAY(1996, 1, 11), f"K13, {GAZETTE}"),
        (DAY(1996, 1, 10), DAY(1996, 1, 11), f"K13, {GAZETTE}"),
        (DAY(1996, 1, 12), DAY(1996, 1, 16), f"K14, {GAZETTE}"),
        (DAY(2001, 12, 22), DAY(2001, 12, 26), "K15, office press release"),
        (DAY(2001, 12, 23), DAY(2001, 12, 26), "K15, office press release"),
        (DAY(2001, 12, 24), DAY(2001, 12, 26), "K15, office press release"),
        (DAY(2001, 12, 25), DAY(2001, 12, 26), "K15, office press release"),
        (DAY(2003, 2, 18), DAY(2003, 2, 19), f"K16, {GAZETTE}"),
        (DAY(2003, 2, 15), DAY(2003, 2, 19), "K16, derived"),
        (DAY(2014, 1, 21), DAY(2014, 1, 22), f"K17, {GAZETTE}"),
        (DAY(2015, 3, 5), DAY(2015, 3, 6), f"K18, {GAZETTE}"),
        (DAY(2015, 12, 24), DAY(2015, 12, 24), "K19, third party: half a day off is no closure"),
        (DAY(2017, 1, 20), DAY(2017, 1, 23), "K20, office status page"),
        (DAY(2018, 3, 2), DAY(2018, 3, 5), f"K21, {GAZETTE}"),
        (DAY(2018, 3, 21), DAY(2018, 3, 22), f"K22, {GAZETTE}"),
        (DAY(2021, 6, 18), DAY(2021, 6, 21), "K23, office alert"),
        (DAY(2021, 7, 5), DAY(2021, 7, 6), "K24, derived"),
        (DAY(2024, 12, 24), DAY(2024, 12, 26), "K25, third party quoting the office"),
        (DAY(2024, 12, 25), DAY(2024, 12, 26), "K25, third party quoting the office"),
    ],
)
def test_worked_examples(due: DAY, end: DAY, source: str) -> None:
    assert OFFICE.next_business_day(due)[0] == end, source


def test_inauguration_day_needs_no_list_of_closed_days() -> None:
    # K20, office status page
    assert WITHOUT_CLOSED_DAYS.next_business_day(DAY(2017, 1, 20))[0] == DAY(2017, 1, 23)


def test_each_closed_day_leads_to_the_next_business_day_that_its_notice_names() -> None:
    for closed in BOOK.closed_days:
        if closed.next_business_day:
            assert OFFICE.next_business_day(closed.day)[0] == closed.next_business_day


@pytest.mark.parametrize(
    ("day", "holiday"),
    [
        (DAY(2021, 6, 18), True),  # K26, office alert
        (DAY(2020, 6, 19), False),  # K26, before the act
        (DAY(2021, 12, 31), True),  # K27: New Year's Day of 2022
        (DAY(2029, 1, 19), False),  # K27: the day before a Saturday Inauguration Day
        (DAY(2013, 1, 21), True),  # Inauguration Day on a Sunday is kept on Monday (5 USC 6103(c)), here King day too
        (DAY(2023, 1, 20), False),  # no year of an Inauguration
    ],
)
def test_holidays_with_a_trap(day: DAY, holiday: bool) -> None:
    assert (WITHOUT_CLOSED_DAYS.closure(day) is not None) == holiday


def test_new_year_kept_in_the_old_year_says_so() -> None:
    closure = OFFICE.closure(DAY(2021, 12, 31))
    assert closure
    assert closure.why == "New Year's Day, kept for Saturday 2022-01-01"


def test_what_a_person_must_look_at() -> None:
    assert "Inauguration Day falls on the Saturday after" in " ".join(OFFICE.doubts(DAY(2029, 1, 19)))  # K27, K50
    assert "half a day off" in " ".join(OFFICE.doubts(DAY(2015, 12, 24)))  # K19
    assert "from memory" in " ".join(OFFICE.doubts(DAY(2025, 1, 9)))
    assert list(OFFICE.doubts(DAY(2026, 11, 25))) == []


def test_memory_alone_moves_no_day() -> None:
    for closed in BOOK.closed_days:
        if closed.known == "memory" and OFFICE.closure(closed.day):
            assert WITHOUT_CLOSED_DAYS.closure(closed.day), closed.day


def test_hearsay_moves_a_day_but_is_told_apart() -> None:
    end, passed = OFFICE.next_business_day(DAY(2025, 12, 24))
    assert end == DAY(2025, 12, 29)
    assert [(c.day.day, c.sure) for c in passed] == [(24, False), (25, True), (26, False), (27, True), (28, True)]
    assert OFFICE.next_business_day(DAY(2025, 12, 24), on_hearsay=False) == (DAY(2025, 12, 24), ())


EXPLAINED = {
    **{DAY(year, 1, 20): "the library has no Inauguration Day for the whole country" for year in range(1973, 2041, 4)},
}
"""Days that only we or only the library keep, and why."""


def test_holidays_are_those_of_a_general_library() -> None:
    """A second opinion: what it keeps for the whole country, weekdays of 1999 to 2040."""
    theirs = holidays.country_holidays("US", years=range(1998, 2042), observed=True)
    day = DAY(1999, 1, 1)
    apart = {}
    while day.year < 2041:
        if day.weekday() < 5 and (WITHOUT_CLOSED_DAYS.closure(day) is not None) != (day in theirs):
            apart[day] = theirs.get(day)
        day += dt.timedelta(days=1)
    assert {day: name for day, name in apart.items() if day not in EXPLAINED} == {}
    assert apart, "the library has learned of Inauguration Day: take the explanation away"


@given(st.dates(DAY(1999, 1, 1), DAY(2040, 12, 31)))
def test_the_next_business_day(day: DAY) -> None:
    end, passed = OFFICE.next_business_day(day)
    assert OFFICE.closure(end) is None
    assert [c.day for c in passed] == [day + dt.timedelta(days=n) for n in range((end - day).days)]
    assert OFFICE.next_business_day(end) == (end, ())
    assert OFFICE.next_business_day(day, on_hearsay=False)[0] <= end


def test_the_ends_of_the_calendar() -> None:
    assert OFFICE.closure(DAY.min) is not None  # New Year's Day
    assert OFFICE.closure(DAY.max) is None
