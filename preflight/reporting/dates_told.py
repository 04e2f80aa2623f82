"""Days that follow from a filing: as JSON (schemas/dates.schema.json), and as a list for people."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from typing import Any

import msgspec

from preflight.days import Closure, Ended
from preflight.reporting.lines import FAINT, INDENT, STRONG, Sheet, styled
from preflight.reporting.machine import encoded
from preflight.reporting.wording import clean, counted, day, listed
from preflight.rulebooks import Rulebook

MAKER = "-//preflight//dates"
"""How the product identifier of our calendar files begins."""

SCHEMA = "preflight-dates/1"
_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
"""Not from the machine's language setting."""
_LABEL = "        "


class Asked(msgspec.Struct, frozen=True):
    """What was asked, and when."""

    filed: dt.date
    """The day at the office."""
    filed_how: str
    """In words: as given, or from which moment elsewhere."""
    today: dt.date
    """At the office."""
    disclosed: dt.date | None = None
    docket: str = ""


def weekday(date: dt.date) -> str:
    """A day with its weekday: "Friday 27 November 2026"."""
    return f"{_WEEKDAYS[date.weekday()]} {day(date)}"


BEFORE = {"last day": "last day", "bar": "last day of the bar", "last resort": "last resort"}
"""What kind of end it is, in words."""


def title(one: Ended) -> str:
    """What the day is for, in one line."""
    return f"{BEFORE[one.period.ends]}: {one.period.name}"


def how_counted(one: Ended) -> str:
    """The reckoning in words."""
    event = "filing" if one.period.counts_from == "filing" else "disclosure"
    said = f"{counted(one.period.months, 'months')} from the {event} on {weekday(one.start)}; that day is not counted"
    if one.month_end:
        said += f"; that month has no day {one.start.day}, so it ends on its last, {weekday(one.counted)}"
    else:
        said += f"; ends on the corresponding day, {weekday(one.counted)}"
    if one.passed:
        said += f"; no business on {listed(_closed(one.passed))}; moved to {weekday(one.end)}"
    elif one.period.ends == "bar":
        said += f"; no longer barred from {weekday(one.free_from)}"
    elif not one.period.moves:
        said += "; not moved by US weekends or holidays"
    return said


def _closed(passed: Sequence[Closure]) -> Iterator[str]:
    for closed in passed:
        yield f"{day(closed.day)} ({closed.why}{'' if closed.sure else ', according to a third party'})"


def cautions_of(one: Ended, asked: Asked) -> Iterator[str]:
    """What to look at before relying on the day, the gravest first."""
    if one.without_hearsay:
        yield (
            f"It rests on a closure that is known from a third party only: unless the office's own notice says so, the"
            f" last day is {weekday(one.without_hearsay)}."
        )
    yield from (f"Look at it: {doubt}." for doubt in one.doubts)
    if one.period.counts_from == "disclosure":
        yield _grace(one, asked.filed)
    yield one.period.caution


def _grace(one: Ended, filed: dt.date) -> str:
    if one.start > filed:
        return (
            f"The disclosure is later than the filing of {day(filed)}: it cannot hurt what the provisional discloses."
        )
    if filed <= one.end:
        return f"The filing of {day(filed)} is within the year, for what the provisional discloses."
    return f"The filing of {day(filed)} is after the year: this disclosure can be held against it, also in the US."


def dates_to_json(asked: Asked, ends: Sequence[Ended], book: Rulebook) -> bytes:
    """Each day with its reckoning; days as YYYY-MM-DD."""
    data = {
        "schema": SCHEMA,
        "rulebook": {"id": book.id, "edition": book.edition, "sha256": book.sha256},
        "timezone": book.timezone,
        "asked_on": asked.today,
        "filed": asked.filed,
        "filed_how": clean(asked.filed_how),
        "disclosed": asked.disclosed,
        "docket": clean(asked.docket) or None,
        "dates": [_as_data(one, asked) for one in ends],
    }
    return encoded(data)


def _as_data(one: Ended, asked: Asked) -> dict[str, Any]:
    return {
        "id": one.period.id,
        "name": one.period.name,
        "ends": one.period.ends,
        "counts_from": one.period.counts_from,
        "start": one.start,
        "months": one.period.months,
        "corresponding_day": one.counted,
        "day": one.end,
        "passed": [{"day": c.day, "why": c.why, "citation": c.citation or None, "sure": c.sure} for c in one.passed],
        "without_hearsay": one.without_hearsay,
        "how_counted": how_counted(one),
        "citations": list(one.period.citations),
        "known": one.period.known,
        "cautions": list(cautions_of(one, asked)),
    }


def show_dates(asked: Asked, ends: Sequence[Ended], book: Rulebook, sheet: Sheet) -> None:
    """The days at a glance, then how each was counted."""
    sheet.hang(
        styled(f"Filing date {weekday(asked.filed)}{f', docket {asked.docket}' if asked.docket else ''}", STRONG)
    )
    sheet.hang(asked.filed_how)
    if asked.filed > asked.today:
        sheet.hang("This day has not come yet: reckoned as if it were filed then.")
    sheet.blank()
    sheet.rows([(styled(_when(one), STRONG), _left(one, asked.today), one.period.name) for one in ends])
    if asked.disclosed is None:
        sheet.hang("Was it shown, sold or offered before the filing? Then add --disclosed DAY.", indent=INDENT)
    for one in ends:
        sheet.heading(_when(one), title(one))
        sheet.hang(how_counted(one), indent=INDENT, label="counted ")
        for number, caution in enumerate(cautions_of(one, asked)):
            sheet.hang(caution, indent=INDENT, label=_LABEL if number else "caution ")
        known = "" if one.period.known == "read" else f" ({one.period.known})"
        sheet.hang(styled(f"{'; '.join(one.period.citations)}{known}", FAINT), indent=INDENT, label="law     ")
    sheet.blank()
    sheet.hang(f"By {book.title}, edition of {day(book.edition)}; its holidays and closed days are those known then.")
    sheet.hang(
        f"Times of day are those of {book.timezone}. Not legal advice: compare with the filing receipt and the office's"
        " notices of closures before you rely on a day."
    )


def _when(one: Ended) -> str:
    return weekday(one.end)


def _left(one: Ended, today: dt.date) -> str:
    days = (one.end - today).days
    if days == 0:
        return "TODAY"
    return f"in {counted(days, 'days')}" if days > 0 else f"{counted(-days, 'days')} ago"
