"""All that was read on each sheet of a drawing, for the drafter who is still drawing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

import msgspec

from preflight.facts import Page
from preflight.papers.characters.drawn_characters import Character, characters_on
from preflight.papers.model import Paper
from preflight.papers.pages.sheets import FigureLabel, SheetNumber, labels_on, sheet_numbers
from preflight.papers.words.drawn import sheet_unread


class SheetRead(msgspec.Struct, frozen=True):
    """One sheet. `unread` says why nothing below it is known; `source` tells where the rest comes from."""

    page: int
    unread: str | None
    source: Literal["text", "image", "nothing"]
    number: SheetNumber
    figures: tuple[FigureLabel, ...]
    characters: tuple[Character, ...]


def sheets_read(pages: Sequence[Page]) -> tuple[SheetRead, ...]:
    """The sheets of one file, taken for drawings whatever they look like."""
    if not pages:
        return ()
    paper = Paper("drawings", "drawing", "", "", tuple(pages), "asked for")
    return tuple(_sheet(page, number) for page, number in zip(pages, sheet_numbers(paper), strict=True))


def _sheet(page: Page, number: SheetNumber) -> SheetRead:
    drawn = any(line.visible for line in page.lines)
    source: Literal["text", "image", "nothing"] = "image" if page.readings else "text" if drawn else "nothing"
    return SheetRead(page.number, sheet_unread(page), source, number, labels_on(page), characters_on(page))
