"""How much time, memory and length one file may take."""

from __future__ import annotations

import msgspec


class Limits(msgspec.Struct, frozen=True):
    """What is allowed to one file; what needs more is reported as not read."""

    seconds: float = 60.0
    """Wall time for opening a file and, for each hundred pages of it, for reading them."""
    page_seconds: float = 30.0
    """Wall time for any one page; only that page is lost when it runs out."""
    memory: int = 1500
    """Megabytes a worker may hold."""
    pages: int = 2000
    """A file with more pages is not read."""
    restarts: int = 3
    """How often a file is taken up again after a page that stopped its worker."""
    facts: int = 64
    """Megabytes of answers kept of one file: 2,000 dense pages of text have 30."""
