"""Dates beside a signature, against the parser of a second library (python-dateutil) and by hand."""

from __future__ import annotations

import datetime as dt

import pytest
from dateutil import parser
from hypothesis import given
from hypothesis import strategies as st

from preflight.papers import days_written

DAYS = st.dates(dt.date(1999, 1, 1), dt.date(2040, 12, 31))


@given(DAYS, st.sampled_from(["%Y-%m-%d", "%m/%d/%Y", "%B %d, %Y", "%d %B %Y", "%b %d, %Y", "%d-%b-%Y"]))
def test_a_written_day_is_among_those_it_may_mean(day: dt.date, style: str) -> None:
    text = day.strftime(style)
    assert parser.parse(text).date() in days_written(text)
    assert day in days_written(text)


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("05/12/2026", [dt.date(2026, 5, 12), dt.date(2026, 12, 5)]),
        ("11/20/26", [dt.date(2026, 11, 20)]),
        ("signed on November 20th, 2026", [dt.date(2026, 11, 20)]),
        ("2026-02-30", []),
        ("today", []),
        ("20 Novembre 2026", [dt.date(2026, 11, 20)]),
        ("99,999", []),
    ],
)
def test_what_a_text_may_mean(text: str, days: list[dt.date]) -> None:
    assert list(days_written(text)) == days
