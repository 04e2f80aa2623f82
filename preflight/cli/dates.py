"""`preflight dates --filed DAY`: what falls due after a filing, and until when something is barred."""

from __future__ import annotations

import datetime as dt
import importlib
from zoneinfo import ZoneInfo

import click

from preflight.cli.options import a_day, a_day_or_moment, a_zone
from preflight.cli.outputs import HERE, deliver_list, objections_anew
from preflight.datafiles import DataMistakes
from preflight.days import ClockWasChanged, Ended, OfficeDays, ended, office_day
from preflight.engine import choose_rulebook
from preflight.facts.declared import Declared
from preflight.plugging import built_in_and_installed
from preflight.reporting.dates_told import Asked, dates_to_json, show_dates
from preflight.reporting.wording import day, moment
from preflight.rulebooks import Rulebook


@click.command()
@click.option(
    "--filed",
    required=True,
    type=a_day_or_moment,
    metavar="DAY|MOMENT",
    help="Filing date as on the receipt, such as 2026-11-25; or the moment of the upload, such as"
    " 2026-11-25T23:30-08:00, which gives the office's date.",
)
@click.option("--zone", type=a_zone, metavar="NAME", help="Where the clock of --filed stands: America/Los_Angeles.")
@click.option("--disclosed", type=a_day, metavar="DAY", help="Your own first disclosure: talk, sale, offer, paper.")
@click.option("--docket", default="", metavar="TEXT", help="Names the case in the calendar, and keeps cases apart.")
@click.option("--office", default="us", show_default=True, help="Office filed with.")
@click.option("--ics", "ics_to", metavar="FILE", help="Write a calendar file with reminders.")
@click.option("--json", "json_to", metavar="FILE|-", help="Write it as JSON; - puts it in place of the list.")
def dates(
    filed: dt.date | dt.datetime,
    zone: str | None,
    disclosed: dt.date | None,
    docket: str,
    office: str,
    ics_to: str | None,
    json_to: str | None,
) -> None:
    """List the days that follow from the filing of a provisional, each with how it was counted.

    The first is the day for filings elsewhere, which no US holiday moves. Days are those of the office's time zone.
    """
    files = {"--ics": ics_to, "--json": json_to}
    if mistakes := list(objections_anew({option: file for option, file in files.items() if file and file != HERE})):
        raise DataMistakes(mistakes)
    book = choose_rulebook(built_in_and_installed(), Declared(office=office), Declared())
    now = dt.datetime.now().astimezone()
    today = now.astimezone(ZoneInfo(book.timezone)).date()
    try:
        asked = Asked(*_filed(filed, zone, book.timezone), today, disclosed, docket)
        ends = _ends(asked, book)
    except (ValueError, OverflowError) as error:
        raise DataMistakes([f"the days asked for lie too far away to be counted ({error})"]) from error
    written = [(ics_to, _calendar(asked, ends, book, now))] if ics_to else []
    deliver_list(json_to, dates_to_json(asked, ends, book), lambda sheet: show_dates(asked, ends, book, sheet), written)


def _calendar(asked: Asked, ends: list[Ended], book: Rulebook, now: dt.datetime) -> bytes:
    making = importlib.import_module("preflight.reporting.calendar_file")  # large: no other command waits for it
    return bytes(making.calendar_file(asked, ends, book, now))


def _ends(asked: Asked, book: Rulebook) -> list[Ended]:
    calendar = OfficeDays(book.holidays, book.closed_days)
    starts = {"filing": asked.filed, "disclosure": asked.disclosed}
    if not book.periods:
        raise DataMistakes([f"the rulebook {book.id} holds no periods: nothing can be counted"])
    return [ended(p, start, calendar) for p in book.periods if (start := starts[p.counts_from])]


def _filed(filed: dt.date | dt.datetime, zone: str | None, timezone: str) -> tuple[dt.date, str]:
    """The day at the office, and where it comes from in words."""
    if not isinstance(filed, dt.datetime):
        if zone:
            raise click.UsageError(f"--zone goes with a time of day: --filed {filed.isoformat()}T23:30 --zone {zone}")
        return filed, f"as given; compare it with the receipt: the day is that of {timezone}"
    if filed.tzinfo is None and zone is None:
        raise click.UsageError(
            f"--filed {filed.isoformat('T', 'minutes')} does not say where that clock stands: add the zone, such as"
            f" --zone {timezone}"
        )
    if filed.tzinfo is not None and zone is not None:
        raise click.UsageError("--filed says the offset from UTC already; leave out --zone")
    try:
        date = office_day(filed, timezone, seen_in=zone)
    except ClockWasChanged:
        raise click.UsageError(
            f"in the night of {day(filed)} the clocks of {zone} were changed: write the offset from UTC behind the time"
        ) from None
    there = moment(filed.isoformat()) + (f" in {zone}" if zone else "")
    apart = "" if date == filed.date() else ", ANOTHER DAY than on that clock"
    return date, f"uploaded {there}: the date at the office, in {timezone}{apart}"
