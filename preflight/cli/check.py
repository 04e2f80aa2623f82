"""`preflight check FOLDER`: the main job."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, TextIO

import click

from preflight.bundle import no_folder
from preflight.cli.endings import CannotDeliver, Exit, no_other_ending, say
from preflight.cli.options import assumptions
from preflight.cli.outputs import FORMS, HERE, Form, objections_together, output_options, write
from preflight.cli.streams import ReportConsole, report_stream
from preflight.cli.watching import watched_reading
from preflight.datafiles import DataMistakes
from preflight.engine import Request, check_folder
from preflight.plugging import Registry, built_in_and_installed
from preflight.reporting import Pictures, Renderer
from preflight.reporting.report import Report
from preflight.reporting.terminal import show_reports
from preflight.reporting.wording import listed


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option(
    "--office",
    "offices",
    multiple=True,
    metavar="OFFICE",
    help="Office to file with; may be repeated. Default: as in filing.toml, else us.",
)
@assumptions
@output_options
@click.option(
    "--html", "html_to", metavar="FILE", help="Write the report on one office as a page to look at, print and send."
)
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
@click.option("--watch", is_flag=True, help="Check again whenever something in the folder changes, until Ctrl-C.")
@click.option("--no-cache", is_flag=True, help="Keep nothing of what is read, and use nothing that was kept.")
def check(
    folder: Path,
    offices: tuple[str, ...],
    html_to: str | None,
    shown: Pictures,
    others: tuple[tuple[str, str], ...],
    outputs: Sequence[tuple[Form, str]],
    *,
    watch: bool,
    no_cache: bool,
    **assumed: Any,
) -> int:
    """Check the papers in FOLDER, minutes before they are uploaded.

    Ends with 0 if they pass, 1 if they fail, 2 if the check could not start, 3 if the program itself
    failed (nothing is proven), 130 if it was interrupted.
    """
    asked = [Request(office, **assumed) for office in dict.fromkeys(offices) or (None,)]
    with report_stream() as stream:
        with no_other_ending():
            registry = built_in_and_installed()
            written = [*others, *_page(html_to)]
            _refuse(folder, outputs, written, registry, len(asked), watch=watch)
        plugged = [(registry.renderers[form], file) for form, file in written]
        pictures = _needed([*(form for form, _ in outputs), *(one for one, _ in plugged)], shown)
        last: list[Report] = []

        def once() -> list[Report]:
            with no_other_ending():
                reports = _checked(folder, asked, registry, keeping=not no_cache, pictures=pictures)
                made = [(target, form.render(reports)) for form, target in outputs]
                made += [(file, one.bytes_of(reports[0], watched=watch)) for one, file in plugged]
            last[:] = reports
            _deliver(reports, made, stream, fresh=watch)
            return reports

        if watch:
            from preflight.cli.rechecking import changes_in, keep_checking  # noqa: PLC0415 - a library only for this

            try:
                return keep_checking(folder, once, changes_in(folder))
            finally:
                _come_to_rest(plugged, last)
        reports = once()
    return Exit.PASS if all(report.verdict == "pass" for report in reports) else Exit.FAIL


def _come_to_rest(plugged: Sequence[tuple[Renderer, str]], last: Sequence[Report]) -> None:
    """The watching is over: what followed by itself is left as a page to keep and to send."""
    for form, file in plugged if last else ():
        if form.watched and (trouble := _written(file, form.bytes_of(last[0]))):
            say(trouble)


def _page(html_to: str | None) -> list[tuple[str, str]]:
    """`--html FILE` is `--write html FILE`."""
    return [("html", html_to)] if html_to else []


def _needed(forms: Sequence[Form | Renderer], shown: Pictures) -> Pictures:
    """The pictures that the outputs asked for will show."""
    if any(isinstance(form, Renderer) and form.pages for form in forms):
        return shown
    return "places" if any(form.pictures for form in forms) and shown != "none" else "none"


def _refuse(
    folder: Path,
    outputs: Sequence[tuple[Form, str]],
    others: Sequence[tuple[str, str]],
    registry: Registry,
    offices: int,
    *,
    watch: bool,
) -> None:
    """Every mistake in what is to be written, before the work begins."""
    mistakes = [
        f"--write {form}: this form is unknown; known are {', '.join(sorted(registry.renderers))}"
        for form, _ in others
        if form not in registry.renderers
    ]
    if ("html", HERE) in others:
        mistakes.append("--html -: a page is no text for a terminal; name a file, such as checked.html")
    named = [(form.option, target) for form, target in outputs]
    for form, file in others:
        if (form, file) != ("html", HERE):
            named.append(("--html" if form == "html" else f"--write {form}", file))
    mistakes += objections_together(named, folder)
    if others and offices > 1:
        option = "--html" if all(form == "html" for form, _ in others) else "--write"
        mistakes.append(
            f"{option} takes one office at a time: check once for each, with a file of its own; "
            f"{listed(form.option for form in FORMS)} take several at once"
        )
    if watch:
        mistakes += _against_watching(folder, named)
    if mistakes:
        raise DataMistakes(mistakes)


def _against_watching(folder: Path, named: Sequence[tuple[str, str]]) -> Iterator[str]:
    if not folder.is_dir():
        yield no_folder(folder)
    for option, target in named:
        if target == HERE:
            yield f"{option} -: --watch shows the text again and again; name a file"
        elif Path(target).resolve().is_relative_to(folder.resolve()):
            why = "among the papers it would be checked as one of them"
            yield f"{option} {target}: {why}; name a file beside the folder"


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
    reports: Sequence[Report], made: Sequence[tuple[str, bytes]], stream: TextIO, *, fresh: bool = False
) -> None:
    """Files first, then the screen. A file that cannot be written takes nothing from the screen, but is told.

    `fresh`: in place of what the window showed before, so that the eye finds everything where it was.
    """
    troubles = [trouble for file, content in made if file != HERE and (trouble := _written(file, content))]
    here = next((content for file, content in made if file == HERE), None)
    try:
        if here is not None:
            stream.buffer.write(here)
        else:
            console = ReportConsole(stream)
            if fresh:
                console.clear()  # nothing where there is no terminal
            show_reports(reports, console)
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
