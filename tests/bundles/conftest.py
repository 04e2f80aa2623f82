"""The sample bundles, checked once a run by the program as a person starts it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]
BUNDLES = ROOT / "sample_bundles"
DAY = "2026-11-25"


class Checked:
    """One run over a bundle: exit code, JSON report, what the terminal showed, whether the folder was left alone."""

    def __init__(self, bundle: str, ready_for: str) -> None:
        before = state_of(BUNDLES / bundle)
        with tempfile.TemporaryDirectory() as folder:
            report, page = Path(folder) / "report.json", Path(folder) / "page.html"
            command = [sys.executable, "-P", "-m", "preflight", "check", str(BUNDLES / bundle)]
            options = ["--filing-date", DAY, "--ready-for", ready_for, "--json", str(report)]
            if ready_for == "filing":
                options += ["--html", str(page)]
            kept = {**os.environ, "PREFLIGHT_CACHE": os.environ["PREFLIGHT_TESTS_KEEP"]}
            done = subprocess.run([*command, *options], capture_output=True, check=False, env=kept)
            assert done.returncode in (0, 1), done.stderr.decode()
            self.code = done.returncode
            self.report: dict[str, Any] = json.loads(report.read_bytes())
            self.page = page.read_text(encoding="utf-8") if page.exists() else ""
        self.shown = done.stdout.decode()
        self.untouched = state_of(BUNDLES / bundle) == before


checked = cache(Checked)


def state_of(folder: Path) -> dict[str, tuple[int, int]]:
    """Name, time and size of each file."""
    return {p.name: (p.stat().st_mtime_ns, p.stat().st_size) for p in folder.iterdir()}


@pytest.fixture(name="checked", scope="session")
def checked_fixture() -> Any:
    """`checked`, for tests."""
    return checked


@pytest.fixture(scope="session")
def bundles() -> Path:
    """Where the sample bundles are."""
    return BUNDLES
