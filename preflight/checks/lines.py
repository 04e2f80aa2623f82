"""Whether what is drawn survives a copy in black and white: widths, tones, areas, and how a scan lies."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from preflight.checks.api import Measured, Outcomes, Place, Seen, Unread, check
from preflight.facts import Box, Fill, Page
from preflight.papers import Paper, is_scanned

MM_PER_CM = 10
TOUCH = 0.05
"""In cm: an area so close to the edge of the page is the dark edge of a scan."""
NEAR_TONE = 0.3
"""In cm: a photograph ends so close to the blocks in which its tone was seen."""


class Widths(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The least width of a line in mm; `beside`: of the thinner lines where others have the least width.

    `scan`: how far the width of the lines of a scan may be misread.
    """

    least: float
    beside: float
    scan: float


@check("line-width", of=Paper, takes=Widths)
def line_width(paper: Paper, limit: Widths) -> Outcomes:
    """Measure the thinnest line of each sheet that is drawn with lines, and the usual one of each scanned sheet."""
    for page in paper.pages:
        if page.unread:
            yield Unread(why=page.unread, at=Place(page=page.number))
        elif page.pens:
            thinnest, widest = page.pens[0], max(page.pens, key=lambda pen: pen.width)
            main = widest.width * MM_PER_CM >= limit.least
            yield Measured(
                what="thinnest line",
                value=thinnest.width * MM_PER_CM,
                unit="mm",
                least=limit.beside if main else limit.least,
                slack=0.001,  # a pt has no whole number of mm
                at=Place(page=page.number, box=thinnest.box),
            )
        elif page.usual_width is not None:
            yield Measured(
                what="usual line of the scan",
                value=page.usual_width * MM_PER_CM,
                unit="mm",
                least=limit.least,
                slack=limit.scan,
                at=Place(page=page.number, box=page.ink),
            )


class Black(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """How black lines are at the least, in per cent, when a coloured one is seen as grey."""

    least: float


@check("line-black", of=Paper, takes=Black)
def line_black(paper: Paper, limit: Black) -> Outcomes:
    """Measure the palest line of each sheet that is drawn with lines."""
    for page in paper.pages:
        if page.unread:
            yield Unread(why=page.unread, at=Place(page=page.number))
        elif page.pens:
            palest = max(page.pens, key=lambda pen: pen.grey)
            at = Place(page=page.number, box=palest.box)
            yield Measured(what="palest line", value=_darkness(palest.grey), unit="%", least=limit.least, at=at)


class Copied(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Lines that are less than `dark` per cent black vanish in black and white.

    Less than `mark` square cm of them says nothing, and nothing within continuous tone of more than `levels` greys,
    as a photograph has.
    """

    dark: float
    mark: float
    levels: int


@check("survives-a-copy", of=Paper, takes=Copied)
def survives_a_copy(paper: Paper, limit: Copied) -> Outcomes:
    """Measure the palest lines of each sheet against what a copy in black and white keeps."""
    for page in paper.pages:
        if page.unread:
            yield Unread(why=page.unread, at=Place(page=page.number))
        elif page.ink:
            marks = [m for m in page.faint if m.area >= limit.mark and not _in_tone(page, m.box, limit.levels)]
            lost = [mark for mark in marks if _darkness(mark.grey) < limit.dark]
            # the largest that is lost stands for all of them on the sheet
            palest = max(lost or marks, key=lambda mark: mark.area if lost else mark.grey, default=None)
            value = _darkness(palest.grey) if palest else 100.0
            at = Place(page=page.number, box=palest.box if palest else None)
            yield Measured(what="pale lines", value=value, unit="%", least=limit.dark, at=at)


class Solid(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The largest area in square cm that may be filled, if it is `side` cm wide and fills `spread` of its box: a heavy
    line does not. From `dark` per cent of black on a copy makes it black.

    `levels` as for a photograph. Upright rectangles (`filled`: the share of its box) of which two stand within `base`
    cm on one line are bars of a graph, however large.
    """

    most: float
    side: float
    spread: float
    dark: float
    levels: int
    filled: float
    base: float


@check("solid-areas", of=Paper, takes=Solid, sorts=("black", "grey"))
def solid_areas(paper: Paper, limit: Solid) -> Outcomes:
    """Measure the largest black and the largest grey area of each sheet; bars of a graph are left out."""
    for page in paper.pages:
        if page.unread:
            yield Unread(why=page.unread, at=Place(page=page.number))
        elif page.ink:
            bars = _bars(page.fills, limit)
            fills = [f for f in page.fills if f not in bars and _is_area(f, limit) and not _at_edge(page, f)]
            fills = [f for f in fills if not _in_tone(page, f.box, limit.levels)]
            for sort in ("black", "grey"):
                some = [f for f in fills if (_darkness(f.grey) >= limit.dark) == (sort == "black")]
                largest = max(some, key=lambda f: f.area, default=None)
                at = Place(page=page.number, box=largest.box if largest else None)
                value = largest.area if largest else 0.0
                what = "solid dark area" if sort == "black" else "grey area"
                yield Measured(what=what, value=value, unit="square cm", most=limit.most, at=at, sort=sort)


def _is_area(fill: Fill, limit: Solid) -> bool:
    return min(fill.box.width, fill.box.height) >= limit.side and fill.share >= limit.spread


def _bars(fills: Sequence[Fill], limit: Solid) -> list[Fill]:
    """Rectangles that stand on one line with another one, upright or lying."""
    upright = [f for f in fills if f.share >= limit.filled]

    def beside(one: Fill, other: Fill) -> bool:
        return one is not other and (
            abs(one.box.bottom - other.box.bottom) <= limit.base or abs(one.box.left - other.box.left) <= limit.base
        )

    return [one for one in upright if any(beside(one, other) for other in upright)]


class Frame(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The margins of the sight in cm; a frame may lie `near` cm inside them, and is a part of the figure further in."""

    top: float
    left: float
    right: float
    bottom: float
    near: float


@check("no-frame", of=Paper, takes=Frame)
def no_frame(paper: Paper, limit: Frame) -> Outcomes:
    """See whether a frame near the edge of the sight encloses all that is drawn."""
    for page in paper.pages:
        if page.unread:
            yield Unread(why=page.unread, at=Place(page=page.number))
        elif page.ink:
            framed = _near_the_sight(page, limit) and not _outside_the_frame(page)
            yield Seen(
                what="sheet",
                held=not framed,
                measured="a frame is drawn round the figures" if framed else "no frame",
                required="no frame",
                at=Place(page=page.number, box=page.frame if framed else None),
            )


def _near_the_sight(page: Page, limit: Frame) -> bool:
    box = page.frame
    return box is not None and all(
        white <= margin + limit.near
        for white, margin in (
            (box.left, limit.left),
            (box.top, limit.top),
            (page.width - box.right, limit.right),
            (page.height - box.bottom, limit.bottom),
        )
    )


def _outside_the_frame(page: Page) -> bool:
    """Whether anything is drawn outside of it, but for a line of identification above."""
    frame = page.frame
    if frame is None:
        return True
    inner = frame.grown(2 * TOUCH)
    return any(not inner.holds_middle_of(mark) and mark.bottom > frame.top for mark in page.marks)


class Holes(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What a punch leaves on a scan: at least two dark discs of `least` to `most` cm, `edge` cm from an edge at most.

    They lie on one line within `line` cm. `ink` is the share of ink close round a hole that still is dirt.
    """

    least: float
    most: float
    edge: float
    line: float
    ink: float


@check("punch-holes", of=Paper, takes=Holes)
def punch_holes(paper: Paper, limit: Holes) -> Outcomes:
    """See whether lines run into the punch marks of each scanned sheet."""
    for page in paper.pages:
        if page.unread:
            yield Unread(why=page.unread, at=Place(page=page.number))
        elif page.ink and is_scanned(page):
            holes = _punched(page, limit)
            over = [hole for hole in holes if hole.ringed > limit.ink]
            yield Seen(
                what="punch mark" if over else "sheet",
                held=not over,
                measured="it runs into lines" if over else f"{len(holes)} punch marks, clear of the drawing",
                required="clear of the drawing",
                at=Place(page=page.number, box=over[0].box if over else None),
            )


def _punched(page: Page, limit: Holes) -> list[Fill]:
    discs = [f for f in page.fills if limit.least <= min(f.box.width, f.box.height) and _is_disc(f, limit.most)]
    beside = [f for f in discs if min(f.box.middle[0], page.width - f.box.middle[0]) <= limit.edge]
    above = [f for f in discs if min(f.box.middle[1], page.height - f.box.middle[1]) <= limit.edge]
    return [*_on_one_line(beside, 0, limit.line), *_on_one_line(above, 1, limit.line)]


def _is_disc(fill: Fill, most: float) -> bool:
    """A disc fills 0.785 of its box; what the raster rounds off makes it a little more."""
    across, down = fill.box.width, fill.box.height
    return max(across, down) <= most and abs(across - down) <= 0.15 * most and 0.7 <= fill.share <= 0.88


def _on_one_line(discs: list[Fill], axis: int, line: float) -> list[Fill]:
    return [
        one
        for one in discs
        if any(other is not one and abs(one.box.middle[axis] - other.box.middle[axis]) <= line for other in discs)
    ]


class Clear(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """For scans: the skew in degrees that is nothing and the one that is too much; the least difference in per cent of
    luminance between ink and paper; marks from `mark` square cm on."""

    slight: float
    skew: float
    contrast: float
    mark: float


@check("clear-scan", of=Paper, takes=Clear, sorts=("skewed", "slightly skewed", "pale"))
def clear_scan(paper: Paper, limit: Clear) -> Outcomes:
    """Measure how far each scanned page lies askew and, on pages of text, how its ink stands out from the paper."""
    for page in paper.pages:
        if page.unread:
            yield Unread(why=page.unread, at=Place(page=page.number))
        elif page.ink and is_scanned(page):
            yield from _skew(page, limit)
            if paper.kind == "text":
                yield _contrast(page, limit)


def _skew(page: Page, limit: Clear) -> Iterator[Measured]:
    """A page whose lines do not tell says nothing."""
    if page.skew is not None:
        slight = abs(page.skew) <= limit.skew
        yield Measured(
            what="page",
            value=abs(page.skew),
            unit="degrees",
            most=limit.slight if slight else limit.skew,
            at=Place(page=page.number),
            sort="slightly skewed" if slight else "skewed",
        )


def _contrast(page: Page, limit: Clear) -> Measured:
    marks = [mark for mark in page.faint if mark.area >= limit.mark]
    palest = max(marks, key=lambda mark: mark.grey, default=None)
    value = 100 * (_luminance(page.ground) - _luminance(palest.grey if palest else 0.0))
    at = Place(page=page.number, box=palest.box if palest else None)
    return Measured(what="ink against paper", value=value, unit="%", least=limit.contrast, at=at, sort="pale")


def _luminance(grey: float) -> float:
    """Of a grey in sRGB (IEC 61966-2-1)."""
    return grey / 12.92 if grey <= 0.04045 else float(((grey + 0.055) / 1.055) ** 2.4)


def _darkness(grey: float) -> float:
    """Per cent of black."""
    return round(100 * (1 - grey), 1)


def _in_tone(page: Page, box: Box, levels: int) -> bool:
    """Whether it lies within a photograph."""
    tone = page.tone.box
    return tone is not None and page.tone.levels > levels and tone.grown(NEAR_TONE).touches(box)


def _at_edge(page: Page, fill: Fill) -> bool:
    box = fill.box
    return min(box.left, box.top, page.width - box.right, page.height - box.bottom) <= TOUCH
