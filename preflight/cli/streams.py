"""Standard output is kept for the report; whatever else is printed meanwhile goes to standard error."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NoReturn, TextIO

from rich.console import Console


class ReportConsole(Console):
    """A console that leaves a closed pipe to its caller: the exit code is the verdict, not a matter of output."""

    def __init__(self, stream: TextIO) -> None:
        super().__init__(file=stream, highlight=False, markup=False, emoji=False)

    def on_broken_pipe(self) -> NoReturn:
        """The reader has gone."""
        raise BrokenPipeError


@contextlib.contextmanager
def report_stream() -> Iterator[TextIO]:
    """Standard output for the report alone, also against libraries that write to the descriptor itself.

    Characters that the terminal cannot show are written as their codes.
    """
    own, others = sys.stdout or _nowhere(), sys.stderr or _nowhere()
    own.flush()
    descriptor = _descriptor(own)
    sys.stdout = others
    try:
        if descriptor is None or (aside := _descriptor(others)) is None:
            yield own
        else:
            with _led_aside(own, descriptor, aside) as stream:
                yield stream
    finally:
        sys.stdout = own


@contextlib.contextmanager
def shown_as_far_as_read() -> Iterator[TextIO]:
    """The same for a list: whoever closes the pipe has seen enough of it."""
    with contextlib.suppress(BrokenPipeError), report_stream() as stream:
        yield stream
        stream.flush()


@contextlib.contextmanager
def _led_aside(own: TextIO, descriptor: int, aside: int) -> Iterator[TextIO]:
    kept = os.dup(descriptor)
    os.dup2(aside, descriptor)
    stream = open(os.dup(kept), "w", encoding=own.encoding or "utf-8", errors="backslashreplace")  # noqa: PTH123, SIM115 - a descriptor, closed below
    try:
        yield stream
    finally:
        with contextlib.suppress(OSError):  # whoever wrote has flushed, and knows what became of it
            stream.close()
        os.dup2(kept, descriptor)
        os.close(kept)


def end_of_output() -> None:
    """Nothing that is printed from here on belongs to the report: a library's last words go to standard error."""
    with contextlib.suppress(OSError, ValueError, AttributeError):
        sys.stdout.flush()
    out, err = _descriptor(sys.stdout), _descriptor(sys.stderr)
    if out is not None and err is not None:
        os.dup2(err, out)


def _descriptor(stream: TextIO | None) -> int | None:
    try:
        return stream.fileno() if stream is not None else None
    except (OSError, ValueError, AttributeError):
        return None


def _nowhere() -> TextIO:
    return Path(os.devnull).open("w", encoding="utf-8")
