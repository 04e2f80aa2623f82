"""`preflight declare FOLDER`: proposes a filing.toml from what was read, for a person to correct."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from preflight.bundle import DECLARATION
from preflight.cli.endings import say
from preflight.cli.outputs import write
from preflight.cli.streams import shown_as_far_as_read
from preflight.cli.watching import watched_reading
from preflight.datafiles import DataMistakes
from preflight.engine import Request, read_filing
from preflight.papers import proposed
from preflight.plugging import built_in_and_installed
from preflight.reporting.declaration_told import declaration


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--write", "keep", is_flag=True, help=f"Write it into the folder, where there is no {DECLARATION} yet.")
@click.option("--no-cache", is_flag=True, help="Keep nothing of what is read, and use nothing that was kept.")
def declare(folder: Path, *, keep: bool, no_cache: bool) -> None:
    """Propose a filing.toml for the papers in FOLDER from what they say, each line with its source.

    Nothing is checked. Read every line before you keep it: what is declared beats what the papers say, and where
    a paper says otherwise, the next check tells.
    """
    target = folder / DECLARATION
    if keep and (target.exists() or target.is_symlink()):
        raise DataMistakes(
            [f"{DECLARATION} is in the folder already; leave out --write to see the proposal, then change it by hand"]
        )
    now = dt.datetime.now().astimezone()
    with watched_reading(folder, now, keeping=not no_cache) as (tell, cache):
        read = read_filing(folder, Request(), now=now, registry=built_in_and_installed(), tell=tell, cache=cache)
    text = declaration(proposed(read.filing), now.date())
    with shown_as_far_as_read() as stream:
        stream.write(text)
    if keep:
        write(str(target), text.encode("utf-8"), done="the proposal was made")
        say(f"written to {target}; read every line of it before the next check")
