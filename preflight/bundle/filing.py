"""Reads filing.toml: what the filer declares, and what a reviewer accepted. A mistake in it stops the run."""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import msgspec

from preflight.bundle.folder import inside
from preflight.datafiles import DataMistakes, against_schema, nearest, plain, schema
from preflight.facts import Manifest
from preflight.facts.declared import DECLARATION, Declared

LONGEST = 1_000_000
"""In bytes: one with a thousand papers and their answers has a tenth of that."""


def read_declared(folder: Path, manifest: Manifest, roles: Iterable[str]) -> Declared:
    """What filing.toml declares, or nothing if there is none.

    Raises DataMistakes with every mistake: unknown keys and values, files that are not there, unknown roles.
    """
    data = _read(folder)
    if not data:
        return Declared()
    mistakes = against_schema(data, schema("filing"), DECLARATION)
    if isinstance(data.get("papers"), dict):
        data["papers"] = {name: _as_id(role) for name, role in data["papers"].items()}
        mistakes += _papers(data["papers"], manifest, sorted(roles))
    if not mistakes:
        mistakes += [*_twice(data, "signed_off", "finding"), *_twice(data, "answers", "question")]
    if mistakes:
        raise DataMistakes(mistakes)
    return msgspec.convert(data, Declared)


def declaration_text(folder: Path) -> str:
    """filing.toml as it stands, line ends and mark of order included; empty if there is none.

    It comes with the papers, so it is as little trusted as they are. Raises DataMistakes if it cannot be read.
    """
    path = folder / DECLARATION
    try:
        if not path.is_file():
            return ""
        if not inside(folder, path):
            raise DataMistakes([f"{DECLARATION}: it is a link out of the folder and was not read"])
        with path.open("rb") as stream:
            raw = stream.read(LONGEST + 1)
        if len(raw) > LONGEST:
            raise DataMistakes([f"{DECLARATION}: it is longer than {LONGEST} bytes"])
        return raw.decode("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise DataMistakes([f"{DECLARATION}: {error}"]) from error


def _read(folder: Path) -> dict[str, Any]:
    text = declaration_text(folder).removeprefix("\ufeff")
    try:
        data: dict[str, Any] = plain(tomllib.loads(text))
        msgspec.json.encode(data)  # ValueError: Python writes no number of more than 4300 digits
    except RecursionError as error:
        raise DataMistakes([f"{DECLARATION}: its lists or tables are nested too deeply"]) from error
    except tomllib.TOMLDecodeError as error:
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


def _twice(data: dict[str, Any], name: str, key: str) -> list[str]:
    """Two entries on one thing: nobody could say which counts."""
    ids = Counter(entry[key] for entry in data.get(name, []))
    return [f"{DECLARATION}: {name}: {key} {one} stands there {n} times" for one, n in ids.items() if n > 1]
