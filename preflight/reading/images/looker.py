"""Reads the pictures of a document's pages."""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any, NamedTuple

import cv2
import numpy as np

from preflight.facts import Page, Reading
from preflight.reading.images.doubt import long_lines
from preflight.reading.pages import Document
from preflight.reading.pages.beside import with_strokes_beside
from preflight.reading.pages.pixels import Scale, dark, drawn_at

if TYPE_CHECKING:
    from preflight.reading.images.engine import Rect
    from preflight.reading.images.letters import Word
    from preflight.reading.images.looking import Found

DPI = 300


class Look(NamedTuple):
    """What a look at a page gave: the strings of a drawing or a form, or the lines of a page of text if asked."""

    readings: tuple[Reading, ...] | None
    writing: tuple[Reading, ...] | None = None


class Looker:
    """Reads pictures of pages; its models are loaded with the first one."""

    def __init__(self, document: Document, threads: int = 1) -> None:
        self._document = document
        self._threads = threads
        self._engine: Any = None

    def look(self, number: int, width: float, height: float, *, text: bool = False) -> Look:
        """All that stands on a page of this size in cm; of a page of text only if asked. Raises PdfiumError."""
        looking = importlib.import_module("preflight.reading.images.looking")
        grey, scale = self._drawn(number, width, height)
        engine = self._read_by()
        boxes = engine.boxes(grey)
        if looking.is_text(grey, boxes, engine):
            lines = looking.read_lines(grey, boxes, engine) if text else ()
            return Look(None, tuple(_line(box, word, scale) for box, word in lines) if text else None)
        found = looking.look(grey, boxes, engine)
        return Look(with_strokes_beside([_reading(one, scale) for one in found], dark(grey), scale))

    def contradicts(self, page: Page) -> bool:
        """Whether some of its lines say something else than what is seen there. Raises PdfiumError."""
        proving = importlib.import_module("preflight.reading.images.proving")
        grey, scale = self._drawn(page.number, page.width, page.height)
        return bool(proving.contradicted(grey, proving.sample(long_lines(page)), scale, self._read_by()))

    def _read_by(self) -> Any:
        if self._engine is None:
            self._engine = importlib.import_module("preflight.reading.images.engine").Engine(self._threads)
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


def _line(box: Rect, word: Word, scale: Scale) -> Reading:
    """A line of text: nothing is held against its letters one by one, so their columns are not kept."""
    return Reading(word.text, scale.box(*box), 0, round(word.mean, 3), round(word.lowest, 3))
