"""Where a report goes besides the terminal: never half written, never over somebody's papers."""

from __future__ import annotations

import contextlib
import functools
import json
import os
import shutil
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import click
import msgspec

from preflight.cli.endings import CannotDeliver
from preflight.cli.streams import ReportConsole, shown_as_far_as_read
from preflight.reporting.characters_told import CSV_BEGINS as CHARACTERS_BEGIN
from preflight.reporting.dates_told import MAKER
from preflight.reporting.findings_csv import CSV_BEGINS as FINDINGS_BEGIN
from preflight.reporting.findings_csv import to_csv
from preflight.reporting.junit import JUNIT_BEGINS, to_junit
from preflight.reporting.lines import Sheet
from preflight.reporting.machine import set_to_json, to_json
from preflight.reporting.renderer import PAGE_BEGINS
from preflight.reporting.report import PROGRAM, RECORD_CREATOR, Report
from preflight.reporting.sarif import to_sarif
from preflight.reporting.wording import listed

HERE = "-"
"""Stands for standard output."""


class Form(msgspec.Struct, frozen=True):
    """A form of the report that `check` writes, for one office or several, by an option of its own."""

    option: str
    what: str
    render: Callable[[Sequence[Report]], bytes]
    pictures: bool = False
    """Whether it shows the pictures in the report: they are made only then."""

    @property
    def parameter(self) -> str:
        """What click calls it."""
        return f"{self.option.removeprefix('--')}_to"


def _json(reports: Sequence[Report]) -> bytes:
    return to_json(reports[0]) if len(reports) == 1 else set_to_json(reports)


def _record(reports: Sequence[Report]) -> bytes:
    from preflight.reporting.record import to_record  # noqa: PLC0415 - its library is slow to load, and rarely needed

    return to_record(reports)


FORMS = (
    Form("--json", "as JSON", _json, pictures=True),
    Form("--junit", "as JUnit XML", to_junit),
    Form("--sarif", "as SARIF 2.1.0", to_sarif),
    Form("--csv", "as a table of findings and questions, CSV", to_csv),
    Form("--record", "as a PDF of two pages or fewer, for the client's file", _record),
)


def output_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """An option for each form; the command gets those that were used as `outputs`, form and file."""

    @functools.wraps(command)
    def gathered(**given: Any) -> Any:
        targets = [(form, given.pop(form.parameter)) for form in FORMS]
        return command(outputs=[(form, target) for form, target in targets if target], **given)

    for form in reversed(FORMS):
        words = f"Write the report {form.what}; - puts it in place of the text."
        gathered = click.option(form.option, form.parameter, metavar="FILE|-", help=words)(gathered)
    return gathered


def objections_together(targets: Sequence[tuple[str, str]], folder: Path) -> Iterator[str]:
    """Why these files, by the options that name them, cannot or must not be written: each, and all together."""
    here = [option for option, target in targets if target == HERE]
    files = [(option, target) for option, target in targets if target != HERE]
    for option, target in files:
        yield from objections(target, option, folder)
    if len(here) > 1:
        yield f"{listed(f'{option} -' for option in here)}: only one of them can take the place of the text"
    for place, options in _by_place(files).items():
        if len(options) > 1:
            yield f"{listed(options)} name the same file {place}; name {len(options)}"


def _by_place(files: Sequence[tuple[str, str]]) -> dict[Path, list[str]]:
    places: dict[Path, list[str]] = {}
    for option, target in files:
        where = Path(target).resolve()
        if where.is_file() or not where.exists():  # a device takes any number
            places.setdefault(where, []).append(option)
    return places


_BEGINNINGS = (CHARACTERS_BEGIN, FINDINGS_BEGIN, JUNIT_BEGINS, PAGE_BEGINS)
"""By these a file of ours is known again."""
_OURS = tuple(
    f"preflight-{kind}/" for kind in ("report", "set", "drawings", "characters", "dates", "fees", "comparison")
)


def objections(target: str, option: str, folder: Path) -> Iterator[str]:
    """Why this file cannot or must not be written, before any work is done."""
    path = Path(target)
    where = path.resolve()
    if where.is_dir():
        yield f"{option} {target}: this is a folder; name a file in it, such as {path / 'report.json'}"
    elif not where.parent.is_dir():
        yield f"{option} {target}: the folder {path.parent} does not exist; create it first or name another"
    elif _among_the_papers(where, folder) and not _earlier_report(where):
        yield f"{option} {target}: this is one of the files to be checked and would be lost; name another file"
    elif not _writable(where):
        yield f"{option} {target}: it may not be written there; name a file in another folder"


def objections_anew(targets: Mapping[str, str]) -> Iterator[str]:
    """The same for a list that no folder of papers belongs to: it may renew its own earlier files, nothing else."""
    for option, target in targets.items():
        path = Path(target)
        if path.is_file() and not _earlier_report(path.resolve()):
            yield f"{option} {target}: this file exists and was not written by preflight; name another file"
        else:
            yield from objections(target, option, path.parent)
    if len({Path(target).resolve() for target in targets.values()}) < len(targets):
        yield f"{' and '.join(targets)} name the same file; name two"


def deliver_list(
    json_to: str | None, encoded: bytes, show: Callable[[Sheet], None], others: Iterable[tuple[str, bytes]] = ()
) -> None:
    """Write the files asked for, then show the list, or the JSON in its place."""
    files = [*others, (json_to, encoded)] if json_to and json_to != HERE else others
    for target, content in files:
        write(target, content, done="the list was made")
    with shown_as_far_as_read() as stream:
        if json_to == HERE:
            stream.buffer.write(encoded)
        else:
            show(Sheet(ReportConsole(stream)))


def write(target: str, content: bytes, *, done: str = "the papers were checked") -> None:
    """Write beside, then rename; what is no plain file (a device, a pipe) is written directly."""
    where = Path(target).resolve()
    try:
        if where.exists() and not where.is_file():
            with where.open("wb") as stream:
                stream.write(content)
        else:
            replace_file(where, content)
    except OSError as error:
        raise CannotDeliver(
            f"{done}, but {target} could not be written: {error.strerror or error}; "
            "make room or name another file, then run the same command again"
        ) from error


def replace_file(where: Path, content: bytes) -> None:
    """Write beside, then rename: nobody ever sees half of it, and what stood there is lost only once all is written.

    Raises OSError. Who may read the file stays as it was.
    """
    partial = where.with_name(f".{where.name}.{os.getpid()}.partial")
    try:
        with partial.open("xb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        if where.exists():
            shutil.copymode(where, partial)
        partial.replace(where)
    finally:
        with contextlib.suppress(OSError):
            partial.unlink()


def _among_the_papers(where: Path, folder: Path) -> bool:
    """Whether it is a file of the folder, by whatever name or link it is reached."""
    if not where.is_file():
        return False
    if not folder.is_dir():
        return False
    inside = where.is_relative_to(folder.resolve())
    return inside or any(path.is_file() and path.samefile(where) for path in folder.iterdir())


def _earlier_report(where: Path) -> bool:
    try:
        raw = where.read_bytes()
        if raw.startswith(_BEGINNINGS) or (raw.startswith(b"BEGIN:VCALENDAR") and MAKER.encode() in raw):
            return True
        if raw.startswith(b"%PDF-") and f"/Creator ({RECORD_CREATOR})".encode() in raw:
            return True
        data = json.loads(raw)
    except (OSError, ValueError, RecursionError):
        return False
    return isinstance(data, dict) and (str(data.get("schema", "")).startswith(_OURS) or _our_sarif(data))


def _our_sarif(data: dict[str, Any]) -> bool:
    try:
        return bool(data["runs"][0]["tool"]["driver"]["name"] == PROGRAM)
    except (KeyError, IndexError, TypeError):
        return False


def _writable(where: Path) -> bool:
    if where.exists() and not where.is_file():
        return os.access(where, os.W_OK)
    return os.access(where.parent, os.W_OK)
