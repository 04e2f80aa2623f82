"""How much time, memory and length one file may take."""

from __future__ import annotations

from pathlib import Path

import msgspec


class Limits(msgspec.Struct, frozen=True):
    """What is allowed to one file; what needs more is reported as not read."""

    seconds: float = 60.0
    """Wall time for opening a file and, for each hundred pages of it, for reading them."""
    page_seconds: float = 30.0
    """Wall time for any one page; only that page is lost when it runs out."""
    look_seconds: float = 60.0
    """Wall time more for each page whose picture is read; one takes 1.5 to 5 s on an idle machine, and many times that
    where other work shares the processors: it must not be lost by load alone."""
    text_pages: int = 40
    """A file with more pages whose pictures have to be looked at is not read where these are pages of text: one takes
    3 to 8 s, and nobody waits longer before an upload."""
    memory: int = 1500
    """Megabytes a worker may hold."""
    pages: int = 2000
    """A file with more pages is not read."""
    restarts: int = 3
    """How often a file is taken up again after a page that stopped its worker."""
    facts: int = 64
    """Megabytes of answers kept of one file: 2,000 dense pages of text have 30."""


def peak_memory() -> float:
    """The most megabytes that this process has held; 0 where the system has no ceiling that it could run into."""
    try:
        lines = Path("/proc/self/status").read_text(encoding="ascii").splitlines()
    except (OSError, ValueError):
        return 0.0
    return next((int(line.split()[1]) * 1024 / 1e6 for line in lines if line.startswith("VmHWM:")), 0.0)
