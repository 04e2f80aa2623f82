"""The date written beside a signature, in the styles that people use."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator

from preflight.papers.words.lettering import flat

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_YEAR_FIRST = re.compile(r"\b(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})\b")
_YEAR_LAST = re.compile(r"\b(\d{1,2})[-/.](\d{1,2})[-/.](\d{4}|\d{2})\b")
_MONTH_FIRST = re.compile(r"\b([A-Za-z]{3,9})\.?\s+(\d{1,2})(?:st|nd|rd|th)?,?\s+(\d{4})\b")
_DAY_FIRST = re.compile(r"\b(\d{1,2})(?:st|nd|rd|th)?[\s\-]+([A-Za-z]{3,9})\.?,?[\s\-]+(\d{4})\b")


def days_written(text: str) -> tuple[dt.date, ...]:
    """Every day that a text may mean: "11/12/2026" is 12 November in the US, 11 December elsewhere. None: no date."""
    return tuple(sorted({day for day in _days(flat(text)) if day}))


def _days(text: str) -> Iterator[dt.date | None]:
    for year, month, day in _YEAR_FIRST.findall(text):
        yield _day(year, month, day)
    for first, second, year in _YEAR_LAST.findall(text):
        full = year if len(year) == 4 else f"20{year}"
        yield _day(full, first, second)
        yield _day(full, second, first)
    for month, day, year in _MONTH_FIRST.findall(text):
        yield _day(year, _month(month), day)
    for day, month, year in _DAY_FIRST.findall(text):
        yield _day(year, _month(month), day)


def _month(word: str) -> str:
    short = word[:3].casefold()
    return str(_MONTHS.index(short) + 1) if short in _MONTHS else "0"


def _day(year: str, month: str, day: str) -> dt.date | None:
    try:
        return dt.date(int(year), int(month), int(day))
    except ValueError:
        return None
