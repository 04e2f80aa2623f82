"""Some lines of a page held against their picture."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from difflib import SequenceMatcher

from preflight.facts import Line
from preflight.reading.images.engine import Engine, Grey, Rect
from preflight.reading.images.letters import Word, spell
from preflight.reading.images.looking import cut_out
from preflight.reading.images.views import view
from preflight.reading.pages.pixels import Scale

LINES = 8
"""So many lines are read."""
SURE = 0.9
"""Mean probability of a reading that may accuse. House value, as in `papers.words.drawn`."""
ALIKE = 0.6
"""A line whose letters agree with what is seen to this share is the same line. House value: proper ones reach 0.9."""
FEWEST, SHARE = 2, 0.25
"""Lines that must say something else, and of those that were read for sure. House values."""


def sample(lines: Sequence[Line]) -> list[Line]:
    """A few lines from all over the page."""
    step = max(1.0, len(lines) / LINES)
    return [lines[int(at * step)] for at in range(min(LINES, len(lines)))]


def contradicted(grey: Grey, lines: Sequence[Line], scale: Scale, engine: Engine) -> bool:
    """Whether these lines of a page drawn as `grey` say something else than what is seen there."""
    return says_otherwise([line.text for line in lines], _seen(grey, lines, scale, engine))


def _seen(grey: Grey, lines: Sequence[Line], scale: Scale, engine: Engine) -> list[Word]:
    cuts = []
    for line in lines:
        down, across = scale.window(line.box)
        turned = view(grey, {90: 270, 270: 90}.get(line.turned, 0))
        box = turned.of_page(Rect(across.start, down.start, across.stop, down.stop))
        cuts.append(cut_out(turned.grey, box))
    return [spell(chances, engine.letters) for chances in engine.read(cuts)]


def says_otherwise(said: Sequence[str], seen: Sequence[Word]) -> bool:
    """Whether enough lines that were read for sure have other letters than the file says."""
    sure = [
        (text, word)
        for text, word in zip(said, seen, strict=True)
        if word.mean >= SURE and sum(map(str.isalnum, word.text)) >= len(text) / 3
    ]
    others = sum(_alike(text, word.text) < ALIKE for text, word in sure)
    return others >= max(min(FEWEST, len(sure)), SHARE * len(sure), 1)


def _alike(said: str, seen: str) -> float:
    one, other = _folded(said), _folded(seen)
    return SequenceMatcher(None, one, other, autojunk=False).ratio()


def _folded(text: str) -> str:
    return "".join(filter(str.isalnum, unicodedata.normalize("NFKC", text).casefold()))
