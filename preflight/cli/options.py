"""Types of options that more than one command takes."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from contextlib import suppress
from typing import Any
from zoneinfo import available_timezones

import click

from preflight.datafiles import nearest
from preflight.facts.money import ENTITIES

_NUMBERS = re.compile(r"(\d{1,4})[./ -](\d{1,2})[./ -](\d{1,4})")


def assumptions(command: Callable[..., Any]) -> Callable[..., Any]:
    """The options that say under which assumptions papers are checked, all but the office."""
    for option in reversed(_ASSUMPTIONS):
        command = option(command)
    return command


def a_day(text: str) -> dt.date:
    """A day, written so that no one can mistake month for day."""
    try:
        if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
            raise ValueError(text)
        return dt.date.fromisoformat(text)
    except ValueError as error:
        raise click.BadParameter(f'"{text}" is not a day; {_instead(text)}') from error


def a_day_or_moment(text: str) -> dt.date | dt.datetime:
    """A day, or a day with a time and perhaps the offset from UTC: 2026-11-25T23:30-05:00."""
    written, _, clock = text.strip().replace(" ", "T", 1).partition("T")
    if not clock:
        return a_day(written)
    date = a_day(written)
    if re.fullmatch(r"\d{2}:\d{2}(:\d{2})?(Z|[+-]\d{2}:\d{2})?", clock):
        with suppress(ValueError):
            return dt.datetime.fromisoformat(f"{date.isoformat()}T{clock}")
    raise click.BadParameter(f'"{clock}" is not a time of day; write 24 hours, such as {date.isoformat()}T23:30')


def a_zone(text: str) -> str:
    """The name of a time zone, such as America/New_York."""
    known = available_timezones()
    if text not in known:
        raise click.BadParameter(f'"{text}" is unknown{nearest(text, known)}; names are such as America/Los_Angeles')
    return text


def _instead(text: str) -> str:
    """How a day that was written in another way is written here; both ways where month and day could be mistaken."""
    readings: list[str] = []
    if found := _NUMBERS.fullmatch(text.strip()):
        first, second, third = map(int, found.groups())
        orders = [(third, first, second), (third, second, first)] if third > 99 else [(first, second, third)]
        for order in orders:
            with suppress(ValueError):
                readings.append(dt.date(*order).isoformat())
    if not readings:
        return "write year, month and day, such as 2026-11-25"
    return f"write {' or '.join(dict.fromkeys(readings))}"


_ASSUMPTIONS = (
    click.option("--kind", metavar="KIND", help="Kind of filing. Default: as in filing.toml, else provisional."),
    click.option(
        "--filing-date",
        type=a_day,
        metavar="YYYY-MM-DD",
        help="Day of filing. Default: today in the office's time zone.",
    ),
    click.option(
        "--payment-date",
        type=a_day,
        metavar="YYYY-MM-DD",
        help="Day of payment, which picks the fees. Default: the filing day.",
    ),
    click.option(
        "--ready-for",
        type=click.Choice(["filing", "examination"]),
        help="How strict: what matters for the filing itself (default), or also for the examination that follows.",
    ),
    click.option("--entity", type=click.Choice(ENTITIES), help="Rate at which fees are paid."),
)
OFFICE = click.option("--office", metavar="OFFICE", help="Office to file with. Default: as in filing.toml, else us.")
