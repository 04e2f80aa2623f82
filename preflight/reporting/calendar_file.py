"""Days that follow from a filing as a calendar file (RFC 5545): all-day events with reminders."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Sequence

from icalendar import Alarm, Calendar, Event

from preflight import __version__
from preflight.days import Ended
from preflight.reporting.dates_told import MAKER, Asked, cautions_of, how_counted, title
from preflight.reporting.wording import clean, counted
from preflight.rulebooks import Rulebook

REMIND_DAYS = (90, 30, 7, 1)
"""So many days before a last day; a house habit, no law."""
_MORNING = dt.timedelta(hours=9)
"""A reminder at midnight is slept through."""
_SERIES = uuid.UUID("5e0c3b0e-6a3f-4c3e-9a55-6d3f0b7a9d11")
"""Keeps our identifiers apart from all others."""


def calendar_file(asked: Asked, ends: Sequence[Ended], book: Rulebook, now: dt.datetime) -> bytes:
    """The file; `now`, with its time zone, becomes the stamp of each event.

    The same filing, docket and disclosure give the same identifiers, so that a second import renews the first.
    """
    calendar = Calendar()
    calendar.add("prodid", f"{MAKER} {__version__}//EN")
    calendar.add("version", "2.0")
    for one in ends:
        calendar.add_component(_event(one, asked, book, now))
    return bytes(calendar.to_ical())


def _event(one: Ended, asked: Asked, book: Rulebook, now: dt.datetime) -> Event:
    case = clean(asked.docket)
    summary = f"{f'{case}: ' if case else ''}{title(one)}"
    parts = [how_counted(one), *cautions_of(one, asked), "; ".join(one.period.citations), _source(book)]
    event = Event()
    event.add("uid", str(uuid.uuid5(_SERIES, "|".join((book.id, one.period.id, case, one.start.isoformat())))))
    event.add("dtstamp", now.astimezone(dt.UTC).replace(microsecond=0))
    event.add("dtstart", one.end)
    event.add("dtend", one.end + dt.timedelta(days=1))
    event.add("summary", summary)
    event.add("description", "\n".join(parts))
    event.add("transp", "TRANSPARENT")
    for days in REMIND_DAYS if one.period.ends == "last day" else ():
        event.add_component(_reminder(f"in {counted(days, 'days')}: {summary}", days))
    return event


def _reminder(said: str, days: int) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", said)
    alarm.add("trigger", _MORNING - dt.timedelta(days=days))
    return alarm


def _source(book: Rulebook) -> str:
    return f"{book.title}, edition of {book.edition.isoformat()}. Not legal advice: compare with the office's notices."
