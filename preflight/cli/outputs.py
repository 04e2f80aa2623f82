"""Where a report goes besides the terminal: never half written, never over somebody's papers."""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Iterator
from pathlib import Path

from preflight.cli.endings import CannotDeliver
from preflight.reporting.characters_told import CSV_BEGINS

HERE = "-"
"""Stands for standard output."""
_OURS = ("preflight-report/", "preflight-set/", "preflight-drawings/", "preflight-characters/")


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


def write(target: str, content: bytes) -> None:
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
            f"the papers were checked, but {target} could not be written: {error.strerror or error}; "
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
        content = where.read_bytes()
        if content.startswith(CSV_BEGINS):
            return True
        data = json.loads(content)
    except (OSError, ValueError):
        return False
    return isinstance(data, dict) and str(data.get("schema", "")).startswith(_OURS)


def _writable(where: Path) -> bool:
    if where.exists() and not where.is_file():
        return os.access(where, os.W_OK)
    return os.access(where.parent, os.W_OK)
