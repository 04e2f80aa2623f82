"""Weighs command line, filing.toml and defaults into what the run assumes."""

from __future__ import annotations

import datetime as dt
from typing import Any, cast
from zoneinfo import ZoneInfo

import msgspec

from preflight.facts.declared import Declared, ReadyFor, Settled

COMMAND_LINE = "given on the command line"
IN_FILE = "declared in filing.toml"


def settle(asked: Declared, declared: Declared, *, timezone: str, now: dt.datetime) -> Settled:
    """The command line beats filing.toml, which beats the defaults; today is the day in the office's time zone."""
    today = now.astimezone(ZoneInfo(timezone)).date()
    how: dict[str, str] = {}

    def choose(name: str, default: Any, otherwise: str) -> Any:
        for source, words in ((asked, COMMAND_LINE), (declared, IN_FILE)):
            if (value := getattr(source, name)) is not None:
                how[name] = words
                return value
        how[name] = otherwise
        return default

    office = choose("office", "us", "default")
    kind = choose("kind", "provisional", "default")
    ready_for = choose("ready_for", "filing", "default")
    filing_date = choose("filing_date", today, f"today in {timezone}")
    payment_date = choose("payment_date", filing_date, "the day of filing")
    entity = choose("entity", None, "not declared")
    return Settled(
        office=office,
        kind=kind,
        ready_for=cast("ReadyFor", ready_for),
        filing_date=filing_date,
        payment_date=payment_date,
        declared=msgspec.structs.replace(
            declared, entity=entity, filing_date=asked.filing_date or declared.filing_date
        ),
        how_known=how,
    )
