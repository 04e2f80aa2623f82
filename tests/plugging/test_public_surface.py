"""The plug-ins in plugins/ use what is promised to strangers, and nothing else."""

from __future__ import annotations

import ast
import importlib
from collections.abc import Iterator
from pathlib import Path

import pytest

PLUGINS = Path(__file__).resolve().parents[2] / "plugins"
PUBLIC = ("preflight.plugging", "preflight.facts", "preflight.papers", "preflight.checks", "preflight.testing")
SOURCES = sorted(PLUGINS.rglob("*.py"))


def _taken(source: Path) -> Iterator[tuple[str, str]]:
    """Module and name of each thing that a source takes from the program."""
    for node in ast.walk(ast.parse(source.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "preflight":
            yield from ((node.module or "", alias.name) for alias in node.names)
        elif isinstance(node, ast.Import):
            yield from ((alias.name, "") for alias in node.names if alias.name.split(".")[0] == "preflight")


def test_there_is_something_to_look_at() -> None:
    assert sum(1 for source in SOURCES for _ in _taken(source)) > 10


@pytest.mark.plugin
@pytest.mark.parametrize("source", SOURCES, ids=lambda path: path.relative_to(PLUGINS).as_posix())
def test_a_plug_in_takes_only_what_is_public(source: Path) -> None:
    for module, name in _taken(source):
        assert module in PUBLIC, f"{module} is not public"
        assert name in importlib.import_module(module).__all__, f"{module} does not promise {name!r}"
