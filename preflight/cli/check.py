"""`preflight check FOLDER`: the main job."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from pathlib import Path
from typing import TextIO

import click

from preflight.cli.endings import CannotDeliver, Exit, no_other_ending
from preflight.cli.options import a_day
from preflight.cli.outputs import HERE, objections, write
from preflight.cli.streams import ReportConsole, report_stream
from preflight.cli.watching import watched_reading
from preflight.datafiles import DataMistakes
from preflight.engine import Request, check_folder
from preflight.plugging import Registry, built_in_and_installed
from preflight.reporting import Pictures, Renderer
from preflight.reporting.machine import set_to_json, to_json
from preflight.reporting.report import Report
from preflight.reporting.terminal import show_reports


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option(
    "--office",
    "offices",
    multiple=True,
    metavar="OFFICE",
    help="Office to file with; may be repeated. Default: as in filing.toml, else us.",
)
@click.option("--kind", metavar="KIND", help="Kind of filing. Default: as in filing.toml, else provisional.")
@click.option(
    "--filing-date", type=a_day, metavar="YYYY-MM-DD", help="Day of filing. Default: today in the office's time zone."
)
@click.option(
    "--payment-date",
    type=a_day,
    metavar="YYYY-MM-DD",
    help="Day of payment, which picks the fees. Default: the filing day.",
)
@click.option(
    "--ready-for",
    type=click.Choice(["filing", "examination"]),
    help="How strict: what matters for the filing itself (default), or also for the examination that follows.",
)
@click.option("--entity", type=click.Choice(["undiscounted", "small", "micro"]), help="Rate at which fees are paid.")
@click.option("--json", "json_to", metavar="FILE|-", help="Write the report as JSON; - puts it in place of the text.")
@click.option("--html", "html_to", metavar="FILE", help="Write the report as one page to look at, print and send.")
@click.option(
    "--pictures",
    "shown",
    type=click.Choice(["all", "findings", "none"]),
    default="findings",
    help="Which pages are shown in --html: all, those with findings and the first of each paper (default), none.",
)
@click.option(
    "--write",
    "others",
    type=(str, str),
    multiple=True,
    metavar="FORM FILE",
    help="Write the report in another form, such as text or one of a plug-in; may be repeated.",
)
@click.option("--no-cache", is_flag=True, help="Keep nothing of what is read, and use nothing that was kept.")
def check(
    folder: Path,
    offices: tuple[str, ...],
    kind: str | None,
    filing_date: dt.date | None,
    payment_date: dt.date | None,
    ready_for: str | None,
    entity: str | None,
    json_to: str | None,
    html_to: str | None,
    shown: Pictures,
    others: tuple[tuple[str, str], ...],
    *,
    no_cache: bool,
) -> int:
    """Check the papers in FOLDER, minutes before they are uploaded.

    Ends with 0 if they pass, 1 if they fail, 2 if the check could not start, 3 if the program itself
    failed (nothing is proven), 130 if it was interrupted.
    """
    asked = [
        Request(office, kind, filing_date, payment_date, ready_for, entity)
        for office in dict.fromkeys(offices) or (None,)
    ]
    with report_stream() as stream:
        with no_other_ending():
            registry = built_in_and_installed()
            _refuse(folder, json_to, html_to, others, registry, len(asked))
            asked_for = [(registry.renderers[form], file) for form, file in (*others, *_page(html_to))]
            pictures = _needed([renderer for renderer, _ in asked_for], shown, json=json_to is not None)
            reports = _checked(folder, asked, registry, keeping=not no_cache, pictures=pictures)
            forms = [(file, renderer.bytes_of(reports[0])) for renderer, file in asked_for]
        _deliver(reports, json_to, forms, stream)
    return Exit.PASS if all(report.verdict == "pass" for report in reports) else Exit.FAIL


def _page(html_to: str | None) -> list[tuple[str, str]]:
    """`--html FILE` is `--write html FILE`."""
    return [("html", html_to)] if html_to else []


def _needed(renderers: Sequence[Renderer], shown: Pictures, *, json: bool) -> Pictures:
    """The pictures that the outputs asked for will show."""
    if any(renderer.pages for renderer in renderers):
        return shown
    wanted = json or any(renderer.pictures for renderer in renderers)
    return "places" if wanted and shown != "none" else "none"


def _refuse(
    folder: Path,
    json_to: str | None,
    html_to: str | None,
    others: Sequence[tuple[str, str]],
    registry: Registry,
    offices: int,
) -> None:
    """Every mistake in what is to be written, before the work begins."""
    mistakes: list[str] = []
    if json_to and json_to != HERE:
        mistakes += objections(json_to, "--json", folder)
    if html_to == HERE:
        mistakes.append("--html -: a page is no text for a terminal; name a file, such as checked.html")
    elif html_to:
        mistakes += objections(html_to, "--html", folder)
    for form, file in others:
        if form not in registry.renderers:
            mistakes.append(f"--write {form}: this form is unknown; known are {', '.join(sorted(registry.renderers))}")
        mistakes += objections(file, f"--write {form}", folder)
    if (others or html_to) and offices > 1:
        mistakes.append(f"{'--write' if others else '--html'} takes one office at a time; --json takes several")
    files = [file for file in (json_to, html_to, *(file for _, file in others)) if file and file != HERE]
    if len({Path(file).resolve() for file in files}) < len(files):
        mistakes.append("two outputs name the same file; name a file for each")
    if mistakes:
        raise DataMistakes(mistakes)


def _checked(
    folder: Path, asked: Sequence[Request], registry: Registry, *, keeping: bool, pictures: Pictures
) -> list[Report]:
    now = dt.datetime.now().astimezone()  # the engine turns it into the office's day, the report shows the person's
    with watched_reading(folder, now, keeping=keeping) as (tell, cache):
        return [
            check_folder(folder, request, now=now, registry=registry, tell=tell, cache=cache, pictures=pictures)
            for request in asked
        ]


def _deliver(
    reports: Sequence[Report], json_to: str | None, forms: Sequence[tuple[str, bytes]], stream: TextIO
) -> None:
    """Files first, then the screen. A file that cannot be written takes nothing from the screen, but is told."""
    encoded = to_json(reports[0]) if len(reports) == 1 else set_to_json(reports)
    files = [*forms, (json_to, encoded)] if json_to and json_to != HERE else forms
    troubles = [trouble for file, content in files if (trouble := _written(file, content))]
    try:
        if json_to == HERE:
            stream.buffer.write(encoded)
        else:
            show_reports(reports, ReportConsole(stream))
        stream.flush()
    except BrokenPipeError:  # a reader who has gone changes no verdict
        pass
    except OSError as error:
        troubles.append(f"the papers were checked, but the report could not be shown: {error.strerror}")
    if troubles:
        raise CannotDeliver("; ".join(troubles))


def _written(file: str, content: bytes) -> str | None:
    """Why the file could not be written, if so."""
    try:
        write(file, content)
    except CannotDeliver as error:
        return str(error)
    return None
