"""`preflight characters FOLDER`: the table of reference characters, for the drafter and the reviewer."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from preflight.cli.endings import say
from preflight.cli.outputs import HERE, objections, write
from preflight.cli.streams import ReportConsole, shown_as_far_as_read
from preflight.cli.watching import watched_reading
from preflight.datafiles import DataMistakes
from preflight.engine import Request, read_filing
from preflight.papers import CharacterTable, character_table
from preflight.plugging import built_in_and_installed
from preflight.reporting.characters_told import characters_to_csv, characters_to_json, show_characters
from preflight.reporting.lines import Sheet


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--json", "json_to", metavar="FILE|-", help="Write it as JSON; - puts it in place of the table.")
@click.option("--csv", "csv_to", metavar="FILE|-", help="Write it for a spreadsheet; - puts it in place of the table.")
@click.option("--no-cache", is_flag=True, help="Keep nothing of what is read, and use nothing that was kept.")
def characters(folder: Path, json_to: str | None, csv_to: str | None, *, no_cache: bool) -> None:
    """List the reference characters of the papers in FOLDER: names, where first named, in which figures.

    Nothing is checked. The next free even and odd numbers are proposed for parts that are added.
    """
    _refuse(folder, {"--json": json_to, "--csv": csv_to})
    with shown_as_far_as_read() as stream:
        table = _table(folder, keeping=not no_cache)
        files = ((json_to, characters_to_json), (csv_to, characters_to_csv))
        for target, form in files:
            if target and target != HERE:
                write(target, form(table))
        if csv_to:  # a spreadsheet has no place to tell it
            for one in table.unread:
                say(f"not read: {one.file}, page {one.page}: {one.why}")
        here = next((form for target, form in files if target == HERE), None)
        if here:
            stream.buffer.write(here(table))
        else:
            show_characters(table, folder.resolve().name, Sheet(ReportConsole(stream)))


def _refuse(folder: Path, targets: dict[str, str | None]) -> None:
    """Every mistake in what is to be written, before the work begins."""
    files = {option: target for option, target in targets.items() if target and target != HERE}
    mistakes = [said for option, target in files.items() for said in objections(target, option, folder)]
    if list(targets.values()).count(HERE) > 1:
        mistakes.append("--json - and --csv -: only one of them can take the place of the table")
    if len({Path(target).resolve() for target in files.values()}) < len(files):
        mistakes.append("--json and --csv name the same file; name two")
    if mistakes:
        raise DataMistakes(mistakes)


def _table(folder: Path, *, keeping: bool) -> CharacterTable:
    now = dt.datetime.now().astimezone()
    with watched_reading(folder, now, keeping=keeping) as (tell, cache):
        read = read_filing(folder, Request(), now=now, registry=built_in_and_installed(), tell=tell, cache=cache)
    return character_table(read.filing, from_pictures=True)
