"""Results kept for the last few papers asked about: a paper is frozen, and is asked once for every page."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from functools import wraps
from typing import TypeVar

from preflight.papers.model import Paper

KEPT = 8
"""So many papers are remembered."""

T = TypeVar("T")


def remembered(find: Callable[[Paper], T]) -> Callable[[Paper], T]:
    """The same function, which looks up the very same paper instead of working it out again.

    By identity, not by value: comparing two long papers would cost as much as the work.
    """
    kept: deque[tuple[Paper, T]] = deque(maxlen=KEPT)

    @wraps(find)
    def found(paper: Paper) -> T:
        for known, result in tuple(kept):
            if known is paper:
                return result
        result = find(paper)
        kept.append((paper, result))
        return result

    return found
