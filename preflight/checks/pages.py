"""Whole pages: one size, upright, none blank or doubled, nothing but text among the text."""

from __future__ import annotations

from collections import Counter

import msgspec

from preflight.checks.api import Measured, NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.facts import Box, FileFacts, Page
from preflight.papers import Filing, Paper, body_lines, direction, insets, is_blank, is_tabular, repeated, text_unread

NO_SIZE = "the page has no size"


class OneSize(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The papers whose pages are compared with each other; `allow` is cm a side."""

    roles: tuple[str, ...]
    allow: float


@check("one-size", of=Filing, takes=OneSize)
def one_size(filing: Filing, wanted: OneSize) -> Outcomes:
    """Compare the size of every page with that of most pages; a page on its side has the same size."""
    pages = [
        (page, Place(file=paper.file, page=page.number, role=paper.role))
        for paper in filing.with_role(*wanted.roles)
        for page in paper.pages
    ]
    counts = Counter(_rounded(page) for page, _ in pages if page.width > 0)
    usual = counts.most_common(1)[0][0] if counts else (0.0, 0.0)
    for page, at in pages:
        if page.width <= 0:
            yield Unread(why=page.unread or NO_SIZE, at=at)
            continue
        sides = sorted((page.width, page.height))
        yield Seen(
            what="page",
            held=all(abs(side - want) <= wanted.allow for side, want in zip(sides, usual, strict=True)),
            measured=f"{sides[0]:.1f} x {sides[1]:.1f} cm",
            required=f"{usual[0]:.1f} x {usual[1]:.1f} cm",
            at=at,
        )


def _rounded(page: Page) -> tuple[float, float]:
    short, long = sorted((page.width, page.height))
    return round(short, 1), round(long, 1)


class Longest(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The greatest length of a side in cm."""

    most: float


@check("longest-side", of=FileFacts, takes=Longest)
def longest_side(file: FileFacts, limit: Longest) -> Outcomes:
    """Measure the longer side of every page, as displayed."""
    for page in file.pages:
        at = Place(file=file.name, page=page.number)
        if page.width <= 0:
            yield Unread(why=page.unread or NO_SIZE, at=at)
        else:
            yield Measured(what="page", value=max(page.width, page.height), unit="cm", most=limit.most, at=at)


class Shrunk(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Pages that do not fit on `sheet` or one of `free` (cm, either way round) are reduced to it; `least` is in pt."""

    sheet: tuple[float, float]
    free: tuple[float, float]
    allow: float
    least: float


@check("type-when-reduced", of=Paper, takes=Shrunk)
def type_when_reduced(paper: Paper, limit: Shrunk) -> Outcomes:
    """Reduce the size of the smallest text of each larger page as the page is reduced."""
    for page in paper.pages:
        at = Place(page=page.number)
        factor = _factor(page, limit) if page.width > 0 else 0.0
        sizes = [line.size for line in body_lines(paper)[page.number] if len(line.text.split()) > 1]
        if factor < 1 and (why := text_unread(page)):
            yield Unread(why=why, at=at)
        elif factor < 1 and sizes:
            value = min(sizes) * factor
            yield Measured(what="text after the reduction", value=value, unit="pt", least=limit.least, at=at)


def _factor(page: Page, limit: Shrunk) -> float:
    short, long = sorted((page.width, page.height))
    for sheet in (limit.sheet, limit.free):
        if short <= min(sheet) + limit.allow and long <= max(sheet) + limit.allow:
            return 1.0
    return min(min(limit.sheet) / short, max(limit.sheet) / long)


@check("text-direction", of=Paper, takes=NoLimits, sorts=("upside down", "sideways"))
def text_direction(paper: Paper, _: NoLimits) -> Outcomes:
    """See in which direction the text of each page runs. Drawings may lie on their side, a wide table as well."""
    for page in paper.pages:
        at = Place(page=page.number)
        turned = direction(page)
        if turned is None:
            if paper.kind == "text" and (why := text_unread(page)):
                yield Unread(why=why, at=at)
            continue
        sideways = turned in (90, 270)
        proper = turned == 0 or (sideways and (paper.kind == "drawing" or _is_table(page)))
        yield Seen(
            what="page",
            held=proper,
            measured="upside down" if turned == 180 else "sideways" if sideways else "upright",
            required="upright",
            at=at,
            sort="" if proper else "upside down" if turned == 180 else "sideways",
        )


def _is_table(page: Page) -> bool:
    return is_tabular(line for line in page.lines if line.visible and not line.oblique)


@check("wide-page", of=Paper, takes=NoLimits)
def wide_page(paper: Paper, _: NoLimits) -> Outcomes:
    """See whether pages are higher than wide, unless a table fills them. A blank page says nothing."""
    for page in paper.pages:
        at = Place(page=page.number)
        wide = page.width > page.height
        if page.unread or (wide and text_unread(page)):
            yield Unread(why=page.unread or text_unread(page) or "", at=at)
        elif page.ink:
            yield Seen(
                what="page",
                held=not wide or _is_table(page),
                measured="wider than high" if wide else "higher than wide",
                required="higher than wide",
                at=at,
            )


@check("blank-or-doubled", of=Paper, takes=NoLimits, sorts=("blank", "doubled"), says=("other",))
def blank_or_doubled(paper: Paper, _: NoLimits) -> Outcomes:
    """Look for pages that hold nothing, and pages that show or say the same as an earlier one."""
    earlier = {page.number: other.number for page, other in repeated(paper)}
    for page in paper.pages:
        at = Place(page=page.number)
        if page.unread:
            yield Unread(why=page.unread, at=at)
            continue
        blank = is_blank(page, paper)
        other = earlier.get(page.number)
        yield Seen(
            what="page",
            held=not blank and other is None,
            measured="blank" if blank else f"the same as page {other}" if other else "a page of its own",
            at=at,
            sort="blank" if blank else "doubled" if other else "",
            words={"other": str(other or "")},
        )


class Inside(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """From how many square cm on a figure or picture counts."""

    least: float


@check("figure-inside", of=Paper, takes=Inside, sorts=("figure", "picture"))
def figure_inside(paper: Paper, limit: Inside) -> Outcomes:
    """Look for figures with a label, and for pictures in colour or grey, on pages of text."""
    for page in paper.pages:
        if page.unread:
            yield Unread(why=page.unread, at=Place(page=page.number))
            continue
        found = insets(page, limit.least)
        for inset in found:
            yield Seen(
                what="page",
                held=False,
                measured=inset.label or "a picture",
                at=Place(page=page.number, box=inset.box),
                sort="figure" if inset.label else "picture",
            )
        if page.ink and not found:
            yield Seen(what="page", held=True, measured="text", at=Place(page=page.number))


class Ground(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The least lightness of the paper, in per cent of white; how wide in cm the dark edge of a scan may be."""

    least: float
    edge: float


@check("white-ground", of=Paper, takes=Ground, sorts=("dark edge",))
def white_ground(paper: Paper, limit: Ground) -> Outcomes:
    """Measure the commonest grey of each page, its ground, and what a scanner left dark along its sides."""
    for page in paper.pages:
        at = Place(page=page.number)
        if page.unread:
            yield Unread(why=page.unread, at=at)
        elif page.ink:
            yield Measured(what="ground of the page", value=page.ground * 100, unit="%", least=limit.least, at=at)
            widest = max(page.dark_edges, key=_width, default=None)
            if widest:
                yield Measured(
                    what="dark edge of the scan",
                    value=_width(widest),
                    unit="cm",
                    most=limit.edge,
                    at=Place(page=page.number, box=widest),
                    sort="dark edge",
                )


def _width(edge: Box) -> float:
    return min(edge.width, edge.height)
