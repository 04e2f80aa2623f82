"""Figures that a text calls old, and the legend that says so on a sheet (MPEP 608.02(g))."""

from __future__ import annotations

import re
from collections.abc import Iterator

LEGEND = re.compile(r"\b(?:prior|related|background)[\s-]+art\b|\bconventional\b", re.IGNORECASE)
"""On a sheet."""
_OLD = r"(?:prior|related|background)[\s-]+art"
_FIGURE = r"\bFIGS?\b\.?\s*(?P<number>\d{1,3})\s?(?P<letter>[A-Z])?\b"
_CALLED = re.compile(
    rf"{_FIGURE}\s*(?:\(\s*{_OLD}\s*\)|(?:is|shows|illustrates|depicts)\s+(?:(?:an?|the)\s+)?"
    rf"(?:[\w-]+\s+){{0,4}}?(?:of\s+(?:an?|the)\s+)?{_OLD}\s+[\w-]+)",
    re.IGNORECASE,
)
"""FIG. 3 is a side view of a prior art valve; FIG. 3 (prior art)."""
_COMPARED = re.compile(
    r"\b(?:compar\w+|unlike|improv\w+|differ\w*|modif\w+|over|instead|versus|and|with|embodiment|invention|together)\b",
    re.IGNORECASE,
)
"""Words by which the figure shows more than what is old."""
_ANY_OLD = re.compile(
    r"\b(?:prior|known|existing|earlier|conventional|traditional|background|related|old)\b", re.IGNORECASE
)


def called_old(text: str) -> Iterator[tuple[str, int]]:
    """Each figure, as "2A", that a text says to show old art alone, and where it says so."""
    for found in _CALLED.finditer(text):
        end = re.compile(r"[.;](?:\s|$)").search(text, found.end())
        if not _COMPARED.search(text[found.start() : end.end() if end else len(text)]):
            yield f"{found.group('number')}{(found.group('letter') or '').upper()}", found.start()


def spoken_of_as_old(text: str, figure: str) -> bool:
    """Whether any sentence that names the figure has a word for what is old."""
    name = re.compile(rf"\bFIGS?\b\.?\s*{figure}\b", re.IGNORECASE)
    return any(name.search(part) and _ANY_OLD.search(part) for part in re.split(r"(?<!FIG)(?<!FIGS)\.\s", text))
