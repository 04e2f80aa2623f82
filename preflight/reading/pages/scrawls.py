"""Ink that is neither characters nor straight lines nor small frames, as a pen or a stamp leaves it on a print."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import cv2
import numpy as np

from preflight.facts import Box, Line, Square
from preflight.reading.pages.ink import Mask, find_marks
from preflight.reading.pages.pixels import Scale

RULE = 1.2
"""A level or upright stroke of this length (cm) is a rule or the side of a box, no handwriting."""
BESIDE = 0.03
"""In cm: ink so near to characters, rules and frames is theirs."""
LEAST = 0.35
"""In cm, in both directions: smaller ink is a dot, a dash or the rest of a rule."""
WORDS = 8
"""A page with fewer words is a picture or a drawing: nothing is written on it by hand that could be told apart."""


def find_scrawls(ink: Mask, lines: Sequence[Line], squares: Iterable[Square], scale: Scale) -> tuple[Box, ...]:
    """The clusters of such ink, in reading order; none on pages with hardly any characters."""
    visible = [line for line in lines if line.visible]
    if sum(len(line.text.split()) for line in visible) < WORDS:
        return ()
    rest = ink.copy()
    for box in (*(line.box for line in visible), *(square.box for square in squares)):
        rest[scale.window(box.grown(BESIDE))] = 0
    rest[_rules(ink, scale) > 0] = 0
    return tuple(box for box in find_marks(rest, scale) if min(box.width, box.height) >= LEAST)


def _rules(ink: Mask, scale: Scale) -> Mask:
    """Straight level and upright strokes, with the pixels beside them."""
    across, down = max(3, round(RULE / scale.across)), max(3, round(RULE / scale.down))
    level = cv2.morphologyEx(ink, cv2.MORPH_OPEN, np.ones((1, across), dtype=np.uint8))
    upright = cv2.morphologyEx(ink, cv2.MORPH_OPEN, np.ones((down, 1), dtype=np.uint8))
    near = 2 * max(1, round(BESIDE / scale.across)) + 1
    found = cv2.dilate(np.maximum(level, upright), np.ones((near, near), dtype=np.uint8))
    return np.asarray(found, dtype=np.uint8)
