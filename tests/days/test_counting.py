"""Months against published worked examples and against dateutil."""

from __future__ import annotations

import datetime as dt

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from preflight.days import months_after

DAY = dt.date
DAYS = st.dates(DAY(1999, 1, 1), DAY(2040, 12, 31))


@pytest.mark.parametrize(
    ("start", "months", "end"),
    [
        (DAY(2022, 11, 30), 3, DAY(2023, 2, 28)),  # K1, MPEP 710.01(a): 30 November ends on 28 February
        (DAY(2023, 11, 30), 3, DAY(2024, 2, 29)),  # K1, 29 February in a leap year
        (DAY(2023, 2, 28), 3, DAY(2023, 5, 28)),  # K2, same: 28 May, not 31 May
        (DAY(2024, 1, 31), 3, DAY(2024, 4, 30)),  # K3, same
        (DAY(2024, 1, 31), 4, DAY(2024, 5, 31)),  # K3: the further month counts from the original date
        (DAY(2019, 5, 15), 3, DAY(2019, 8, 15)),  # K4, MPEP 711.04(a)
        (DAY(1983, 1, 3), 12, DAY(1984, 1, 3)),  # K5, MPEP 213.03
        (DAY(1999, 11, 30), 12, DAY(2000, 11, 30)),  # K30, office examination of October 2003: 28 November is in time
        (DAY(2024, 2, 29), 12, DAY(2025, 2, 28)),  # K37, derived
        (DAY(2024, 2, 29), 14, DAY(2025, 4, 29)),  # K37, derived
        (DAY(2023, 2, 28), 12, DAY(2024, 2, 28)),  # into a leap year: the corresponding day, not the month's end
        (DAY(2026, 12, 31), 2, DAY(2027, 2, 28)),
    ],
)
def test_worked_examples(start: DAY, months: int, end: DAY) -> None:
    assert months_after(start, months) == end


@given(DAYS, st.integers(0, 60))
def test_as_dateutil_counts(day: DAY, months: int) -> None:
    assert months_after(day, months) == day + relativedelta(months=months)


@given(DAYS, st.integers(0, 60))
def test_a_later_start_never_ends_earlier(day: DAY, months: int) -> None:
    assert months_after(day, months) <= months_after(day + dt.timedelta(days=1), months)


def test_beyond_the_calendar() -> None:
    with pytest.raises(ValueError, match="10000"):
        months_after(DAY(9999, 6, 1), 12)
