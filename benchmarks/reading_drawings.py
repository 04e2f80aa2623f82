"""How well and how fast drawings are read, sheet by sheet, on the real sheets beside the checkout.

Run: `.venv/bin/python benchmarks/reading_drawings.py`. The yardstick is the plain recogniser called once on the whole
page, longest side 2000 pixels, one thread as ours; each sheet is read by both in turn, in one process.
"""

from __future__ import annotations

import resource
import sys
import time
from pathlib import Path
from typing import Any

import cv2
import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests" / "references"))

from rapidocr import RapidOCR
from real_sheets import FOLDER, score, together, truths

from preflight.facts import Page
from preflight.reading.images.looker import Looker
from preflight.reading.pages import Document

LONGEST = 2000
THREADS = {
    "Global.log_level": "error",
    "Global.use_cls": False,
    "Global.max_side_len": LONGEST,
    "Det.limit_side_len": LONGEST,
    "Det.limit_type": "max",
    "EngineConfig.onnxruntime.intra_op_num_threads": 1,
    "EngineConfig.onnxruntime.inter_op_num_threads": 1,
}


def main() -> None:
    """A row for each sheet, then all together."""
    cv2.setNumThreads(1)
    plain = RapidOCR(params=THREADS)
    _warm(plain)
    print("sheet                    recall  precision  seconds  plain  ratio  missed / wrong")
    scores, ratios = [], []
    for truth in truths():
        found, ours, theirs = _sheet(truth, plain)
        scores.append(found)
        ratios.append(ours / theirs)
        errors = f"{' '.join(found.missed) or '-'} / {' '.join(found.wrong) or '-'}"
        name = truth["file"].removesuffix(".pdf")
        print(
            f"{name:<24} {found.recall:6.3f}  {found.precision:9.3f}"
            f"  {ours:7.2f}  {theirs:5.2f}  {ratios[-1]:5.2f}  {errors}"
        )
    whole = together(scores)
    right = {name: sum(getattr(s, name) for s in scores) for name in ("labels", "number", "direction")}
    print(f"all: recall {whole.recall:.3f}, precision {whole.precision:.3f}, median ratio {np.median(ratios):.2f}")
    print(f"sheets with all labels, the sheet number, the direction right: {right} of {len(scores)}")
    print(f"peak memory of both together {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000:.0f} MB")


def _warm(plain: Any) -> None:
    """The models are loaded before the clock runs."""
    plain(np.full((400, 400, 3), 255, np.uint8))


def _sheet(truth: dict[str, Any], plain: Any) -> tuple[Any, float, float]:
    document = Document((FOLDER / truth["file"]).read_bytes())
    with document.page(1) as page:
        width, height = (side / 72 * 2.54 for side in page.size)
    looker = Looker(document)
    looker.look(1, 2.0, 2.0)  # loads the models
    began = time.perf_counter()
    readings = looker.look(1, width, height)
    ours = time.perf_counter() - began
    began = time.perf_counter()
    by = LONGEST / max(width, height)
    with document.page(1) as page:
        raster = page.raster(round(width * by), round(height * by))
    plain(raster)
    theirs = time.perf_counter() - began
    document.close()
    return score(Page(number=1, width=width, height=height, readings=readings), truth), ours, theirs


if __name__ == "__main__":
    main()
