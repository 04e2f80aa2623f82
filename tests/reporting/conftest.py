"""Reports made by hand, and golden files beside the tests.

`REFRESH_GOLDEN=1 pytest tests/reporting` writes the golden files anew; read the difference before accepting it.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, get_type_hints

import msgspec
import pytest

from preflight.reporting.report import Report

HERE = Path(__file__).parent
REPORTS = sorted(path.stem for path in (HERE / "reports").glob("*.json"))


@pytest.fixture
def report() -> Callable[[str], Report]:
    """A report of tests/reporting/reports by name."""

    def load(name: str) -> Report:
        return msgspec.json.decode((HERE / "reports" / f"{name}.json").read_bytes(), type=Report, strict=True)

    return load


@pytest.fixture
def golden() -> Callable[[str, str], None]:
    """Compares text with a golden file; both are shown in full by the assertion."""

    def compare(name: str, made: str) -> None:
        path = HERE / "golden" / name
        if os.environ.get("REFRESH_GOLDEN"):
            path.parent.mkdir(exist_ok=True)
            path.write_text(made, encoding="utf-8")
        assert made == path.read_text(encoding="utf-8"), f"{path} differs; to accept: REFRESH_GOLDEN=1 pytest {HERE}"

    return compare


def _poisoned(thing: Any, words: Iterator[str], kind: object = str) -> Any:
    """The same with other words in every string that is not one of a closed list."""
    if isinstance(thing, msgspec.Struct):
        kinds = get_type_hints(type(thing))
        return type(thing)(**{f: _poisoned(getattr(thing, f), words, kinds[f]) for f in thing.__struct_fields__})
    if isinstance(thing, dict):
        return {key: _poisoned(value, words) for key, value in thing.items()} | {next(words): next(words)}
    if isinstance(thing, list | tuple):
        return type(thing)(_poisoned(item, words) for item in thing)
    return next(words) if isinstance(thing, str) and "Literal" not in str(kind) else thing


@pytest.fixture
def poisoned() -> Callable[..., Any]:
    """`poisoned(report, words)`: the report with other words in it."""
    return _poisoned


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """A test that takes `every_report` runs once for each of them."""
    if "every_report" in metafunc.fixturenames:
        metafunc.parametrize("every_report", REPORTS)
