"""What is laid on the pages: comments, stamps, links to addresses (ISO 32000-1, 12.5)."""

from __future__ import annotations

import math
from collections.abc import Iterator

import pikepdf

from preflight.facts import Annotation, Box
from preflight.reading.structure.opening import OpenPdf, numbers
from preflight.reading.structure.walking import Tour, flags, inner, text

HIDDEN, PRINT, NO_VIEW = 1 << 1, 1 << 2, 1 << 5
"""Bits of an annotation's flags (ISO 32000-1, 12.5.3)."""


def read_annotations(tour: Tour) -> Iterator[Annotation]:
    """Every annotation that is no field, no window of another one and no link within the file."""
    for page, one in tour.annotations():
        kind = text(one.get("/Subtype"))
        if kind == "Widget" or (kind == "Popup" and isinstance(one.get("/Parent"), pikepdf.Dictionary)):
            continue
        words = address(one) if kind == "Link" else text(one.get("/Contents"))
        if kind == "Link" and not words:
            continue
        yield Annotation(
            kind=kind or "unknown",
            page=page,
            box=box_of(tour.opened, page, one),
            author=text(one.get("/T")),
            words=words,
            prints=bool(flags(one, "/F") & PRINT) and not flags(one, "/F") & HIDDEN,
        )


def address(annotation: pikepdf.Object) -> str:
    """The address that a link leads to; nothing for a link within the file."""
    action = inner(annotation, "/A")
    return text(inner(action, "/URI")) if text(inner(action, "/S")) == "URI" else ""


def box_of(opened: OpenPdf, page: int, annotation: pikepdf.Object) -> Box | None:
    """Where it lies on the page as displayed."""
    corners = numbers(annotation.get("/Rect"))
    known = len(corners) == 4 and all(math.isfinite(corner) for corner in corners)
    return opened.sheet(page).to_display.box(corners) if known else None
