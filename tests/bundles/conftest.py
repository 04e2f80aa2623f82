"""The sample bundles, checked once a run by the program as a person starts it."""

from __future__ import annotations

import json
import subprocess
import sys
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]
BUNDLES = ROOT / "sample_bundles"
DAY = "2026-11-25"


@cache
def checked(bundle: str, ready_for: str) -> tuple[int, dict[str, Any]]:
    """Exit code and JSON report of a sample bundle, filed on a fixed day."""
    command = [sys.executable, "-P", "-m", "preflight", "check", str(BUNDLES / bundle)]
    options = ["--filing-date", DAY, "--ready-for", ready_for, "--json", "-"]
    done = subprocess.run([*command, *options], capture_output=True, check=False)
    assert done.returncode in (0, 1), done.stderr.decode()
    return done.returncode, json.loads(done.stdout)


@pytest.fixture(name="checked", scope="session")
def checked_fixture() -> Any:
    """`checked`, for tests."""
    return checked


@pytest.fixture(scope="session")
def planted() -> Any:
    """`faults_of`, for tests."""
    return faults_of


@pytest.fixture(scope="session")
def bundles() -> Path:
    """Where the sample bundles are."""
    return BUNDLES


def faults_of(bundle: str) -> list[dict[str, Any]]:
    """The faults that were built into a bundle."""
    return list(tomllib.loads((BUNDLES / "planted.toml").read_text(encoding="utf-8"))[bundle]["faults"])
