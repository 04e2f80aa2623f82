"""The door: what preflight asks this package for."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from house_rules.dockets import docket_in_name, docket_on_pages
from house_rules.footers import footer
from house_rules.titles import title_words
from preflight.checks import AnyCheck
from preflight.plugging import hookimpl


@hookimpl
def preflight_checks() -> Iterable[AnyCheck]:
    """Code that measures; every pattern and word comes from the rules."""
    return (docket_in_name, docket_on_pages, footer, title_words)


@hookimpl
def preflight_rulebooks() -> Iterable[Path]:
    """The extension of the US rulebook."""
    return (Path(__file__).parent / "rules",)
