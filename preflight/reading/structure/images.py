"""One image as stored (ISO 32000-1, 8.9.5 and 8.9.7)."""

from __future__ import annotations

from typing import NamedTuple

import pikepdf

from preflight.facts import Stored
from preflight.reading.structure.opening import entry, is_true

MOST_FILTERS = 8


class Kept(NamedTuple):
    """What is known of it wherever it is shown. Inline images are one if they are alike."""

    place: tuple[int, int]
    width: int
    height: int
    filters: tuple[str, ...]
    colours: str
    bits: int
    masked: bool
    alternates: bool
    stacked: bool

    def on(self, page: int) -> Stored:
        """The image on one page."""
        return Stored(page, *self[1:])


def kept(image: pikepdf.Object, resources: pikepdf.Object) -> Kept:
    """`resources` tell the colour spaces that an inline image may name."""
    mask = image.get("/SMask")
    stencil = is_true(image.get("/ImageMask"))
    return Kept(
        place=image.objgen,
        width=_count(image.get("/Width")),
        height=_count(image.get("/Height")),
        filters=_filters(image.get("/Filter")),
        colours="" if stencil else _family(image.get("/ColorSpace"), resources),
        bits=1 if stencil else _count(image.get("/BitsPerComponent")) or 8,
        masked=isinstance(mask, pikepdf.Stream) or _count(image.get("/SMaskInData")) > 0,
        alternates=_some(image.get("/Alternates")),
        stacked=isinstance(mask, pikepdf.Stream) and (mask.get("/SMask") is not None or _some(mask.get("/Alternates"))),
    )


def _count(value: object) -> int:
    return value if isinstance(value, int) and 0 <= value < 1 << 31 else 0


def _some(value: object) -> bool:
    return isinstance(value, pikepdf.Array) and len(value) > 0


def _filters(value: object) -> tuple[str, ...]:
    every = list(value)[:MOST_FILTERS] if isinstance(value, pikepdf.Array) else [value]
    return tuple(str(name).lstrip("/")[:40] for name in every if isinstance(name, pikepdf.Name))


def _family(space: object, resources: pikepdf.Object) -> str:
    named = entry(resources, "/ColorSpace", space) if isinstance(space, pikepdf.Name) else None
    space = named if named is not None else space
    first = space[0] if isinstance(space, pikepdf.Array) and len(space) else space
    return str(first).lstrip("/")[:40] if isinstance(first, pikepdf.Name) else ""
