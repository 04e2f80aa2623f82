"""Reads filing.toml: what the filer declares. It is optional; a mistake in it stops the run."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from pathlib import Path

import msgspec

from preflight.bundle.folder import DECLARATION
from preflight.datafiles import DataMistakes, against_schema, nearest, plain, schema
from preflight.facts import Manifest
from preflight.facts.declared import Declared


def read_declared(folder: Path, manifest: Manifest, roles: Iterable[str]) -> Declared:
    """What filing.toml declares, or nothing if there is none.

    Raises DataMistakes with every mistake: unknown keys and values, files that are not there, unknown roles.
    """
    path = folder / DECLARATION
    if not path.is_file():
        return Declared()
    try:
        data = plain(tomllib.loads(path.read_text(encoding="utf-8-sig")))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise DataMistakes([f"{DECLARATION}: {error}"]) from error
    mistakes = against_schema(data, schema("filing"), DECLARATION)
    if isinstance(data.get("papers"), dict):
        data["papers"] = {name: _as_id(role) for name, role in data["papers"].items()}
        mistakes += _papers(data["papers"], manifest, sorted(roles))
    if mistakes:
        raise DataMistakes(mistakes)
    return msgspec.convert(data, Declared)


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
