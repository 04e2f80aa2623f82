"""Parts of pages as pictures, for people to look at."""

from __future__ import annotations

from typing import Literal

import msgspec

from preflight.facts.lengths import Box


class Cut(msgspec.Struct, frozen=True):
    """What is to be cut out: a part of a page as displayed, in cm."""

    page: int
    sheet: tuple[float, float]
    """Width and height of the page."""
    box: Box
    dpi: int
    form: Literal["png", "webp"] = "png"
    """WebP is a quarter smaller, and every browser shows it; PNG is read by everything."""


class Clipping(msgspec.Struct, frozen=True):
    """The picture of a part of a page."""

    page: int
    box_cm: Box
    """What it shows of the page."""
    png: bytes
