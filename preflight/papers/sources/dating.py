"""Whether a word processor's file was saved after the PDF was made, by what both say of themselves."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence

from preflight.facts import FileFacts

SOON = dt.timedelta(minutes=2)
"""Who saves so soon after the export changed nothing in between. House value."""

_PDF_DATE = re.compile(r"D:(\d{4})(\d\d)(\d\d)(\d\d)?(\d\d)?(\d\d)?(?:(Z)|([+-])(\d\d)'?(\d\d)?)?")
"""ISO 32000-1, 7.9.4."""


def saved_later(source: FileFacts, made: Sequence[FileFacts]) -> bool | None:
    """Whether it was saved after the last of these PDFs was made; None if the dates do not tell."""
    saved = _saved(source)
    dates = [date for file in made if (date := _made(file))]
    return None if saved is None or not dates else all(_apart(saved, date) > SOON for date in dates)


def saved_at(source: FileFacts) -> dt.datetime:
    """For putting sources in order; the earliest date there is where it says none."""
    return (_saved(source) or dt.datetime.min).replace(tzinfo=None)


def _apart(later: dt.datetime, earlier: dt.datetime) -> dt.timedelta:
    """Where one of them does not know its time zone, both clocks are taken to show the same."""
    if later.tzinfo is None or earlier.tzinfo is None:
        later, earlier = later.replace(tzinfo=None), earlier.replace(tzinfo=None)
    return later - earlier


def _saved(source: FileFacts) -> dt.datetime | None:
    try:
        return dt.datetime.fromisoformat(source.source.saved) if source.source else None
    except ValueError:
        return None


def _made(file: FileFacts) -> dt.datetime | None:
    found = _PDF_DATE.match(file.structure.info.get("CreationDate", "")) if file.structure else None
    if found is None:
        return None
    *parts, utc, sign, hours, minutes = found.groups()
    year, month, day, hour, minute, second = (int(part or 0) for part in parts)
    try:
        away = dt.timedelta(hours=int(hours or 0), minutes=int(minutes or 0))
        zone = dt.timezone(-away if sign == "-" else away) if utc or sign else None
        return dt.datetime(year, month, day, hour, minute, second, tzinfo=zone)
    except ValueError:
        return None
