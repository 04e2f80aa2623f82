"""`preflight drawings FILE`: what is read on each sheet, for the drafter who is still drawing."""

from __future__ import annotations

from pathlib import Path

import click
from rich.console import Console

from preflight.bundle import read_file
from preflight.cli.outputs import HERE, objections, write
from preflight.cli.progress import Progress
from preflight.cli.streams import ReportConsole, shown_as_far_as_read
from preflight.datafiles import DataMistakes
from preflight.papers import sheets_read
from preflight.reading import read_files
from preflight.reporting.drawings_told import drawings_to_json, show_drawings
from preflight.reporting.lines import Sheet


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "json_to", metavar="FILE|-", help="Write it as JSON; - puts it in place of the table.")
def drawings(file: Path, json_to: str | None) -> None:
    """List the figures, sheet numbers and reference characters that are read in the drawings FILE.

    Nothing is checked: compare the list with your drawing. It needs no folder of papers.
    """
    if json_to and json_to != HERE and (mistakes := list(objections(json_to, "--json", file.parent))):
        raise DataMistakes(mistakes)
    entry = read_file(file)
    with shown_as_far_as_read() as stream:
        with Progress(Console(stderr=True)) as progress:
            (facts,) = read_files(file.parent, [entry], tell=progress.tell)
        if facts.unread or not facts.pages:
            raise DataMistakes([f"{file}: {facts.unread or 'it is no PDF'}"])
        sheets = sheets_read(facts.pages)
        if json_to == HERE:
            stream.buffer.write(drawings_to_json(facts, sheets))
        else:
            if json_to:
                write(json_to, drawings_to_json(facts, sheets))
            show_drawings(facts, sheets, Sheet(ReportConsole(stream)))
