"""Earlier versions of a file that were saved over but are still in it (ISO 32000-1, 7.5.6)."""

from __future__ import annotations

import re

MOST = 1000
WINDOW = 4096
"""The dictionary of a cross-reference stream is looked for in so many bytes."""

_START = re.compile(rb"startxref\s+(\d{1,12})\s+%%EOF")
_PREVIOUS = re.compile(rb"/Prev\s+(\d{1,12})")


def earlier_versions(data: bytes, header_offset: int = 0) -> int:
    """How many complete versions lie beneath the newest.

    A version is a section of the chain of cross-reference sections at which an end of file points. The second
    section of a linearised file is none: nothing points at it but the first (annex F).
    """
    ends = [int(found[1]) for found in _START.finditer(data)]
    if len(ends) < 2:
        return 0
    chain: list[int] = []
    at: int | None = ends[-1]
    while at is not None and at not in chain and len(chain) < MOST:
        chain.append(at)
        at = _previous(data, at + header_offset)
    return max(len(set(chain) & set(ends)) - 1, 0)


def _previous(data: bytes, at: int) -> int | None:
    """Where the section before the one at `at` begins."""
    if data[at : at + 4] == b"xref":
        begin = data.find(b"trailer", at)
        end = data.find(b"startxref", begin)
    else:
        begin, end = at, data.find(b"stream", at, at + WINDOW)
    if begin < 0 or end < 0:
        return None
    found = _PREVIOUS.search(data, begin, end)
    return int(found[1]) if found else None
