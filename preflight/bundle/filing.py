"""Reads filing.toml: what the filer declares. It is optional; a mistake in it stops the run."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import msgspec

from preflight.bundle.folder import DECLARATION, inside
from preflight.datafiles import DataMistakes, against_schema, nearest, plain, schema
from preflight.facts import Manifest
from preflight.facts.declared import Declared

LONGEST = 1_000_000
"""In bytes: one with a thousand papers and their answers has a tenth of that."""


def read_declared(folder: Path, manifest: Manifest, roles: Iterable[str]) -> Declared:
    """What filing.toml declares, or nothing if there is none.

    Raises DataMistakes with every mistake: unknown keys and values, files that are not there, unknown roles.
    """
    path = folder / DECLARATION
    if not path.is_file():
        return Declared()
    data = _read(folder, path)
    mistakes = against_schema(data, schema("filing"), DECLARATION)
    if isinstance(data.get("papers"), dict):
        data["papers"] = {name: _as_id(role) for name, role in data["papers"].items()}
        mistakes += _papers(data["papers"], manifest, sorted(roles))
    if mistakes:
        raise DataMistakes(mistakes)
    return msgspec.convert(data, Declared)


def _read(folder: Path, path: Path) -> dict[str, Any]:
    """What stands in it. It comes with the papers, so it is as little trusted as they are."""
    try:
        if not inside(folder, path):
            raise DataMistakes([f"{DECLARATION}: it is a link out of the folder and was not read"])
        with path.open("rb") as stream:
            raw = stream.read(LONGEST + 1)
        if len(raw) > LONGEST:
            raise DataMistakes([f"{DECLARATION}: it is longer than {LONGEST} bytes"])
        data: dict[str, Any] = plain(tomllib.loads(raw.decode("utf-8-sig")))
        msgspec.json.encode(data)  # ValueError: Python writes no number of more than 4300 digits
    except RecursionError as error:
        raise DataMistakes([f"{DECLARATION}: its lists or tables are nested too deeply"]) from error
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise DataMistakes([f"{DECLARATION}: {error}"]) from error
    except ValueError as error:
        raise DataMistakes([f"{DECLARATION}: a number in it is too large"]) from error
    return data


def _as_id(role: object) -> object:
    """A role as people and reports write it ("cover sheet") by its id."""
    return role.strip().lower().replace(" ", "-") if isinstance(role, str) else role


def _papers(papers: dict[str, object], manifest: Manifest, roles: list[str]) -> list[str]:
    names = [entry.name for entry in manifest.files]
    lines = [
        f'{DECLARATION}: papers: "{name}" is not in the folder{nearest(name, names)}'
        for name in papers
        if name not in names
    ]
    lines += [
        f'{DECLARATION}: papers > {name}: "{role}" is unknown{nearest(str(role), roles)}'
        for name, role in papers.items()
        if role not in roles
    ]
    return lines
