"""What was read on the sheets of a drawing: as JSON (schemas/drawings.schema.json), and as a table."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from preflight.facts import Box, FileFacts
from preflight.papers import Character, SheetRead
from preflight.reporting.lines import FAINT, INDENT, STRONG, Sheet, styled
from preflight.reporting.machine import encoded
from preflight.reporting.wording import clean, counted

SCHEMA = "preflight-drawings/1"
FROM = {"text": "characters of the file", "image": "its picture", "nothing": "nothing"}
"""Where a reading comes from, in words."""
UNSURE = "?"
"""Stands behind what could not be read for sure."""


def drawings_to_json(file: FileFacts, sheets: Sequence[SheetRead]) -> bytes:
    """Boxes in cm from the top left corner of the page as displayed: left, top, right, bottom."""
    data = {
        "schema": SCHEMA,
        "file": clean(file.name),
        "sha256": file.sha256,
        "readers": file.readers,
        "sheets": [_as_data(sheet) for sheet in sheets],
    }
    return encoded(data)


def _as_data(sheet: SheetRead) -> dict[str, Any]:
    number = sheet.number
    return {
        "page": sheet.page,
        "unread": sheet.unread,
        "from": sheet.source,
        "sheet_number": None if number.n is None else {"number": number.n, "of": number.of},
        "figures": [
            {"label": f"FIG. {label.name}", "as_drawn": label.text, "box_cm": _box(label.box)}
            for label in sheet.figures
        ],
        "characters": [
            {
                "text": one.text,
                "box_cm": _box(one.box),
                "height_cm": one.height,
                "sure": one.sure,
                "could_be": list(one.could_be),
            }
            for one in sheet.characters
        ],
    }


def _box(box: Box) -> list[float]:
    return [round(edge, 3) for edge in (box.left, box.top, box.right, box.bottom)]


def show_drawings(file: FileFacts, sheets: Sequence[SheetRead], sheet: Sheet) -> None:
    """A table for each sheet: figures, then reference characters in the order of their numbers."""
    sheet.hang(styled(f"{clean(file.name)}, {counted(len(sheets), 'sheet')}", STRONG))
    for one in sheets:
        number = one.number
        named = f"sheet {number.n}/{number.of}" if number.n is not None else "no sheet number"
        sheet.heading(f"page {one.page}", f"{named}; read from {FROM[one.source]}")
        if one.unread:
            sheet.hang(f"not read: {one.unread}", indent=INDENT)
        sheet.hang(", ".join(label.text for label in one.figures) or "none read", indent=INDENT, label="figures     ")
        sheet.hang(", ".join(_told(one.characters)) or "none read", indent=INDENT, label="characters  ")
        heights = sorted(c.height for c in one.characters if c.height and c.sure)
        if heights:
            middle = f"{heights[len(heights) // 2]:.2f} cm, of {counted(len(heights), 'character')}"
            sheet.hang(middle, indent=INDENT, label="height      ")
    if any(not c.sure for one in sheets for c in one.characters):
        sheet.blank()
        sheet.hang(styled(f"{UNSURE} not read for sure: look at the sheet. Letters alone are not listed.", FAINT))


def _told(characters: Iterable[Character]) -> Iterator[str]:
    """Each once, with how often it is drawn and what else it may say."""
    every = sorted(characters, key=lambda c: (len(c.text), c.text))
    for text in dict.fromkeys(one.text for one in every):
        same = [one for one in every if one.text == text]
        often = f" ({len(same)} times)" if len(same) > 1 else ""
        doubt = "" if any(one.sure for one in same) else UNSURE
        others = dict.fromkeys(other for one in same for other in one.could_be)
        yield clean(text) + doubt + (f" (or {', '.join(map(clean, others))})" if others else "") + often
