"""Cells for a spreadsheet that takes none of them for a formula."""

from __future__ import annotations

import re

from preflight.reporting.wording import clean

_TAKEN = re.compile(
    r"[=+\-@\t\r|%＝＋－＠]"  # noqa: RUF001 - a formula or a command, in some places also written full width
    r"|\d+[-/]\d+\b"  # a day
    r"|\d+(\.\d+)?[eE]\d+$|\d{12,}$"  # a number that is shown rounded: finding 12e456789012
)


def harmless(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula, a day or a number: an apostrophe before it makes it text."""
    shown = clean(cell)
    return f"'{shown}" if _TAKEN.match(shown.lstrip()) else shown
