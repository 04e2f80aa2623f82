"""Reads a rulebook strictly: whatever is unknown or does not fit is refused, all mistakes at once."""

from __future__ import annotations

import hashlib
import json
import tomllib
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import msgspec

from preflight.datafiles import DataMistakes, against_schema, plain, schema
from preflight.rulebooks.fitting import KnownCheck, against_the_code
from preflight.rulebooks.model import Requirement, Rulebook

ENTRIES = {
    "requirement": "requirements",
    "question": "questions",
    "note": "notes",
    "fee": "fees",
    "income_limit": "income_limits",
    "holiday": "holidays",
    "closed_day": "closed_days",
    "period": "periods",
    "document_description": "document_descriptions",
}
"""What an entry is called in a data file, and all of them together in the rulebook."""
FORM_CHECKED = "form_checked.sha256"
"""In a folder that comes with the program: the digest of the data files and their schema when they were last held
against each other, which takes longer than all else of loading. Any other files are held against it each time."""


def load(folder: Path, checks: Iterable[KnownCheck], roles: Iterable[str]) -> Rulebook:
    """The rulebook in the TOML files of `folder`; raises DataMistakes with every mistake in any of them."""
    read = read_tables(folder, schema("rulebook"))
    mistakes = list(read.mistakes)
    if not mistakes:
        mistakes += against_the_code(read.entries, {c.name: c for c in checks}, frozenset(roles))
    if mistakes:
        raise DataMistakes(mistakes)
    return msgspec.convert({**read.head, **lists(read.entries), "sha256": read.sha256}, Rulebook)


class Tables(msgspec.Struct, frozen=True):
    """The data files of one folder as they stand there."""

    head: dict[str, Any]
    entries: dict[str, list[dict[str, Any]]]
    """By name; `_where` names the file of each."""
    mistakes: tuple[str, ...]
    """Of form."""
    sha256: str
    """It ignores line ends."""


def read_tables(folder: Path, form: dict[str, Any], *, anew: bool = False) -> Tables:
    """All files of a folder, each held against the schema `form`; unless `anew`, not if it was when these were made."""
    head: dict[str, Any] = {}
    entries: dict[str, list[dict[str, Any]]] = {name: [] for name in ENTRIES}
    mistakes: list[str] = []
    contents = contents_of(folder, mistakes)
    checked = not anew and form_digest(contents, form) == _form_checked(folder)
    for name, raw in contents.items():
        where = f"{folder.name}/{name}"
        try:
            data = plain(tomllib.loads(raw.decode("utf-8")))
        except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
            mistakes.append(f"{where}: {error}")
            continue
        wrong = [] if checked else against_schema(data, form, where)
        mistakes += wrong
        head |= data["rulebook"] if isinstance(data.get("rulebook"), dict) else {}
        if not wrong:
            for kind in ENTRIES:
                entries[kind] += [{**entry, "_where": where} for entry in data.get(kind, [])]
    if not head:
        mistakes.append(f"{folder.name}: no file has a [rulebook] table")
    return Tables(head, entries, tuple(mistakes), _digest(contents))


def form_digest(contents: Mapping[str, bytes], form: dict[str, Any]) -> str:
    """What `FORM_CHECKED` holds for these files and this schema."""
    return _digest({**contents, "": json.dumps(form, sort_keys=True).encode()})


def contents_of(folder: Path, mistakes: list[str]) -> dict[str, bytes]:
    """The bytes of the data files by name, with the line ends of Unix; what cannot be read is a mistake."""
    contents: dict[str, bytes] = {}
    for path in sorted(folder.glob("*.toml")):
        try:
            contents[path.name] = path.read_bytes().replace(b"\r\n", b"\n")
        except OSError as error:
            mistakes.append(f"{folder.name}/{path.name}: {error}")
    return contents


def _form_checked(folder: Path) -> str | None:
    try:
        return (folder / FORM_CHECKED).read_text(encoding="ascii").strip()
    except (OSError, UnicodeDecodeError):
        return None


def _digest(contents: Mapping[str, bytes]) -> str:
    digest = hashlib.sha256()
    for name, raw in contents.items():
        digest.update(name.encode() + b"\0" + raw + b"\0")
    return digest.hexdigest()


def lists(entries: Mapping[str, list[dict[str, Any]]]) -> dict[str, list[dict[str, Any]]]:
    """The entries as the model names their lists and their keys."""
    bare = {name: [_bare(entry) for entry in entries[name]] for name in ENTRIES}
    bare["requirement"] = _bound_by_questions(bare["requirement"], bare["question"])
    return {plural: bare[name] for name, plural in ENTRIES.items()}


def _bare(entry: Mapping[str, Any]) -> dict[str, Any]:
    """The entry as the model names its keys."""
    return {("limits" if key == "with" else key): value for key, value in entry.items() if key != "_where"}


def _bound_by_questions(
    requirements: Iterable[Mapping[str, Any]], questions: Iterable[Mapping[str, Any]]
) -> list[dict[str, Any]]:
    """Each requirement that is asked with the conditions of its question, unless it has narrower ones."""
    conditions = {question["id"]: question.get("when", {}) for question in questions}
    return [
        {**entry, "when": conditions[entry["asked_in"]] | entry.get("when", {})} if "asked_in" in entry else dict(entry)
        for entry in requirements
    ]


def as_struct(requirement: Requirement, known: KnownCheck) -> Any:
    """The limits of a requirement in the form that its check takes."""
    return msgspec.convert(requirement.limits, known.takes)
