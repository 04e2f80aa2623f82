"""Reading papers while a person waits: progress on standard error, and what the cache has to say after it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from rich.console import Console

from preflight.cli.endings import say
from preflight.cli.keeping import cache_for
from preflight.cli.progress import Progress
from preflight.reading import Cache


@contextmanager
def watched_reading(
    folder: Path, now: dt.datetime, *, keeping: bool = True
) -> Iterator[tuple[Callable[[str, int, int], None], Cache | None]]:
    """What `read_filing` and `check_folder` take as `tell` and `cache`."""
    said: list[str] = []  # while a moving line may stand on the terminal
    cache = cache_for(folder, now, said.append) if keeping else None
    try:
        with Progress(Console(stderr=True)) as progress:
            yield progress.tell, cache
    finally:
        for line in said:
            say(line)
