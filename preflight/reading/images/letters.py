"""From the recogniser's probabilities to letters, and what must be kept to score any other string later."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from preflight.reading.images.alphabet import LEAD_LINES
from preflight.reading.images.engine import Chances

KEPT = 5
"""Letters kept of a column."""
LEAST = 1e-4
"""Less probable letters are not kept."""
NOTHING = 0.999
"""Columns that are so surely between letters are kept once."""


Columns = tuple[tuple[tuple[str, float], ...], ...]


class Word(NamedTuple):
    """What stands in a cut-out: `mean` and `lowest` probability of its letters, `spots` where each stands (0 to 1)."""

    text: str
    mean: float
    lowest: float
    spots: tuple[float, ...]
    columns: Columns


def spell(chances: Chances, letters: Sequence[str]) -> Word:
    """The best letter of each column, doubled ones once (connectionist temporal classification)."""
    best = chances.argmax(axis=1)
    found: list[tuple[str, float, float]] = []
    before = 0
    for column, letter in enumerate(best):
        if letter and letter != before:
            found.append((letters[letter], float(chances[column, letter]), (column + 0.5) / len(best)))
        elif letter:
            text, chance, spot = found[-1]
            found[-1] = text, max(chance, float(chances[column, letter])), spot
        before = letter
    return _word(found, _columns(chances, letters))


def _word(found: list[tuple[str, float, float]], columns: Columns) -> Word:
    while found and found[0][0] == " ":
        found = found[1:]
    while found and found[-1][0] == " ":
        found = found[:-1]
    sure = [chance for text, chance, _ in _core(found) if text != " "]
    return Word(
        "".join(text for text, _, _ in found),
        sum(sure) / len(sure) if sure else 0.0,
        min(sure, default=0.0),
        tuple(round(spot, 3) for _, _, spot in found),
        columns,
    )


def _core(found: list[tuple[str, float, float]]) -> list[tuple[str, float, float]]:
    """Without the marks at both ends: a lead line that is read as a dash tells nothing of the numeral."""
    inner = [i for i, (text, _, _) in enumerate(found) if text not in LEAD_LINES]
    return found[inner[0] : inner[-1] + 1] if inner else found


def _columns(chances: Chances, letters: Sequence[str]) -> Columns:
    """The best few letters a column with the logarithms of their probabilities; "" is no letter."""
    kept: list[tuple[tuple[str, float], ...]] = []
    blank = False
    for column in chances:
        if column[0] > NOTHING:
            kept += [] if blank else [(("", 0.0),)]
            blank = True
            continue
        blank = False
        some = np.argsort(column)[-KEPT:][::-1]
        kept.append(tuple((letters[i], round(math.log(column[i]), 2)) for i in some if column[i] > LEAST))
    return tuple(kept)
