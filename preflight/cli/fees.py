"""`preflight fees FOLDER`, or `--sheets N`: what is to be paid on a day."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from zoneinfo import ZoneInfo

import click

from preflight.cli.options import a_day
from preflight.cli.outputs import HERE, deliver_list, objections, objections_anew
from preflight.cli.watching import watched_reading
from preflight.datafiles import DataMistakes
from preflight.engine import Request, choose_rulebook, read_filing
from preflight.facts.declared import Declared
from preflight.facts.money import ENTITIES
from preflight.papers.money.due import Due, due_for_papers, due_for_sheets
from preflight.plugging import built_in_and_installed
from preflight.reporting.fees_told import fees_to_json, show_fees
from preflight.rulebooks import Rulebook

_HOW = "given on the command line"


@click.command()
@click.argument("folder", required=False, type=click.Path(path_type=Path))
@click.option("--sheets", type=click.IntRange(0, 100_000), metavar="N", help="Sheets of text and drawings, unweighed.")
@click.option("--entity", type=click.Choice(ENTITIES), help="Rate. Default: as the papers say, else every rate.")
@click.option(
    "--on", type=a_day, metavar="YYYY-MM-DD", help="Day of payment. Default: as declared, else today at the office."
)
@click.option("--late", is_flag=True, help="Fee or cover sheet comes after the filing: with the surcharge.")
@click.option("--office", help="Office to file with. Default: as in filing.toml, else us.")
@click.option("--json", "json_to", metavar="FILE|-", help="Write it as JSON; - puts it in place of the worksheet.")
def fees(
    folder: Path | None,
    sheets: int | None,
    entity: str | None,
    on: dt.date | None,
    *,
    late: bool,
    office: str | None,
    json_to: str | None,
) -> None:
    """Reckon the fees of a provisional: for the papers in FOLDER, or for a number of --sheets.

    Line by line with citation and the day since which the amount holds. Nothing is checked and nothing is paid.
    """
    if (folder is None) == (sheets is None):
        raise click.UsageError("name either a FOLDER or --sheets N")
    _refuse(folder, json_to)
    now = dt.datetime.now().astimezone()
    request = Request(office=office, payment_date=on, entity=entity)
    if folder is not None:
        due, book, how = _of_folder(folder, request, now, late=late)
    else:
        due, book, how = _of_sheets(sheets or 0, request, now, late=late)
    deliver_list(json_to, fees_to_json(due, book, how, late=late), lambda sheet: show_fees(due, book, how, sheet))


def _refuse(folder: Path | None, json_to: str | None) -> None:
    """What must not be overwritten, before the work begins."""
    if json_to and json_to != HERE:
        anew = objections_anew({"--json": json_to})
        if mistakes := list(objections(json_to, "--json", folder) if folder else anew):
            raise DataMistakes(mistakes)


def _of_sheets(sheets: int, request: Request, now: dt.datetime, *, late: bool) -> tuple[Due, Rulebook, str]:
    book = choose_rulebook(built_in_and_installed(), Declared(office=request.office), Declared())
    on = request.payment_date or now.astimezone(ZoneInfo(book.timezone)).date()
    how = _HOW if request.payment_date else f"today in {book.timezone}"
    return due_for_sheets(book.fees, sheets, request.entity, on, late=late), book, how


def _of_folder(folder: Path, request: Request, now: dt.datetime, *, late: bool) -> tuple[Due, Rulebook, str]:
    with watched_reading(folder, now) as (tell, cache):
        read = read_filing(folder, request, now=now, registry=built_in_and_installed(), tell=tell, cache=cache)
    settled, book, filing = read.settled, read.rulebook, read.filing
    how = settled.how_known["payment_date"]
    if how == "the day of filing":
        how = f"the day of filing: {settled.how_known['filing_date']}"
    return due_for_papers(filing, late=late), book, how
