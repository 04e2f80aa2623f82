"""Requirements that a plug-in adds to a rulebook. They stand beside the law and can change nothing of it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

import msgspec

from preflight.datafiles import DataMistakes, nearest, schema
from preflight.rulebooks.fitting import KnownCheck, against_the_code
from preflight.rulebooks.loader import lists, read_tables
from preflight.rulebooks.model import ORDER, Extension, Rulebook, names

_KEY = re.compile(r"^\s*(?:rulebook\s*\.\s*)?([a-z_]+)\s*=", re.MULTILINE)

Entries = Mapping[str, list[dict[str, Any]]]


def is_extension(folder: Path) -> bool:
    """Whether a folder means to extend a rulebook: it says so, or at least claims no office of its own.

    Also told of files that are broken, so that a slip in a house rule is never taken for one in the law.
    """
    said = {key for path in sorted(folder.glob("*.toml")) for key in _head_keys(path)}
    return "extends" in said or "office" not in said


def load_extension(
    folder: Path, books: Iterable[Rulebook], checks: Iterable[KnownCheck], roles: Iterable[str]
) -> Extension:
    """The extension in the TOML files of `folder`; raises DataMistakes with every mistake in any of them."""
    whole = schema("rulebook")
    read = read_tables(folder, {**whole["$defs"]["extension_file"], "$defs": whole["$defs"]})
    mistakes = list(read.mistakes)
    if not mistakes:
        known = {book.id: book for book in books}
        named = read.head["extends"]
        if named not in known:
            raise DataMistakes([f'{folder.name}: it extends "{named}", which is unknown{nearest(named, known)}'])
        mistakes += _against_the_book(read.entries, known[named], read.head["id"], folder.name)
        own = (r.id for r in known[named].requirements)
        mistakes += against_the_code(read.entries, {c.name: c for c in checks}, frozenset(roles), own)
    if mistakes:
        raise DataMistakes(mistakes)
    return msgspec.convert({**read.head, **lists(read.entries), "sha256": read.sha256}, Extension)


def extended(book: Rulebook, extension: Extension) -> Rulebook:
    """The rulebook with everything that the extension adds behind its own."""
    return msgspec.structs.replace(
        book,
        requirements=book.requirements + extension.requirements,
        questions=book.questions + extension.questions,
        notes=book.notes + extension.notes,
        extensions=(*book.extensions, extension),
    )


def _head_keys(path: Path) -> set[str]:
    """The keys of the file's head; of a file that cannot be parsed whatever stands at the beginning of a line."""
    try:
        text = path.read_bytes().decode("utf-8", "replace")
    except OSError:
        return set()
    if "rulebook" not in text:
        return set()
    try:
        head = tomllib.loads(text).get("rulebook")
    except tomllib.TOMLDecodeError:
        return set(_KEY.findall(text))
    return set(head) if isinstance(head, dict) else set()


def _against_the_book(entries: Entries, book: Rulebook, extension: str, where: str) -> Iterator[str]:
    if any(extension == other.id for other in book.extensions):
        yield f'{where}: extension "{extension}" of {book.id} is there already'
    if not entries["requirement"] and not entries["note"]:
        yield f"{where}: it holds no requirement and no note"
    taken = names(book)
    for entry in (*entries["requirement"], *entries["note"], *entries["question"]):
        for name in (entry["id"], *entry.get("also", [])):
            if name in taken:
                owner = book.added_by(name)
                yield f'{entry["_where"]}: "{name}" is already taken by {f"extension {owner.id}" if owner else book.id}'
            elif name.split(".")[0] == book.office:
                yield f'{entry["_where"]}: "{name}": names that begin with "{book.office}." are the rulebook\'s own'
    for entry in (*entries["requirement"], *entries["note"]):
        if any(citation["known"] != "practice" for citation in entry["citations"]):
            yield f'{entry["_where"]}: {entry["id"]}: citations: what a house asks for is known = "practice"'
    for entry in entries["requirement"]:
        for level in (entry, *entry.get("levels", [])):
            if max(ORDER.index(level["filing"]), ORDER.index(level["examination"])) > ORDER.index("notice"):
                yield f"{entry['_where']}: {entry['id']}: a house can give notice at most; only the office refuses"
                break
