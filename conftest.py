"""For every test, here and in the plug-ins."""

from __future__ import annotations

import os
import shutil
import tempfile
from pathlib import Path

import pytest

os.environ["PREFLIGHT_CACHE"] = "off"
"""No test uses the cache of the person who runs it. Set before any test module copies the environment."""


def _kept(run: str) -> Path:
    return Path(tempfile.gettempdir()) / f"preflight-tests-{run}"


_RUN = os.environ.get("PYTEST_XDIST_TESTRUNUID", str(os.getpid()))
os.environ["PREFLIGHT_TESTS_KEEP"] = str(_kept(_RUN))
"""A cache for what is read of the sample bundles in this run, by any of its processes: reading their pictures takes
longest."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Groups first: each is the work of one process, and the rest fills up the others."""
    items.sort(key=lambda item: item.get_closest_marker("xdist_group") is None)


def pytest_sessionfinish(session: pytest.Session) -> None:
    """The process that began the run removes what was kept."""
    if not hasattr(session.config, "workerinput"):
        nodes = getattr(session.config.pluginmanager.get_plugin("dsession"), "nodemanager", None)
        shutil.rmtree(_kept(getattr(nodes, "testrunuid", _RUN)), ignore_errors=True)
