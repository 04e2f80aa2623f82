"""What a waiting person sees."""

from __future__ import annotations

import io
import time

from rich.console import Console

from preflight.cli.progress import Progress


def _console(**settings) -> Console:
    return Console(file=io.StringIO(), width=80, **settings)


def _wait_for(console: Console, part: str) -> str:
    until = time.monotonic() + 5
    while part not in console.file.getvalue() and time.monotonic() < until:
        time.sleep(0.005)
    return console.file.getvalue()


def test_quick_work_says_nothing():
    console = _console()
    with Progress(console, quiet=30) as progress:
        progress.tell("a.pdf", 1, 2)
    assert console.file.getvalue() == ""


def test_without_a_terminal_lines_are_plain_and_sparse():
    console = _console(force_terminal=False)
    with Progress(console, quiet=0.01, every=1000) as progress:
        _wait_for(console, "reading")
        for page in range(1, 9):
            progress.tell("a.pdf", page, 8)
    assert console.file.getvalue() == "reading the papers\n"


def test_now_and_then_a_new_line_says_how_far_it_is():
    console = _console(force_terminal=False)
    with Progress(console, quiet=0.01, every=0) as progress:
        _wait_for(console, "reading")
        progress.tell("[b]a[/b]\x1b.pdf", 1, 1)
    assert console.file.getvalue().splitlines()[1:] == ["reading [b]a[/b]␛.pdf, 1 of 1 page"]


def test_a_terminal_shows_one_moving_line_and_clears_it():
    console = _console(force_terminal=True, color_system=None, _environ={"TERM": "xterm"})
    with Progress(console, quiet=0.01) as progress:
        _wait_for(console, "reading the papers")
        progress.tell("a.pdf", 3, 8)
        shown = _wait_for(console, "3 of 8 pages")
    assert "reading a.pdf, 3 of 8 pages" in shown
    assert console.file.getvalue().endswith("\x1b[2K")


def test_a_dumb_terminal_gets_plain_lines():
    console = _console(force_terminal=True, _environ={"TERM": "dumb"})
    with Progress(console, quiet=0.01):
        _wait_for(console, "reading")
    assert console.file.getvalue() == "reading the papers\n"
