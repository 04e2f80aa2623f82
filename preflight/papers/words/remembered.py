"""Results kept for the last few papers or pages asked about: they are frozen, and are asked many times."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from functools import wraps
from typing import TypeVar

KEPT = 8
"""So many are remembered."""

K = TypeVar("K")
T = TypeVar("T")


def remembered(find: Callable[[K], T]) -> Callable[[K], T]:
    """The same function, which looks up the very same paper or page instead of working it out again.

    By identity, not by value: comparing two long papers would cost as much as the work.
    """
    kept: deque[tuple[K, T]] = deque(maxlen=KEPT)

    @wraps(find)
    def found(asked: K) -> T:
        for known, result in tuple(kept):
            if known is asked:
                return result
        result = find(asked)
        kept.append((asked, result))
        return result

    return found
