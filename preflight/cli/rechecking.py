"""`check --watch`: the folder is checked again whenever something in it changes, until Ctrl-C."""

from __future__ import annotations

import os
import re
import time
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from pathlib import Path
from threading import Event

from watchfiles import watch

from preflight.bundle import is_trace_of_a_program
from preflight.cli.endings import CannotDeliver, Exit, say
from preflight.datafiles import DataMistakes
from preflight.reporting.comparing import compare, summary
from preflight.reporting.report import Report
from preflight.reporting.wording import clean, listed

_LOOK_MS = 500
"""How often the watching library looks up from its waiting."""
_QUIET_SECONDS = 0.4
_PATIENCE_SECONDS = 15.0
"""A file that is still being written after that is read as it is; its next change is seen too."""
_PARTIAL = re.compile(r"\..*\.\d+\.partial")
_SHOWN = 4


def keep_checking(folder: Path, check: Callable[[], Sequence[Report]], changes: Iterable[Collection[str]]) -> Exit:
    """Check whenever `changes` yields, which it does first with nothing in it. Ends with the last verdict.

    Mistakes of the person are told and waited for. Raises DataMistakes once the folder itself is gone.
    """
    before: Sequence[Report] = ()
    code = Exit.COULD_NOT_START
    waiting = False
    try:
        for names in changes:
            waiting = False
            if names:
                say(f"changed: {_named(names)}; checking again")
            try:
                reports = check()
            except (DataMistakes, CannotDeliver) as error:
                if not folder.is_dir():
                    raise
                code = Exit.TOOL_FAILED if isinstance(error, CannotDeliver) else Exit.COULD_NOT_START
                say(str(error))
                say("waiting for the next change; Ctrl-C ends")
            else:
                say(f"{_since(before, reports)}{time.strftime('%H:%M:%S')}: waiting for changes; Ctrl-C ends")
                before = reports
                code = Exit.PASS if all(one.verdict == "pass" for one in reports) else Exit.FAIL
            waiting = True
    except KeyboardInterrupt:
        if not waiting:  # a check that was interrupted proves nothing
            raise
    return code


def changes_in(folder: Path, stop: Event | None = None) -> Iterator[Collection[str]]:
    """The names of what changed, each time that something did and the folder has come to rest.

    Nothing first, once the watching has begun: no change after that is missed. Traces of other programs, and our own
    half-written files, are passed over.
    """
    seen = watch(
        folder,
        watch_filter=lambda _, path: _counts(Path(path).name),
        step=100,
        rust_timeout=_LOOK_MS,
        yield_on_timeout=True,
        recursive=False,
        stop_event=stop,
    )
    next(seen, None)
    yield ()
    for found in seen:
        if found:
            _come_to_rest(folder)
            yield sorted({Path(path).name for _, path in found})


def _counts(name: str) -> bool:
    return not (_PARTIAL.fullmatch(name) or is_trace_of_a_program(name))


def _come_to_rest(folder: Path) -> None:
    """Wait while files are still being written, for programs export in many small steps."""
    until = time.monotonic() + _PATIENCE_SECONDS
    last, now = None, _state(folder)
    while now != last and time.monotonic() < until:
        time.sleep(_QUIET_SECONDS)
        last, now = now, _state(folder)


def _state(folder: Path) -> list[tuple[str, int, int]]:
    try:
        with os.scandir(folder) as entries:
            return sorted((e.name, e.stat().st_size, e.stat().st_mtime_ns) for e in entries)
    except OSError:  # something went away meanwhile
        return []


def _named(names: Collection[str]) -> str:
    shown = [clean(name) for name in names][:_SHOWN]
    more = len(names) - len(shown)
    return listed([*shown, f"{more} more"] if more else shown)


def _since(before: Sequence[Report], now: Sequence[Report]) -> str:
    """What became of the findings, once there is something to compare with."""
    pairs = zip(before, now, strict=True) if len(before) == len(now) else ()
    told = "; ".join(summary(compare(old, new)) for old, new in pairs)
    return f"since the last check: {told}; " if told else ""
