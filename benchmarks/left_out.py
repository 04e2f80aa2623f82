"""Thresholds of the reader chosen on all documents but one, and what they give on that one.

The rules were found on these sheets; so a figure over all of them flatters. Here each document in turn is read with
the thresholds that do best on the sheets of the other documents, out of a small grid of those that were tuned. What
stays as it was found (the steps themselves, the models) is not tested by this.
"""

from __future__ import annotations

import hashlib
import itertools
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import cv2
import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests" / "references"))

from real_sheets import FOLDER, Score, score, together, truths

from preflight.facts import CM_PER_PT, Page
from preflight.papers.words import drawn
from preflight.reading.images import choosing, components, looking
from preflight.reading.images.engine import Chances, Engine, Grey, Rect
from preflight.reading.images.looker import DPI, _reading
from preflight.reading.pages import Document
from preflight.reading.pages.beside import with_strokes_beside
from preflight.reading.pages.pixels import Scale, dark, drawn_at

GRID: dict[tuple[Any, str], tuple[float, ...]] = {
    (choosing, "SURE"): (0.95, 0.80, 0.99),
    (components, "LONG"): (2.2, 1.5, 3.5),
    (looking, "SPECK_LOWEST"): (0.8, 0.5, 0.95),
    (drawn, "GOOD"): (0.8, 0.5, 0.95),
}
"""The thresholds that were tuned, each with what is tried; the first is the one in use and wins where several do as
well. The last one works on readings that are there already, the others on the way to them."""

Setting = tuple[float, ...]


class Sheet(NamedTuple):
    """One sheet, drawn once."""

    truth: dict[str, Any]
    grey: Grey
    scale: Scale
    width: float
    height: float


class Remembering:
    """The engine, which is asked once for each cut-out: most settings ask for the same ones.

    What stands in a cut-out depends a little on those that are read with it, so the numbers may differ in the last
    place from those of a run by itself.
    """

    def __init__(self) -> None:
        self._engine = Engine()
        self._boxes: dict[bytes, list[Rect]] = {}
        self._chances: dict[bytes, Chances] = {}
        self.letters = self._engine.letters

    def boxes(self, grey: Grey) -> list[Rect]:
        """As of the engine."""
        key = _key(grey)
        if key not in self._boxes:
            self._boxes[key] = self._engine.boxes(grey)
        return self._boxes[key]

    def read(self, cuts: list[Grey]) -> list[Chances]:
        """As of the engine."""
        keys = [_key(cut) for cut in cuts]
        new = {key: cut for key, cut in zip(keys, cuts, strict=True) if key not in self._chances}
        self._chances |= zip(new, self._engine.read(list(new.values())), strict=True)
        return [self._chances[key] for key in keys]


def _key(grey: Grey) -> bytes:
    return hashlib.sha256(np.ascontiguousarray(grey).tobytes() + str(grey.shape).encode()).digest()


def each_left_out() -> Iterator[str]:
    """A line for each document, and one for all of them."""
    cv2.setNumThreads(1)
    scores = _all_scores()
    used = next(iter(scores))
    names = ", ".join(f"{module.__name__.rpartition('.')[2]}.{name}" for module, name in GRID)
    yield f"one document left out: {names} chosen on the others, out of {len(scores)} settings"
    yield f"{'document':<16} {'chosen':<22} {'recall':>6} {'prec.':>6}  missed / wrong"
    kept = []
    for document in sorted({truth["document"] for truth in truths()}):
        chosen = max(scores, key=lambda setting: _f1(_of(scores[setting], document, inside=False)))
        there = _of(scores[chosen], document, inside=True)
        kept += there
        whole = together(there)
        said = "as in use" if chosen == used else " ".join(f"{value:g}" for value in chosen)
        errors = f"{' '.join(whole.missed) or '-'} / {' '.join(whole.wrong) or '-'}"
        yield f"{document:<16} {said:<22} {whole.recall:6.3f} {whole.precision:6.3f}  {errors}"
    whole, tuned = together(kept), together([score for _, score in scores[used]])
    worst = min(scores, key=lambda setting: _f1([score for _, score in scores[setting]]))
    low = together([score for _, score in scores[worst]])
    yield f"left out:  recall {whole.recall:.3f}, precision {whole.precision:.3f}"
    yield f"in use:    recall {tuned.recall:.3f}, precision {tuned.precision:.3f}"
    differing = {tuple((one.recall, one.precision) for _, one in some) for some in scores.values()}
    yield f"the grid gives {len(differing)} different results"
    yield f"the worst: recall {low.recall:.3f}, precision {low.precision:.3f} with {' '.join(f'{v:g}' for v in worst)}"


def _of(some: list[tuple[str, Score]], document: str, *, inside: bool) -> list[Score]:
    return [one for name, one in some if (name == document) == inside]


def _f1(scores: list[Score]) -> float:
    """The harmonic mean of recall and precision of all together."""
    whole = together(scores)
    both = whole.recall + whole.precision
    return round(2 * whole.recall * whole.precision / both, 6) if both else 0.0


def _all_scores() -> dict[Setting, list[tuple[str, Score]]]:
    """The scores of all sheets, each with its document, for every setting of the grid."""
    sheets, engine = [_drawn(truth) for truth in truths()], Remembering()
    *early, last = GRID.items()
    before = [getattr(module, name) for module, name in GRID]
    found: dict[Setting, list[tuple[str, Score]]] = {}
    try:
        for values in itertools.product(*(tried for _, tried in early)):
            for ((module, name), _), value in zip(early, values, strict=True):
                setattr(module, name, value)
            pages = [(sheet, _read(sheet, engine)) for sheet in sheets]
            for value in last[1]:
                setattr(*last[0], value)
                found[*values, value] = [(sheet.truth["document"], score(page, sheet.truth)) for sheet, page in pages]
    finally:
        for (module, name), value in zip(GRID, before, strict=True):
            setattr(module, name, value)
    return found


def _drawn(truth: dict[str, Any]) -> Sheet:
    document = Document((FOLDER / truth["file"]).read_bytes())
    with document.page(1) as page:
        width, height = (side * CM_PER_PT for side in page.size)
        columns, rows, scale = drawn_at(width, height, DPI)
        grey = np.asarray(cv2.cvtColor(page.raster(columns, rows), cv2.COLOR_BGR2GRAY), dtype=np.uint8)
    document.close()
    return Sheet(truth, grey, scale, width, height)


def _read(sheet: Sheet, engine: Any) -> Page:
    found = looking.look(sheet.grey, engine.boxes(sheet.grey), engine)
    readings = with_strokes_beside([_reading(one, sheet.scale) for one in found], dark(sheet.grey), sheet.scale)
    return Page(number=1, width=sheet.width, height=sheet.height, readings=readings)
