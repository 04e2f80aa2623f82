"""The rulebook of the United States Patent and Trademark Office for a provisional application."""

from collections.abc import Iterable
from pathlib import Path

import preflight.rulebooks
from preflight.plugging.hookspecs import hookimpl


@hookimpl
def preflight_rulebooks() -> Iterable[Path]:
    """One folder of data files."""
    return (Path(preflight.rulebooks.__file__).parent / "us",)
