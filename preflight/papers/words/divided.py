"""Lines put together as one string; a word divided at the end of a line is joined."""

from __future__ import annotations

import re
from collections.abc import Iterable

_HALF = re.compile(r"(?:[^\W_]|-)*[^\W_]-$")
_OTHER_HALF = re.compile(r"[^\W_](?:[^\W_]|-)*")
_SIGN = re.compile(r"\d|[^\W_].*[A-Z]")
"""A capital or a digit within: "miR-39", "DNA". Only words of small letters are divided."""
_COMPOUND = re.compile(r"\w-\w+-$")
"""A word divided where it has a hyphen anyway: analog-to-digital."""
_FIRST_PARTS = frozenset(
    re.findall(
        r"\S+",
        """
        self cross high low well half left right one two three four five six seven eight nine twenty thirty forty
        fifty sixty seventy eighty ninety
        """,
    )
)
"""What stands before a hyphen of its own: cross-section, forty-eight. From memory."""
_SUSPENDED = ("and", "or", "to")
"""Words behind a hyphen that waits for its word: "left- and right-hand"."""


def together(lines: Iterable[str]) -> tuple[str, tuple[int, ...]]:
    """The words of lines as one string, and the offsets at which the lines begin."""
    pieces: list[str] = []
    starts: list[int] = []
    length = 0
    for line in lines:
        between = _between(pieces[-1], line) if pieces else ""
        if between is None:
            pieces[-1] = pieces[-1][:-1]
            length -= 1
        elif between:
            pieces.append(between)
            length += 1
        starts.append(length)
        pieces.append(line)
        length += len(line)
    return "".join(pieces), tuple(starts)


def _between(before: str, after: str) -> str | None:
    """A space; nothing where a word goes on behind its hyphen; None where the hyphen only divides."""
    half, other = _HALF.search(before) if before.endswith("-") else None, _OTHER_HALF.match(after)
    if half is None or other is None or other.group() in _SUSPENDED:
        return " "
    signs = bool(_SIGN.search(half.group()))
    compound = _COMPOUND.search(half.group()) or half.group()[:-1].casefold() in _FIRST_PARTS
    if other.group()[0].islower():
        return "" if signs or compound or _SIGN.search(other.group()) else None
    return "" if signs and other.group()[0].isdigit() else " "
