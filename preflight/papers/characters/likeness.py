"""How probable any other string is at the place of a reading (connectionist temporal classification)."""

from __future__ import annotations

import math

from preflight.facts import Reading

NEVER = -9.2
"""The logarithm of what was too improbable to be kept, 1e-4."""


def log_chance(reading: Reading, text: str) -> float:
    """The logarithm of the probability that just this text stands there; minus infinity where it does not fit."""
    if not reading.columns or not text:
        return -math.inf
    states = [""]
    for letter in text:
        states += [letter, ""]
    now = [-math.inf] * len(states)
    for first, column in enumerate(map(dict, reading.columns)):
        before, now = now, [-math.inf] * len(states)
        for i, letter in enumerate(states):
            ways = [before[i], before[i - 1] if i else -math.inf]
            if i > 1 and letter and letter != states[i - 2]:
                ways.append(before[i - 2])
            if not first and i < 2:
                ways.append(0.0)
            now[i] = _sum(ways) + column.get(letter, NEVER)
    return _sum(now[-2:])


def _sum(logs: list[float]) -> float:
    top = max(logs)
    return top if top == -math.inf else top + math.log(sum(math.exp(one - top) for one in logs))
