"""Runs the command line as a process of its own, with a stand-in that misbehaves: `python stand_ins.py NAME ...`."""

from __future__ import annotations

import atexit
import datetime as dt
import os
import signal
import sys
import time
from pathlib import Path
from typing import Any

import msgspec

from preflight.cli import catalogue, main
from preflight.cli import check as check_module
from preflight.plugging import Registry
from preflight.reporting.report import Report
from preflight.rulebooks import Rulebook

REPORT = Path(__file__).parents[1] / "reporting" / "reports" / "hostile_names.json"

RULEBOOK = Rulebook("us.provisional", "us", "provisional", "US", dt.date(2026, 11, 25), "America/New_York", ())


def _report() -> Report:
    return msgspec.json.decode(REPORT.read_bytes(), type=Report)


def behaves(*_: Any, **__: Any) -> Report:
    return _report()


def prints(*_: Any, **__: Any) -> Report:
    """Prints in every way that a library has, also when the program ends."""
    print("stray print")  # noqa: T201 - that is its misbehaviour
    sys.__stdout__.write("stray write\n")
    os.write(1, b"stray bytes\n")
    os.system("echo stray child")
    atexit.register(lambda: print("stray last words"))  # noqa: T201 - as above
    atexit.register(lambda: os.write(1, b"stray last bytes\n"))
    return _report()


def ends_the_program(*_: Any, **__: Any) -> Report:
    sys.exit(0)


def is_interrupted(*_: Any, **__: Any) -> Report:
    signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell ignores it in what runs in the background
    signal.raise_signal(signal.SIGINT)
    return _report()


def takes_long(*_: Any, tell: Any, **__: Any) -> Report:
    for page in range(1, 14):
        time.sleep(0.1)
        tell("draw\x1bings.pdf", page, 44)
    return _report()


if __name__ == "__main__":
    check_module.check_folder = globals()[sys.argv[1]]
    check_module.built_in_and_installed = Registry
    catalogue.built_in_and_installed = lambda: Registry(rulebooks={("us", "provisional"): RULEBOOK})
    main(sys.argv[2:])
