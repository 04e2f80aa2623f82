"""Where what was read of papers is kept, and `preflight forget`, which removes it."""

from __future__ import annotations

import datetime as dt
import os
from collections.abc import Callable
from pathlib import Path

import click
import platformdirs

from preflight import reading
from preflight.reading import Cache
from preflight.reporting.wording import clean, counted, quantity

VARIABLE = "PREFLIGHT_CACHE"
"""Names another folder, or says `OFF`."""
OFF = "off"

_PROGRAM = "filing-bundle-preflight"
_FOLDER = "preflight-facts"
"""Made by us in whichever folder it is, so that nothing of anybody else's is ever touched."""


def cache_for(papers: Path, now: dt.datetime, say: Callable[[str], None]) -> Cache | None:
    """The cache for a check of the folder `papers`; None where there is to be none, or none can be."""
    if _wish().lower() == OFF:
        return None
    folder = _folder()
    if not folder.is_absolute():
        say(f"what was read is not kept: {VARIABLE} must be {OFF} or a whole path, not {_wish() or folder}")
        return None
    if Path(os.path.realpath(folder)).is_relative_to(os.path.realpath(papers)):
        say(f"what was read is not kept: {folder} lies in the folder that is checked; name another in {VARIABLE}")
        return None
    return Cache(folder, now=now.timestamp(), say=say)


@click.command()
def forget() -> None:
    """Remove all that was kept of papers that were read (see check --no-cache)."""
    folder = _folder()
    try:
        removed, size = reading.forget(folder)
    except OSError as error:
        why = error.strerror or type(error).__name__
        raise click.ClickException(f"what was kept in {folder} could not be removed: {why}") from error
    if removed:
        click.echo(
            f"removed what was read of {counted(removed, 'file')}, {quantity(size, 'bytes')}: {clean(str(folder))}"
        )
    else:
        click.echo(f"nothing was kept in {clean(str(folder))}")


def _wish() -> str:
    return os.environ.get(VARIABLE, "").strip()


def _folder() -> Path:
    """Where it is kept. With `OFF` the usual place, where an earlier run may have left something."""
    named = _wish()
    if named and named.lower() != OFF:
        return Path(named).expanduser() / _FOLDER
    return platformdirs.user_cache_path(_PROGRAM, appauthor=False) / _FOLDER
