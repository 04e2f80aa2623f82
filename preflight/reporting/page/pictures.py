"""Pictures of pages on the page: each is held once, and shown wherever a finding or a paper needs it."""

from __future__ import annotations

import base64
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from markupsafe import Markup

from preflight.facts import Box, Clipping
from preflight.reporting.pictured import MOST_PLACES, pages_of
from preflight.reporting.report import Finding, PagePicture, Place, Report
from preflight.reporting.wording import counted, file_name

ROOM = 0.2
"""A mark stands so many cm off what it marks, to leave it readable."""
LEAST = 0.6
"""A mark is at least so many cm each way: a full stop would not be seen."""


class Window(NamedTuple):
    """A part of a page, or a mark on it: left, top, width and height in cm."""

    left: float
    top: float
    width: float
    height: float


class Sheet(NamedTuple):
    """A page as the file holds it."""

    name: str
    width: float
    height: float
    data: Markup


class Figure(NamedTuple):
    """What is shown: a page (`sheet` names it) or a close-up with its own `data`, and the marks on it."""

    sheet: str
    data: Markup
    window: Window
    marks: tuple[Window, ...]
    file: str
    caption: str
    said: str
    """For who cannot see it."""


class Store:
    """The pages of a report as pictures."""

    def __init__(self, report: Report) -> None:
        self._sheets = {
            (one.file, one.page): Sheet(f"sheet-{number}", one.width, one.height, _data("webp", one.webp))
            for number, one in enumerate(report.page_pictures, 1)
        }

    @property
    def sheets(self) -> Iterable[Sheet]:
        """All of them, in the order of the report."""
        return self._sheets.values()

    def page(self, file: str, page: int, boxes: Iterable[Box] = ()) -> Figure | None:
        """One page with marks round these places; None where there is no picture of it."""
        sheet = self._sheets.get((file, page))
        if sheet is None:
            return None
        whole = Window(0, 0, sheet.width, sheet.height)
        marks = tuple(dict.fromkeys(_mark(box, whole) for box in boxes))
        place = f"page {page}"
        said = f"{file_name(file)}, {place}" + (f", {counted(len(marks), 'place')} marked" if marks else "")
        return Figure(sheet.name, Markup(), whole, marks, file_name(file), place, said)

    def of(self, finding: Finding) -> list[Figure]:
        """The pages that a finding names, as far as there are pictures, each with all its marks."""
        shown = (
            self.page(file, page, (p.box_cm for p in finding.places if (p.file, p.page) == (file, page) and p.box_cm))
            for file, page in pages_of(finding)
        )
        several = len({place.file for place in finding.places}) > 1
        return [f._replace(caption=f"{f.file}, {f.caption}") if several else f for f in shown if f]

    def lacking(self, finding: Finding) -> list[str]:
        """The pages of which a picture was wanted and is not there: it was too large, or could not be drawn."""
        missing = [page for page in pages_of(finding) if page not in self._sheets] if self._sheets else []
        return [f"page {page} of {file_name(file)}" for file, page in missing]


def close_ups(finding: Finding) -> Iterator[Figure]:
    """The small places that a finding names, with what stands round them; each once."""
    seen = set()
    for place in finding.places[:MOST_PLACES]:
        if place.picture and place.box_cm and (place.file, place.picture.page, place.picture.box_cm) not in seen:
            seen.add((place.file, place.picture.page, place.picture.box_cm))
            yield _close_up(place, place.picture, place.box_cm)


def _close_up(place: Place, picture: Clipping, box: Box) -> Figure:
    window = Window(picture.box_cm.left, picture.box_cm.top, picture.box_cm.width, picture.box_cm.height)
    said = f"{file_name(place.file)}, page {picture.page}, enlarged, the place marked"
    caption = f"page {picture.page}, enlarged"
    return Figure("", _data("png", picture.png), window, (_mark(box, window),), file_name(place.file), caption, said)


def _mark(box: Box, within: Window) -> Window:
    """A frame round a place, a little off it, that is neither too small to be seen nor outside of what is shown."""
    left, right = _stretched(box.left - ROOM, box.right + ROOM, within.left, within.left + within.width)
    top, bottom = _stretched(box.top - ROOM, box.bottom + ROOM, within.top, within.top + within.height)
    return Window(left, top, round(right - left, 3), round(bottom - top, 3))


def _stretched(start: float, end: float, least: float, most: float) -> tuple[float, float]:
    short = max(0.0, LEAST - (end - start)) / 2
    start, end = max(least, start - short), min(most, end + short)
    return round(min(start, end), 3), round(max(start, end), 3)


def _data(kind: str, encoded: bytes) -> Markup:
    return Markup(f"data:image/{kind};base64,{base64.b64encode(encoded).decode()}")  # noqa: S704 - base64 is harmless


def in_order(report: Report) -> list[PagePicture]:
    """The pages in the order of their files."""
    return sorted(report.page_pictures, key=lambda one: (one.file, one.page))
