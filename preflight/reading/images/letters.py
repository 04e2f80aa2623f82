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
    """What stands in a cut-out: `mean` and `lowest` probability of its letters."""

    text: str
    mean: float
    lowest: float
    columns: Columns


def spell(chances: Chances, letters: Sequence[str]) -> Word:
    """The best letter of each column, doubled ones once (connectionist temporal classification)."""
    best = chances.argmax(axis=1)
    found: list[tuple[str, float]] = []
    before = 0
    for column, letter in enumerate(best):
        if letter and letter != before:
            found.append((letters[letter], float(chances[column, letter])))
        elif letter:
            text, chance = found[-1]
            found[-1] = text, max(chance, float(chances[column, letter]))
        before = letter
    sure = [chance for text, chance in _core(found) if text != " "]
    return Word(
        "".join(text for text, _ in found).strip(" "),
        sum(sure) / len(sure) if sure else 0.0,
        min(sure, default=0.0),
        _columns(chances, letters),
    )


def _core(found: list[tuple[str, float]]) -> list[tuple[str, float]]:
    """Without the marks at both ends: a lead line that is read as a dash tells nothing of the numeral."""
    inner = [i for i, (text, _) in enumerate(found) if text not in LEAD_LINES]
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
