"""From bytes to facts: the only room that opens a document."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from preflight.facts import Entry, FileFacts
from preflight.reading.cache import Cache, forget
from preflight.reading.clippings import clip
from preflight.reading.limits import Limits
from preflight.reading.workers import read_all

__all__ = ["Cache", "Limits", "clip", "forget", "read_files"]


def read_files(
    folder: Path,
    entries: Sequence[Entry],
    *,
    limits: Limits = Limits(),  # noqa: B008  frozen
    workers: int | None = None,
    tell: Callable[[str, int, int], None] | None = None,
    cache: Cache | None = None,
) -> tuple[FileFacts, ...]:
    """Read each file in a process of its own; one FileFacts an entry, in the order of the entries.

    `workers` files are read at the same time (default: the number of processors, at most 4).
    `tell(file, pages done, pages in all)` is called as it goes on. A file that cannot be read, hangs,
    crashes or needs too much is `unread` with the reason; no error of a document is raised. Files are
    only ever opened for reading. KeyboardInterrupt ends all workers and is passed on. With a `cache`, bytes
    that it knows are not read again, and what is read completely is kept in it.
    """
    known = cache.find(entries, limits) if cache else (None,) * len(entries)
    new = [entry for entry, facts in zip(entries, known, strict=True) if facts is None]
    read = read_all(folder, new, limits=limits, workers=workers, tell=tell)
    if cache:
        cache.keep(new, read, limits)
    rest = iter(read)
    return tuple(facts or next(rest) for facts in known)
