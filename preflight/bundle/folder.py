"""Walks the filing folder: what stands in it, with sizes and digests. Nothing is opened as a document here."""

from __future__ import annotations

import difflib
import hashlib
import os
import stat
from itertools import islice
from pathlib import Path

from preflight.datafiles import DataMistakes
from preflight.facts import Entry, Manifest
from preflight.facts.declared import DECLARATION

SYSTEM_FILES = frozenset({".ds_store", "thumbs.db", "desktop.ini", ".localized", "ehthumbs.db"})
"""Files that desktop systems leave behind, lower case."""
LOCK_FILES = ("~$", ".~lock.", "._")
"""How names of lock files of word processors, and of copies that a foreign disk makes, begin."""

_LIKENESS = 0.6
"""How alike a name must be to be offered, of 1: the usual one of the library that compares."""
_LOOKED_THROUGH = 10_000
"""So many names beside a folder that is not there are compared with it."""

LARGEST = 4_000_000_000
"""In bytes. Larger ones are not even digested: a sparse file takes no room on the disk, but hours to read."""


def read_folder(folder: Path) -> Manifest:
    """The folder's entries, sorted by name; sub-folders and links are named but not followed.

    Raises DataMistakes if there is no such folder or it cannot be listed.
    """
    if not folder.exists():
        raise DataMistakes([no_folder(folder)])
    if not folder.is_dir():
        raise DataMistakes([f"{folder}: this is a file; name the folder that it stands in"])
    try:
        names = sorted(os.listdir(folder))  # noqa: PTH208 - names only; a path object would hide undecodable ones
    except OSError as error:
        raise DataMistakes([f"{folder}: cannot be listed ({error.strerror})"]) from error
    return Manifest(
        folder=folder.resolve().name,
        entries=tuple(_entry(folder, name) for name in names if name != DECLARATION),
    )


def no_folder(folder: Path) -> str:
    """That there is no such folder, with the nearest name that there is."""
    missing = folder
    try:
        while not missing.parent.exists():  # ends at the latest where the path begins
            missing = missing.parent
        with os.scandir(missing.parent) as entries:
            names = {one.name.casefold(): one.name for one in islice(entries, _LOOKED_THROUGH) if one.is_dir()}
    except OSError:
        names = {}
    near = difflib.get_close_matches(missing.name.casefold(), sorted(names), n=1, cutoff=_LIKENESS)
    hint = f'; did you mean "{missing.parent / names[near[0]]}"?' if near else ""
    part = "" if missing == folder else f" ({missing} is not there)"
    return f"{folder}: no such folder{part}{hint}"


def read_file(path: Path) -> Entry:
    """One file by itself. Raises DataMistakes if there is none, or it is no plain file."""
    if not path.exists():
        raise DataMistakes([f"{path}: no such file"])
    if not path.is_file():
        raise DataMistakes([f"{path}: this is no file; name the PDF of the drawings"])
    return _file(path, path.name.encode("utf-8", "backslashreplace").decode())


def _entry(folder: Path, name: str) -> Entry:
    path = folder / name
    shown = name.encode("utf-8", "backslashreplace").decode()  # a name that is no text keeps its bytes visible
    if name.lower() in SYSTEM_FILES:
        return Entry(name=shown, left_out="a file of the operating system", harmless=True)
    if name.startswith(LOCK_FILES):
        return Entry(name=shown, left_out="a lock or shadow file of another program", harmless=True)
    try:
        kind = path.stat().st_mode
        if path.is_symlink() and not inside(folder, path):
            return Entry(name=shown, left_out="a link out of the folder")
    except OSError as error:
        return Entry(name=shown, unread=f"it cannot be reached ({error.strerror})")
    if stat.S_ISDIR(kind):
        return Entry(name=shown, left_out="a sub-folder")
    if not stat.S_ISREG(kind):
        return Entry(name=shown, left_out="neither a file nor a folder")
    if shown != name:
        return Entry(name=shown, unread="its name holds bytes that are no text; rename it and check again")
    return _file(path, shown)


def is_trace_of_a_program(name: str) -> bool:
    """Whether other programs leave such files behind, without a word to the filer."""
    return name.lower() in SYSTEM_FILES or name.startswith(LOCK_FILES)


def inside(folder: Path, link: Path) -> bool:
    """Whether it stands in the folder itself, wherever its links lead."""
    return link.resolve().parent == folder.resolve()


def _file(path: Path, shown: str) -> Entry:
    try:
        size = path.stat().st_size
        if size > LARGEST:
            why = f"it is larger than {LARGEST // 1_000_000_000} GB, more than this program reads"
            return Entry(name=shown, size=size, unread=why)
        with path.open("rb") as stream:
            digest = hashlib.file_digest(stream, "sha256").hexdigest()
        return Entry(name=shown, size=path.stat().st_size, sha256=digest)
    except OSError as error:
        return Entry(name=shown, unread=f"it cannot be read ({error.strerror})")
