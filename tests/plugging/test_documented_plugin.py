"""The plug-in that plugins/README.md shows is run as it stands there."""

from __future__ import annotations

import re
from pathlib import Path
from types import ModuleType

import pytest

from preflight.checks import Measured
from preflight.facts import Page
from preflight.papers import Paper
from preflight.plugging import Plugin, registry_of

GUIDE = Path(__file__).resolve().parents[2] / "plugins" / "README.md"


@pytest.mark.plugin
def test_the_plug_in_of_the_guide_works() -> None:
    (code,) = re.findall(r"```python\n(.*?)```", GUIDE.read_text(encoding="utf-8"), re.DOTALL)
    module = ModuleType("house")
    exec(compile(code, str(GUIDE), "exec"), module.__dict__)
    registry = registry_of([Plugin("house", "1.0", module)])
    assert [p.trouble for p in registry.plugins] == [None]
    check = registry.checks["house-length"]
    pages = tuple(Page(number=n, width=21.59, height=27.94) for n in (1, 2, 3))
    paper = Paper(role="claims", kind="text", file="claims.pdf", sha256="", pages=pages, how_known="declared")
    (outcome,) = check.run(paper, check.takes(most=2))
    assert isinstance(outcome, Measured)
    assert (outcome.value, outcome.held) == (3, False)
