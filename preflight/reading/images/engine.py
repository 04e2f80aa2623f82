"""The one wall round the recogniser of print (rapidocr, onnxruntime): boxes and letters come out, pictures go in.

Its detector and its recogniser are called one by one, which its public call does not allow; hence the private names,
the pinned version and a test that fails when they are gone. The models lie inside the installed package and are named
by path, so that nothing is ever fetched.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any, NamedTuple

import cv2
import numpy as np
import numpy.typing as npt
import rapidocr as _untyped

from preflight.reading.images.alphabet import ALPHABET

_rapidocr: Any = _untyped
_MODELS = Path(_rapidocr.__file__).parent / "models"

Grey = npt.NDArray[np.uint8]
Chances = npt.NDArray[np.float32]
"""Columns x letters: the probability of each letter of `Engine.letters` in each column, the first for "no letter"."""

SIDE = 1280
"""Longest side, in pixels, of the copy on which boxes are looked for."""
HEIGHT = 48
"""Pixels: what the recogniser was trained on."""
NARROWEST = 80
BATCH = 32
WIDEST = 2400
"""Pixels of one cut-out; a longer line of print is cut off, no reference character is."""
LIKE = 1.1
"""The widest of a batch by the narrowest: the rest would be padding."""


class Rect(NamedTuple):
    """Pixels; right and bottom are the first ones outside."""

    left: int
    top: int
    right: int
    bottom: int

    @property
    def width(self) -> int:
        """In pixels."""
        return self.right - self.left

    @property
    def height(self) -> int:
        """In pixels."""
        return self.bottom - self.top


class Engine:
    """The models, loaded once a process: about 0.5 s and 0.2 GB."""

    def __init__(self, threads: int = 1) -> None:
        threaded = {"EngineConfig.onnxruntime.intra_op_num_threads": threads}
        engine = _rapidocr.RapidOCR(params={**_PARAMETERS, **threaded})
        self._detector = engine._load_det_model()
        self._recogniser = engine._load_rec_model()
        known = list(self._recogniser.postprocess_op.character)
        places = [(letter, known.index(letter)) for letter in ALPHABET if letter in known]
        self.letters = ("", *(letter for letter, _ in places))
        self._columns = np.array([0, *(place for _, place in places)])

    def boxes(self, grey: Grey) -> list[Rect]:
        """Where print seems to stand, upright rectangles in the pixels of `grey`."""
        rows, columns = grey.shape
        by = min(1.0, SIDE / max(rows, columns))
        small = cv2.resize(grey, (max(1, round(columns * by)), max(1, round(rows * by))), interpolation=cv2.INTER_AREA)
        found = self._detector(cv2.cvtColor(small, cv2.COLOR_GRAY2BGR))
        return [_rect(quad / by, columns, rows) for quad in (found.boxes if found.boxes is not None else ())]

    def read(self, cuts: list[Grey]) -> list[Chances]:
        """The probabilities for each cut-out, in their order."""
        scaled = [_scaled(cut) for cut in cuts]
        order = sorted(range(len(cuts)), key=lambda i: scaled[i].shape[1])
        found: dict[int, Chances] = {}
        while order:
            narrowest = max(NARROWEST, scaled[order[0]].shape[1])
            group = [i for i in order[:BATCH] if scaled[i].shape[1] <= narrowest * LIKE]
            order = order[len(group) :]
            found |= zip(group, self._batch([scaled[i] for i in group]), strict=True)
        return [found[i] for i in range(len(cuts))]

    def _batch(self, scaled: list[Grey]) -> list[Chances]:
        width = max(NARROWEST, *(one.shape[1] for one in scaled))
        batch = np.zeros((len(scaled), 3, HEIGHT, width), np.float32)
        for row, one in zip(batch, scaled, strict=True):
            row[:, :, : one.shape[1]] = one.astype(np.float32) / 127.5 - 1
        chances = self._recogniser.session(batch)[:, :, self._columns]
        columns = chances.shape[1]
        used = [max(1, round(columns * one.shape[1] / width)) for one in scaled]
        return [np.array(row[:n]) for row, n in zip(chances, used, strict=True)]


_PARAMETERS = {
    "Global.use_cls": False,
    "Global.log_level": "error",
    "Global.max_side_len": 2000,
    "Det.limit_side_len": SIDE,
    "Det.limit_type": "max",
    "Det.model_path": str(_MODELS / "PP-OCRv6_det_small.onnx"),
    "Rec.model_path": str(_MODELS / "PP-OCRv6_rec_small.onnx"),
    "EngineConfig.onnxruntime.inter_op_num_threads": 1,
}


def _rect(quad: npt.NDArray[np.float32], columns: int, rows: int) -> Rect:
    (left, top), (right, bottom) = quad.min(axis=0), quad.max(axis=0)
    return Rect(max(0, int(left)), max(0, int(top)), min(columns, int(np.ceil(right))), min(rows, int(np.ceil(bottom))))


def _scaled(cut: Grey) -> Grey:
    rows, columns = cut.shape
    width = min(WIDEST, max(8, round(columns * HEIGHT / rows)))
    way = cv2.INTER_AREA if rows > HEIGHT else cv2.INTER_LINEAR
    return np.asarray(cv2.resize(cut, (width, HEIGHT), interpolation=way), dtype=np.uint8)
