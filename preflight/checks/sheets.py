"""The sheet of paper: its size, and the white round what stands on it."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from preflight.checks.api import Measured, Outcomes, Place, Seen, Unread, check
from preflight.facts import Box, FileFacts, Page, white
from preflight.papers import Paper, body, sight_ink

SIDES = ("top", "left", "right", "bottom")


class Sizes(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Sheets that are accepted, width and height in cm, either way round; `allow` is cm a side."""

    sizes: tuple[tuple[float, float], ...]
    allow: float


@check("page-size", of=FileFacts, takes=Sizes)
def page_size(file: FileFacts, accepted: Sizes) -> Outcomes:
    """Compare width and height of every page, as displayed, with the accepted sheets."""
    for page in file.pages:
        at = Place(file=file.name, page=page.number)
        if page.width <= 0 or page.height <= 0:
            yield Unread(why=page.unread or "the page has no size", at=at)
            continue
        sides = sorted((page.width, page.height))
        fits = any(
            all(abs(side - want) <= accepted.allow for side, want in zip(sides, sorted(size), strict=True))
            for size in accepted.sizes
        )
        yield Seen(
            what="page",
            held=fits,
            measured=f"{page.width:.1f} x {page.height:.1f} cm",
            required=" or ".join(f"{w:.1f} x {h:.1f} cm" for w, h in accepted.sizes),
            at=at,
        )


class Margins(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The least white on each side, in cm, and the tolerance of the comparison.

    `running` leaves page numbers, headers and line numbers out; `identification` leaves out text in the
    top margin that names the application; `turnable` also accepts a sheet wider than high whose top is
    at its right.
    """

    top: float
    left: float
    right: float
    bottom: float
    allow: float = 0.0
    running: bool = False
    identification: bool = False
    turnable: bool = False


@check("margins", of=Paper, takes=Margins, sorts=("cut",))
def margins(paper: Paper, least: Margins) -> Outcomes:
    """Measure the white on each side of every page, as displayed. A blank page says nothing."""
    for page in paper.pages:
        if page.unread:
            yield Unread(why=page.unread, at=Place(page=page.number))
        elif ink := _ink(page, paper, least):
            readings = [list(_measure(page, ink, _limits(least), least.allow))]
            if least.turnable and page.width > page.height:
                readings.append(list(_measure(page, ink, _turned(least), least.allow)))
            yield from min(readings, key=lambda sides: sum(not side.held for side in sides))


def _ink(page: Page, paper: Paper, least: Margins) -> Box | None:
    if least.running:
        return body(page, paper)
    return sight_ink(page) if least.identification else page.ink


def _measure(page: Page, ink: Box, limits: dict[str, float], allow: float) -> Iterator[Measured]:
    for side in SIDES:
        value = white(ink, side, page.width, page.height)
        yield Measured(
            what=f"{side} margin",
            value=value,
            unit="cm",
            least=limits[side],
            slack=max(allow, page.blur),
            at=Place(page=page.number, box=_beyond(page, ink, side, limits[side]) if value < limits[side] else ink),
            sort="cut" if value <= 0 else "",
        )


def _beyond(page: Page, ink: Box, side: str, limit: float) -> Box:
    """What of the measured ink stands in the margin on this side."""
    inner = {
        "top": Box(ink.left, ink.top, ink.right, limit),
        "left": Box(ink.left, ink.top, limit, ink.bottom),
        "right": Box(page.width - limit, ink.top, ink.right, ink.bottom),
        "bottom": Box(ink.left, page.height - limit, ink.right, ink.bottom),
    }[side]
    return Box.around(mark.common(inner) for mark in page.marks if mark.touches(inner)) or ink


def _limits(least: Margins) -> dict[str, float]:
    return {"top": least.top, "left": least.left, "right": least.right, "bottom": least.bottom}


def _turned(least: Margins) -> dict[str, float]:
    """The same limits on a sheet that lies with its top at the right."""
    return {"right": least.top, "top": least.left, "bottom": least.right, "left": least.bottom}


class Area(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The greatest width and height in cm of what is drawn on a sheet of each size, width and height in cm.

    A sheet is of a size if both sides differ from it by less than `near`. `turned`: the second reading of a sheet that
    is wider than high; the first is `areas` turned. `allow` is the tolerance of the comparison.
    """

    sizes: tuple[tuple[float, float], ...]
    areas: tuple[tuple[float, float], ...]
    turned: tuple[tuple[float, float], ...]
    near: float
    allow: float


@check("drawn-area", of=Paper, takes=Area)
def drawn_area(paper: Paper, limit: Area) -> Outcomes:
    """Measure width and height of all that is drawn on each sheet, identification in the top margin left out."""
    for page in paper.pages:
        if page.unread:
            yield Unread(why=page.unread, at=Place(page=page.number))
        elif (ink := sight_ink(page)) and (most := _areas(page, limit)):
            readings = [list(_extent(page, ink, area, limit.allow)) for area in most]
            yield from min(readings, key=lambda sides: sum(not side.held for side in sides))


def _areas(page: Page, limit: Area) -> list[tuple[float, float]]:
    """The greatest width and height as displayed, in each reading; none for a sheet of another size."""
    for (width, height), (across, down), turned in zip(limit.sizes, limit.areas, limit.turned, strict=True):
        if abs(page.width - width) < limit.near and abs(page.height - height) < limit.near:
            return [(across, down)]
        if abs(page.width - height) < limit.near and abs(page.height - width) < limit.near:
            return [(down, across), turned]
    return []


def _extent(page: Page, ink: Box, most: tuple[float, float], allow: float) -> Iterator[Measured]:
    for what, value, side in zip(("width", "height"), (ink.width, ink.height), most, strict=True):
        yield Measured(
            what=f"{what} of the drawing",
            value=value,
            unit="cm",
            most=side,
            slack=max(allow, page.blur),
            at=Place(page=page.number, box=ink),
        )
