"""Where a report goes besides the terminal: never half written, never over somebody's papers."""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path

from preflight.cli.endings import CannotDeliver
from preflight.cli.streams import ReportConsole, shown_as_far_as_read
from preflight.reporting.characters_told import CSV_BEGINS
from preflight.reporting.dates_told import MAKER
from preflight.reporting.lines import Sheet
from preflight.reporting.renderer import PAGE_BEGINS

HERE = "-"
"""Stands for standard output."""
_OURS = tuple(f"preflight-{kind}/" for kind in ("report", "set", "drawings", "characters", "dates", "fees"))


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
            _replace(where, content)
    except OSError as error:
        raise CannotDeliver(
            f"{done}, but {target} could not be written: {error.strerror or error}; "
            "make room or name another file, then run the same command again"
        ) from error


def _replace(where: Path, content: bytes) -> None:
    partial = where.with_name(f".{where.name}.{os.getpid()}.partial")
    try:
        with partial.open("xb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
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
        if raw.startswith((CSV_BEGINS, PAGE_BEGINS)) or (raw.startswith(b"BEGIN:VCALENDAR") and MAKER.encode() in raw):
            return True
        data = json.loads(raw)
    except (OSError, ValueError):
        return False
    return isinstance(data, dict) and str(data.get("schema", "")).startswith(_OURS)


def _writable(where: Path) -> bool:
    if where.exists() and not where.is_file():
        return os.access(where, os.W_OK)
    return os.access(where.parent, os.W_OK)
