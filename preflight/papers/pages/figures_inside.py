"""Figures and pictures among the text, where only words, formulas and tables belong."""

from __future__ import annotations

import msgspec

from preflight.facts import Box, Line, Page
from preflight.papers.model import SCAN, text_unread
from preflight.papers.roles.drawing_pages import FIGURE_LABEL
from preflight.papers.words.lettering import flat

NEAR = 2.0
"""The label of a figure stands within so many cm of it. House value."""
COVERED = 0.15
"""A cluster of ink of which lines of characters cover more than this share is text. House value."""
TONAL = 64
"""So many levels of grey make continuous tone, as in us.drawing.photo. House value."""
COLOURED = 1.0
"""So many square cm of colour make a picture coloured. House value."""
WHOLE = 0.6
"""A picture over this share of the page is the page itself, scanned. House value."""


class Inset(msgspec.Struct, frozen=True):
    """A figure with its label, or a picture in colour or grey without one (`label` is empty)."""

    box: Box
    label: str = ""


def insets(page: Page, least: float) -> tuple[Inset, ...]:
    """Those of at least so many square cm. A picture in plain black may be a formula or a table: it needs a label."""
    if page.unread or text_unread(page) == SCAN:
        return ()
    labels = [line for line in page.lines if line.visible and FIGURE_LABEL.match(flat(line.text))]
    pictures = [p.box for p in page.pictures if least <= p.box.area <= WHOLE * page.width * page.height]
    shapes = [mark for mark in page.marks if mark.area >= least and not _is_text(page, mark)]
    found = []
    for box in (*pictures, *(mark for mark in shapes if not any(mark.touches(p) for p in pictures))):
        label = next((line for line in labels if line.box.touches(box.grown(NEAR))), None)
        if label is not None:
            found.append(Inset(box, flat(label.text)))
        elif box in pictures and _is_tonal(page, box):
            found.append(Inset(box))
    return tuple(found)


def _is_text(page: Page, mark: Box) -> bool:
    return sum(_shared(line, mark) for line in page.lines if line.visible) > COVERED * mark.area


def _shared(line: Line, mark: Box) -> float:
    wide = min(line.box.right, mark.right) - max(line.box.left, mark.left)
    high = min(line.box.bottom, mark.bottom) - max(line.box.top, mark.top)
    return max(wide, 0.0) * max(high, 0.0)


def _is_tonal(page: Page, box: Box) -> bool:
    tone = page.tone.levels > TONAL and page.tone.box is not None and page.tone.box.touches(box)
    area = page.colour.share * page.width * page.height
    return tone or (area >= COLOURED and page.colour.box is not None and page.colour.box.touches(box))
