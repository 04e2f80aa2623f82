"""Types of options that more than one command takes."""

from __future__ import annotations

import datetime as dt
import re

import click


def a_day(text: str) -> dt.date:
    """A day, written so that no one can mistake month for day."""
    try:
        if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
            raise ValueError(text)
        return dt.date.fromisoformat(text)
    except ValueError as error:
        raise click.BadParameter(f'"{text}" is not a day; write year, month and day, such as 2026-11-25') from error
