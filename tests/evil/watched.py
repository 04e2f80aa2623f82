"""Runs the command on a folder, holds its report against the contract, and notes what its processes hold in memory."""

from __future__ import annotations

import contextlib
import json
import os
import re
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import psutil
from jsonschema import Draft202012Validator, FormatChecker

from preflight.datafiles import schema

ROOT = Path(__file__).parents[2]
SMALL = Path(__file__).with_name("small_limits.py")
VALIDATOR = Draft202012Validator(schema("report"), format_checker=FormatChecker())
TICK = 0.02
"""Seconds between two looks."""


@dataclass(frozen=True)
class Run:
    """How it ended, and the most megabytes (resident) that the program and any one child held."""

    code: int
    stdout: bytes
    stderr: str
    own: float
    child: float
    seconds: float


def check_of(folder: Path, *, program: tuple[str, ...] = ("-P", str(SMALL))) -> tuple[Run, dict[str, Any]]:
    """The command on a folder, and its report; both must be in order whatever the folder holds."""
    before = state_of(folder)
    ended = run(*program, "check", str(folder), "--filing-date", "2026-11-25", "--json", "-", timeout=800)
    assert state_of(folder) == before, "the folder is only read"
    assert ended.code in (0, 1), ended.stderr
    assert "Traceback" not in ended.stderr
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e]", ended.stderr)
    report = json.loads(ended.stdout)
    assert [e.message for e in VALIDATOR.iter_errors(report)] == []
    return ended, report


def state_of(folder: Path) -> list[tuple[str, int, int]]:
    """Names, sizes and times of all that lies in it."""
    return sorted((p.name, p.lstat().st_size, p.lstat().st_mtime_ns) for p in folder.iterdir())


def run(*arguments: str, timeout: float = 300, **environment: str) -> Run:
    """Run Python with these arguments; no child is left behind."""
    began = time.monotonic()
    path = os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])
    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err:
        program = subprocess.Popen(
            [sys.executable, *arguments], stdout=out, stderr=err, env=os.environ | {"PYTHONPATH": path} | environment
        )
        own = child = 0.0
        watched = psutil.Process(program.pid)
        while program.poll() is None:
            with contextlib.suppress(psutil.Error):
                own = max(own, _held(watched))
                child = max([child, *map(_held, watched.children())])
            if time.monotonic() - began > timeout:
                program.kill()
                raise AssertionError(f"it hangs: {arguments}")
            time.sleep(TICK)
        out.seek(0)
        err.seek(0)
        seconds = time.monotonic() - began
        return Run(program.returncode, out.read(), err.read().decode("utf-8", "replace"), own, child, seconds)


def _held(process: psutil.Process) -> float:
    try:
        return float(process.memory_info().rss) / 1e6
    except psutil.Error:
        return 0.0
