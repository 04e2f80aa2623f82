"""The next free numbers for a part that is added: even ones for parts, odd ones for late additions, as is the habit."""

from __future__ import annotations

import re
from collections.abc import Iterable

import msgspec

HUNDRED = 100


class NextFree(msgspec.Struct, frozen=True):
    """What is free in one hundred (0, 100, 200, ...), after the largest even and the largest odd number in use."""

    hundred: int
    even: int
    odd: int


def next_free(characters: Iterable[str], ranges: Iterable[tuple[int, int]] = ()) -> tuple[NextFree, ...]:
    """For each hundred in use. 18a uses 18, a range uses all within; letters first (R1, S10) are series of their own.

    Where no odd number is used, it is the first above the smallest one.
    """
    used = {int(found.group()) for text in characters if (found := re.match(r"\d+", text))}
    taken = used | {number for low, high in ranges for number in range(low, min(high, low + 1000) + 1)}
    return tuple(_of_hundred(hundred, taken) for hundred in sorted({number // HUNDRED * HUNDRED for number in used}))


def _of_hundred(hundred: int, taken: set[int]) -> NextFree:
    here = {number for number in taken if hundred <= number < hundred + HUNDRED}
    even = max((number for number in here if number % 2 == 0), default=min(here) // 2 * 2)
    odd = max((number for number in here if number % 2), default=min(here) // 2 * 2 - 1)
    return NextFree(hundred, _after(even, taken), _after(odd, taken))


def _after(number: int, taken: set[int]) -> int:
    number += 2
    while number in taken:
        number += 2
    return number
