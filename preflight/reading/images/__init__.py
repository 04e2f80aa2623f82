"""What stands on drawings and scans, read from their pictures, with how sure each letter is.

The recogniser is an extra (`ocr`): where it is not installed nothing is read, and that is said.
"""

from __future__ import annotations

import importlib
from importlib.metadata import version
from importlib.util import find_spec
from typing import TYPE_CHECKING, Any

import cv2
import numpy as np

from preflight.facts import Page, Reading
from preflight.reading.images.doubt import long_lines, needs_proof
from preflight.reading.images.need import needs_a_look
from preflight.reading.pages import Document
from preflight.reading.pages.pixels import Scale, drawn_at

if TYPE_CHECKING:
    from preflight.reading.images.looking import Found

__all__ = ["GARBLED", "MISSING", "TEXT", "Looker", "installed", "needs_a_look", "needs_proof", "versions"]

MISSING = (
    "what is drawn on it was not read: the reader of pictures is not installed"
    " (pip install 'filing-bundle-preflight[ocr]')"
)
TEXT = "it is a page of text as a picture, which this program does not read"
GARBLED = "its characters are not what is seen on the page: a search in it finds other words"
DPI = 300


def installed() -> bool:
    """Whether the reader of pictures is there."""
    return all(find_spec(name) is not None for name in ("rapidocr", "onnxruntime"))


def versions() -> dict[str, str]:
    """Of its libraries."""
    return {name: version(name) for name in ("rapidocr", "onnxruntime")}


class Looker:
    """Reads pictures of pages; its models are loaded with the first one."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._engine: Any = None

    def look(self, number: int, width: float, height: float) -> tuple[Reading, ...] | None:
        """All that stands on a page of this size in cm; None for a page of text. Raises PdfiumError."""
        looking = importlib.import_module("preflight.reading.images.looking")
        grey, scale = self._drawn(number, width, height)
        found = looking.look(grey, self._read_by())
        return None if found is None else tuple(_reading(one, scale) for one in found)

    def contradicts(self, page: Page) -> bool:
        """Whether some of its lines say something else than what is seen there. Raises PdfiumError."""
        proving = importlib.import_module("preflight.reading.images.proving")
        grey, scale = self._drawn(page.number, page.width, page.height)
        return bool(proving.contradicted(grey, proving.sample(long_lines(page)), scale, self._read_by()))

    def _read_by(self) -> Any:
        if self._engine is None:
            self._engine = importlib.import_module("preflight.reading.images.engine").Engine()
        return self._engine

    def _drawn(self, number: int, width: float, height: float) -> tuple[Any, Scale]:
        columns, rows, scale = drawn_at(width, height, DPI)
        with self._document.page(number) as page:
            grey = np.asarray(cv2.cvtColor(page.raster(columns, rows), cv2.COLOR_BGR2GRAY), dtype=np.uint8)
        return grey, scale


def _reading(one: Found, scale: Scale) -> Reading:
    word, other = one.chosen.word, one.chosen.other
    pixel = scale.down if one.runs in (0, 180) else scale.across
    return Reading(
        text=word.text,
        box=scale.box(*one.box),
        turned=one.runs,
        mean=round(word.mean, 3),
        lowest=round(word.lowest, 3),
        other=other.text if other else "",
        height=None if one.height is None else round(one.height * pixel, 4),
        columns=word.columns,
    )
