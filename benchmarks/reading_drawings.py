"""How well and how fast drawings are read, sheet by sheet, on the real sheets beside the checkout.

Run: `.venv/bin/python benchmarks/reading_drawings.py [--no-time] [--no-left-out]`. The yardstick is the plain
recogniser called once on the whole page, longest side 2000 pixels, with one thread as ours and with as many threads as
it takes by itself; each sheet is read by all three in turn, in one process. The plain recogniser reads a figure on its
side only where it is called again on the turned page: the ratios are given without that second call and with it. Then
thresholds are chosen anew for each
document on the sheets of the other ones only (`left_out.py`).
"""

from __future__ import annotations

import argparse
import os
import resource
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import cv2
import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests" / "references"))

from left_out import each_left_out
from rapidocr import RapidOCR
from real_sheets import FOLDER, Score, score, together, truths

from preflight.facts import CM_PER_PT, Page
from preflight.reading.images.looker import Looker
from preflight.reading.pages import Document

LONGEST = 2000
PLAIN = {
    "Global.log_level": "error",
    "Global.use_cls": False,
    "Global.max_side_len": LONGEST,
    "Det.limit_side_len": LONGEST,
    "Det.limit_type": "max",
}
ONE_THREAD = {
    "EngineConfig.onnxruntime.intra_op_num_threads": 1,
    "EngineConfig.onnxruntime.inter_op_num_threads": 1,
}
OWN_THREADS = -1
"""OpenCV's word for its default; the recogniser's is to be told nothing."""


class Cost(NamedTuple):
    """Seconds of one reading: by the clock, and of all processors together."""

    clock: float
    processor: float


class Timed(NamedTuple):
    """One sheet, read by us and by the plain recogniser, each with one thread and with one for each processor.

    `one_again` and `own_again` hold the second call on a sheet that lies on its side.
    """

    ours: Cost
    ours_own: Cost
    one: Cost
    own: Cost
    one_again: Cost
    own_again: Cost


def main() -> None:
    """A row for each sheet, then all together, then each document left out."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--no-time", action="store_true", help="quality alone")
    asked.add_argument("--no-left-out", action="store_true", help="the thresholds as they are, only")
    options = asked.parse_args()
    if not truths():
        sys.exit(f"no sheets in {FOLDER}")
    print(f"load {os.getloadavg()[0]:.1f}, {os.cpu_count()} processors")
    told(None if options.no_time else Yardstick())
    if not options.no_left_out:
        print()
        for line in each_left_out():
            print(line)


def told(yardstick: Yardstick | None) -> None:
    """The table with the errors of each sheet; times only where there is a yardstick."""
    heads = f"{'sheet':<22} {'recall':>6} {'prec.':>6}  {'set right':<9}"
    times = "   ours plain 1 ratio  ours own plain own ratio" if yardstick else ""
    print(f"{heads}{times}  missed / wrong")
    scores, costs = [], []
    for truth in truths():
        found, timed = _sheet(truth, yardstick)
        scores.append(found)
        costs += [timed] if timed else []
        print(f"{_quality(truth, found)}{_seconds(timed) if timed else ''}  {_errors(found)}")
    whole = together(scores)
    right = {name: sum(getattr(s, name) for s in scores) for name in ("labels", "number", "direction")}
    print(f"all: recall {whole.recall:.3f}, precision {whole.precision:.3f}, {whole.wanted} characters")
    print(f"sheets with all labels, the sheet number, the direction right: {right} of {len(scores)}")
    if costs:
        for line in _summary(costs):
            print(line)


def _quality(truth: dict[str, Any], found: Score) -> str:
    """Set right: labels, sheet number, direction; a dash for each that is not."""
    marks = "".join(
        letter if ok else "-" for letter, ok in zip("LND", (found.labels, found.number, found.direction), strict=True)
    )
    return f"{truth['file'].removesuffix('.pdf'):<22} {found.recall:6.3f} {found.precision:6.3f}  {marks:<9}"


def _errors(found: Score) -> str:
    return f"{' '.join(found.missed) or '-'} / {' '.join(found.wrong) or '-'}"


def _seconds(timed: Timed) -> str:
    ours, one, ours_own, own = timed.ours.clock, timed.one.clock, timed.ours_own.clock, timed.own.clock
    return f"  {ours:5.2f} {one:7.2f} {ours / one:5.2f} {ours_own:9.2f} {own:9.2f} {ours_own / own:5.2f}"


def _summary(costs: list[Timed]) -> list[str]:
    """Sums and medians over the sheets, by the clock and in processor time."""
    lines = []
    for what in Cost._fields:
        ways = [np.array([getattr(cost, what) for cost in way]) for way in zip(*costs, strict=True)]
        for threads, ours, once, again in (("one thread", *ways[::2]), ("its own", *ways[1::2])):
            both = once + again
            lines.append(
                f"{what}, {threads}: ours {ours.mean():.2f} s a sheet (slowest {ours.max():.2f}), plain once"
                f" {once.mean():.2f} s, ratio {ours.sum() / once.sum():.2f} of the sums,"
                f" {np.median(ours / once):.2f} in the middle; again if sideways {both.mean():.2f} s, ratio"
                f" {ours.sum() / both.sum():.2f} and {np.median(ours / both):.2f}"
            )
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000
    return [*lines, f"peak memory of all in one process {peak:.0f} MB"]


class Yardstick:
    """The plain recogniser twice; its models are loaded before the clock runs."""

    def __init__(self) -> None:
        self._one = RapidOCR(params={**PLAIN, **ONE_THREAD})
        self._own = RapidOCR(params=PLAIN)
        for engine in (self._one, self._own):
            engine(np.full((400, 400, 3), 255, np.uint8))

    def beside(
        self, document: Document, turns: int, ours: Callable[[], object], ours_own: Callable[[], object]
    ) -> Timed:
        """The costs of our reading and of the plain ones of the first page, one after the other.

        `turns`: by how many quarters the page is turned counter-clockwise before the second call; 0 for none.
        """
        cv2.setNumThreads(1)
        mine = _cost(ours)
        one, one_again = _twice(self._one, document, turns)
        cv2.setNumThreads(OWN_THREADS)
        mine_own = _cost(ours_own)
        own, own_again = _twice(self._own, document, turns)
        cv2.setNumThreads(1)
        return Timed(mine, mine_own, one, own, one_again, own_again)


def _twice(engine: RapidOCR, document: Document, turns: int) -> tuple[Cost, Cost]:
    first = _cost(lambda: engine(_whole(document)))
    if not turns:
        return first, Cost(0.0, 0.0)
    return first, _cost(lambda: engine(np.ascontiguousarray(np.rot90(_whole(document), turns))))


def _cost(work: Callable[[], object]) -> Cost:
    clock, processor = time.perf_counter(), time.process_time()
    work()
    return Cost(time.perf_counter() - clock, time.process_time() - processor)


def _whole(document: Document) -> Any:
    """The first page as the plain recogniser gets it; drawing it is part of the cost of each way."""
    with document.page(1) as page:
        by = LONGEST / max(page.size)
        return page.raster(*(round(side * by) for side in page.size))


def _sheet(truth: dict[str, Any], yardstick: Yardstick | None) -> tuple[Score, Timed | None]:
    document = Document((FOLDER / truth["file"]).read_bytes())
    with document.page(1) as page:
        width, height = (side * CM_PER_PT for side in page.size)
    lookers = [Looker(document), Looker(document, os.cpu_count() or 1)]
    for looker in lookers if yardstick else ():
        looker.look(1, 2.0, 2.0)  # loads the models
    kept: list[Page] = []

    def ours(looker: Looker = lookers[0]) -> None:
        kept.append(Page(number=1, width=width, height=height, readings=looker.look(1, width, height).readings))

    turns = -truth["turn_to_read"] // 90 % 4
    timed = yardstick.beside(document, turns, ours, lambda: ours(lookers[1])) if yardstick else None
    if not kept:
        ours()
    document.close()
    return score(kept[0], truth), timed


if __name__ == "__main__":
    main()
