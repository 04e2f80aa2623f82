"""What a file stores besides what its pages show: images as stored, properties, earlier versions and the like."""

from __future__ import annotations

import math

import msgspec
import pikepdf

from preflight.facts import Inside
from preflight.reading.structure.opening import TROUBLES, OpenPdf, header, numbers, plain
from preflight.reading.structure.packet import archival_part, read_packet
from preflight.reading.structure.versions import earlier_versions
from preflight.reading.structure.walk import Walked

ALMOST = 1.0
"""A box that is smaller by less than so many pt cuts nothing off. House value."""


def read_stored(inside: Inside, opened: OpenPdf, walked: Walked) -> Inside:
    """`inside` with all of that; what failed is named there."""
    properties, trouble = read_packet(opened)
    uneven, thumbnails, page_trouble = _pages(opened)
    effects_trouble = walked.trouble or walked.effects_trouble
    unread = {
        "images": walked.trouble,
        "see_through": effects_trouble,
        "metadata": trouble,
        "uneven_boxes": page_trouble,
    }
    return msgspec.structs.replace(
        inside,
        images=tuple(image.on(page) for page, image in walked.images),
        see_through=tuple(walked.effects),
        uneven_boxes=uneven,
        thumbnails=thumbnails,
        earlier_versions=earlier_versions(opened.data, header(opened.data)[1]),
        metadata=properties,
        archival=archival_part(properties),
        unread=inside.unread | {part: why for part, why in unread.items() if why},
    )


def _pages(opened: OpenPdf) -> tuple[tuple[int, ...], tuple[int, ...], str | None]:
    """The pages with uneven boxes, those with a thumbnail, and what could not be read."""
    uneven, thumbnails = [], []
    trouble: str | None = None
    for number, page in enumerate(opened.pages, start=1):
        try:
            if any(_cuts(page.obj, name) for name in ("/CropBox", "/TrimBox", "/ArtBox")):
                uneven.append(number)
            if isinstance(page.obj.get("/Thumb"), pikepdf.Stream):
                thumbnails.append(number)
        except TROUBLES as error:
            trouble = trouble or f"the boxes of page {number} could not be read (qpdf: {plain(error)})"
    return tuple(uneven), tuple(thumbnails), trouble


def _cuts(page: pikepdf.Object, name: str) -> bool:
    """Whether this box leaves out a part of the MediaBox (ISO 32000-1, 14.11.2)."""
    whole, part = _sides(page.get("/MediaBox")), _sides(page.get(name))
    if whole is None or part is None:
        return False
    return any(inner - outer > ALMOST for inner, outer in zip(part, whole, strict=True))


def _sides(value: object) -> tuple[float, float, float, float] | None:
    """Left, bottom, and the negative of right and top, so that more means less page."""
    corners = numbers(value)
    if len(corners) != 4 or not all(map(math.isfinite, corners)):
        return None
    x0, y0, x1, y1 = corners
    return min(x0, x1), min(y0, y1), -max(x0, x1), -max(y0, y1)
