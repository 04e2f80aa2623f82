"""`preflight seal FOLDER` and `preflight verify FOLDER`: what was checked is what is sent."""

from __future__ import annotations

import datetime as dt
import shlex
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from preflight.bundle import DECLARATION, digests_of, read_folder
from preflight.cli.endings import Exit, say
from preflight.cli.options import OFFICE, assumptions
from preflight.cli.outputs import replace_file
from preflight.cli.streams import ReportConsole, shown_as_far_as_read
from preflight.cli.watching import watched_reading
from preflight.datafiles import DataMistakes
from preflight.engine import Request, check_folder
from preflight.facts import Digests, Manifest
from preflight.plugging import built_in_and_installed
from preflight.reporting.lines import STRONG, Sheet, styled
from preflight.reporting.report import Report
from preflight.reporting.wording import counted, moment
from preflight.sent import (
    Seal,
    compare_with_seal,
    make_seal,
    refused,
    replaced,
    seal_from_json,
    seal_to_json,
    told,
)

_LONGEST = 50_000_000
"""In bytes: a seal of ten thousand files is shorter."""
_FOLDER = click.argument("folder", type=click.Path(path_type=Path))


@click.command()
@_FOLDER
@click.option("--to", "target", type=click.Path(path_type=Path), metavar="FILE", help="Default: beside the folder.")
@click.option("--replace", is_flag=True, help="Write over an earlier seal.")
@OFFICE
@assumptions
def seal(folder: Path, target: Path | None, *, replace: bool, **assumed: Any) -> int:
    """Check FOLDER and, if it passes, write its seal: every file with size and digests, and the verdict.

    It is written beside the folder, never among the papers. Ends with 1, and writes nothing, if the papers fail.
    """
    where = target or beside(folder)
    earlier = _earlier(folder, where, replace=replace)
    now = dt.datetime.now().astimezone()
    with watched_reading(folder, now) as (tell, cache):
        report = check_folder(
            folder, Request(**assumed), now=now, registry=built_in_and_installed(), tell=tell, cache=cache
        )
    done = (
        _sealed(folder, where, report, earlier, now)
        if report.verdict == "pass"
        else refused(report, _typed(folder), earlier)
    )
    with shown_as_far_as_read() as stream:
        sheet = Sheet(ReportConsole(stream))
        sheet.hang(styled(report.headline, STRONG))
        for line in done:
            sheet.hang(line)
    return Exit.PASS if report.verdict == "pass" else Exit.FAIL


@click.command()
@_FOLDER
@click.option("--seal", "source", type=click.Path(path_type=Path), metavar="FILE", help="Default: beside the folder.")
def verify(folder: Path, source: Path | None) -> int:
    """Say in one line whether the files in FOLDER are those that were sealed, and what changed if not.

    Ends with 0 if they are, 1 if not, 2 if there is no seal or it was changed itself. No paper is opened.
    """
    manifest = read_folder(folder)
    where = source or beside(folder)
    held = _seal_in(where)
    now, unreadable = [], []
    for entry in manifest.files:
        try:
            now.append(digests_of(folder, entry.name))
        except OSError:
            unreadable.append(entry.name)
    found = compare_with_seal(held, now, unreadable, _left_out(manifest), _declaration(folder))
    with shown_as_far_as_read() as stream:
        console = ReportConsole(stream)
        console.print(styled(told(found, held), STRONG), soft_wrap=True)
    if not found.same:
        name = _typed(folder)
        say(f"do not upload these: preflight check {name}, then preflight seal {name} --replace")
    return Exit.PASS if found.same else Exit.FAIL


def beside(folder: Path) -> Path:
    """Where the seal of a folder is kept, if nothing else is said."""
    whole = folder.resolve()
    return whole.with_name(f"{whole.name}.seal.json") if whole.name else whole / "preflight.seal.json"


def _sealed(folder: Path, where: Path, report: Report, earlier: Seal | None, now: dt.datetime) -> Iterator[str]:
    """Writes the seal; what was done, what differs from the seal that stood there, and what comes next."""
    manifest = read_folder(folder)
    files = list(_digested(folder, manifest))
    left_out, declaration = list(_left_out(manifest)), _declaration(folder)
    try:
        made = make_seal(report, files, declaration, left_out, now)
    except DataMistakes as error:
        raise click.ClickException(f"not sealed, and nothing was written: {error}") from error
    _write(where, made)
    yield f"sealed {counted(len(files), 'file')} in {where}; seal {made.digest}"
    if made.open_questions:
        asked = counted(len(made.open_questions), "question")
        yield f"not answered in it: {asked} for a person (preflight check shows them, preflight answer keeps answers)"
    if earlier:
        yield replaced(compare_with_seal(earlier, files, (), left_out, declaration), earlier)
    yield f"before the upload: preflight verify {_typed(folder)}"


def _typed(folder: Path) -> str:
    """The folder as an argument, in quotation marks where it needs them."""
    return subprocess.list2cmdline([str(folder)]) if sys.platform == "win32" else shlex.quote(str(folder))


def _earlier(folder: Path, where: Path, *, replace: bool) -> Seal | None:
    """The seal that stands there; what must not be written over, or among the papers, is told first."""
    read_folder(folder)
    whole = where.resolve()
    if whole.is_relative_to(folder.resolve()):
        raise DataMistakes([f"{where}: a seal among the papers would be taken for one; name a file in another folder"])
    if not whole.parent.is_dir():
        raise DataMistakes([f"{where}: the folder {where.parent} does not exist; create it first or name another"])
    if not whole.exists():
        return None
    held = _seal_in(where)  # nothing else is ever written over
    if not replace:
        raise click.ClickException(
            f"{where}: an earlier seal is there, of {moment(held.sealed)}; it stays as it is and nothing was checked; "
            "seal again with --replace to write over it and see what differs, or with --to FILE to keep both"
        )
    return held


def _digested(folder: Path, manifest: Manifest) -> Iterator[Digests]:
    for entry in manifest.files:
        try:
            yield digests_of(folder, entry.name)
        except OSError as error:
            raise click.ClickException(
                f"{entry.name} cannot be read any more ({error.strerror}); not sealed"
            ) from error


def _seal_in(where: Path) -> Seal:
    try:
        with where.open("rb") as stream:
            raw = stream.read(_LONGEST)
    except FileNotFoundError as error:
        raise click.ClickException(f"{where}: there is no seal; preflight seal makes one after a pass") from error
    except OSError as error:
        raise click.ClickException(f"{where} cannot be read ({error.strerror})") from error
    try:
        return seal_from_json(raw)
    except DataMistakes as error:
        raise click.ClickException(f"{where}: {error}") from error


def _write(where: Path, made: Seal) -> None:
    try:
        replace_file(where.resolve(), seal_to_json(made))
    except OSError as error:
        why = error.strerror or type(error).__name__
        raise click.ClickException(f"{where} could not be written ({why}); nothing was sealed") from error


def _declaration(folder: Path) -> Digests | None:
    return digests_of(folder, DECLARATION) if (folder / DECLARATION).is_file() else None


def _left_out(manifest: Manifest) -> Iterator[str]:
    return (entry.name for entry in manifest.entries if entry.left_out and not entry.harmless)
