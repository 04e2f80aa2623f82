"""What stands in the folder, before anything is opened."""

from __future__ import annotations

import msgspec


class Entry(msgspec.Struct, frozen=True):
    """One thing in the folder. Only an entry without `left_out` is read and judged."""

    name: str
    """Path relative to the folder, with forward slashes."""
    size: int = 0
    """In bytes."""
    sha256: str = ""
    """Of the bytes; empty if they were not or could not be read."""
    unread: str | None = None
    """Why its bytes could not be read."""
    left_out: str | None = None
    """Why it is not looked at: sub-folder, system file, lock file, link out of the folder."""
    harmless: bool = False
    """Left out without a word to the filer: system files and lock files."""


class Manifest(msgspec.Struct, frozen=True):
    """The folder as it stands: its own name (never its path) and its entries, sorted by name."""

    folder: str
    entries: tuple[Entry, ...] = ()

    @property
    def files(self) -> tuple[Entry, ...]:
        """What is read and judged."""
        return tuple(e for e in self.entries if e.left_out is None)


class Digests(msgspec.Struct, frozen=True):
    """One file by its bytes: receipts print different digests, so there are three."""

    file: str
    """Path relative to the folder, with forward slashes."""
    bytes: int
    sha256: str
    sha512: str
    sha1: str
