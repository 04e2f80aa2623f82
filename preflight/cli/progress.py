"""Tells a waiting person how far the reading is, on standard error and only when it takes a while."""

from __future__ import annotations

import threading
import time
from types import TracebackType
from typing import Self

from rich.console import Console
from rich.status import Status
from rich.text import Text

from preflight.reporting.wording import clean, counted

QUIET_SECONDS = 1.0
"""Nothing is said about work that is done by then."""
PLAIN_SECONDS = 10.0
"""Where there is no terminal: a line at most this often."""


class Progress:
    """A moving line on a terminal, sparse plain lines elsewhere."""

    def __init__(self, console: Console, *, quiet: float = QUIET_SECONDS, every: float = PLAIN_SECONDS) -> None:
        self._console = console
        self._moving = console.is_terminal and not console.is_dumb_terminal
        self._every = every
        self._text = "reading the papers"
        self._status: Status | None = None
        self._said: float | None = None
        self._lock = threading.Lock()
        self._timer = threading.Timer(quiet, self._begin)
        self._timer.daemon = True

    def __enter__(self) -> Self:
        self._timer.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._timer.cancel()
        with self._lock:
            if self._status is not None:
                self._status.stop()

    def tell(self, file: str, done: int, total: int) -> None:
        """How many pages of a file are read."""
        pages = f", {done} of {counted(total, 'page')}" if total else ""
        with self._lock:
            self._text = f"reading {clean(file)}{pages}"
            if self._status is not None:
                self._status.update(Text(self._text))
            elif self._said is not None and time.monotonic() - self._said >= self._every:
                self._say()

    def _begin(self) -> None:
        with self._lock:
            if self._moving:
                self._status = Status(Text(self._text), console=self._console, spinner="line", spinner_style="cyan")
                self._status.start()
            else:
                self._say()

    def _say(self) -> None:
        self._console.print(Text(self._text), soft_wrap=True, highlight=False)
        self._said = time.monotonic()
