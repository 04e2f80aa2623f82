"""What was left on the pages from the work on them: struck and inserted text, watermarks."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

import msgspec

from preflight.facts import Bar, Box, Line, Page, Tint
from preflight.papers.model import Paper, is_scanned
from preflight.papers.words.lettering import keyed

LEAST_CROSSED = 0.6
"""A bar strikes out words if it runs through so large a share of their letters: an underline meets only those that
reach down. House value."""
LEAST_UNDER = 0.5
"""In cm: a shorter bar under a word may be a dash drawn by a program. House value."""
OVERHANG = 0.3
"""A bar that reaches further beyond its line, in cm, is a rule of a table. House value."""
SAME_PLACE = 0.15
"""A watermark keeps its place from page to page within so many cm. House value."""
MOST_PAGES = 0.6
"""... and stands on so large a share of the pages. House value."""
LEAST_WATERMARK = (5.0, 1.5)
"""It is so many cm wide and high at least. House value: smaller marks are logos or tinted cells."""
EDGE = 3.2
"""It reaches into the page more than so many cm from the upper and the lower edge: headers do not. House value."""

_ADDRESS = re.compile(r"https?:|www\.|@|\.(?:com|org|net|gov)\b", re.IGNORECASE)


class Marked(msgspec.Struct, frozen=True):
    """Text that a bar marks as struck out or inserted."""

    page: int
    line: Line
    bar: Bar


def struck(page: Page) -> tuple[Marked, ...]:
    """The lines that a bar runs through."""
    return tuple(
        Marked(page.number, line, bar)
        for bar in page.bars
        if bar.crossed >= LEAST_CROSSED
        for line in _lines_at(page, bar)[:1]
    )


def inserted(page: Page, links: Iterable[str]) -> tuple[Marked, ...]:
    """The lines with coloured text that is underlined in its own colour, unless it is one of the colours of `links`."""
    usual = frozenset(links)
    found = []
    for bar in page.bars:
        for line in _lines_at(page, bar):
            tints = [tint for tint in line.tints if tint.colour == bar.colour and tint.colour not in usual]
            if (
                bar.crossed < LEAST_CROSSED
                and any(_beneath(bar, tint) for tint in tints)
                and not _ADDRESS.search(line.text)
            ):
                found.append(Marked(page.number, line, bar))
    return tuple(found)


def _beneath(bar: Bar, tint: Tint) -> bool:
    """Whether a bar underlines characters of this colour and nothing beside them."""
    inside = tint.box.left - OVERHANG <= bar.box.left and bar.box.right <= tint.box.right + OVERHANG
    return inside and bar.box.width >= LEAST_UNDER


def _lines_at(page: Page, bar: Bar) -> list[Line]:
    near = bar.box.grown(0.1)
    return [
        line
        for line in page.lines
        if line.visible
        and not line.turned
        and not line.oblique
        and line.box.height > 0
        and line.box.touches(near)
        and line.box.left - OVERHANG <= bar.box.left
        and bar.box.right <= line.box.right + OVERHANG
    ]


class Watermark(msgspec.Struct, frozen=True):
    """What runs over a page besides its text; `words` are empty where it is a mere shape."""

    page: int
    box: Box
    words: str = ""


def written_watermarks(page: Page, stamps: Iterable[str], aslant: float, upright: float) -> tuple[Watermark, ...]:
    """Large words over the page: any that run aslant from `aslant` pt on, `stamps` (folded) from `upright` pt on."""
    known = frozenset(stamps)
    return tuple(
        Watermark(page.number, line.box, line.text)
        for line in page.lines
        if line.visible
        and any(character.isalpha() for character in line.text)
        and (line.size >= aslant if line.oblique else line.size >= upright and keyed(line.text) in known)
    )


def drawn_watermarks(paper: Paper) -> tuple[Watermark, ...]:
    """Pale shapes at one place of most pages, larger than a logo, within the body of the page."""
    if len(paper.pages) < 2:
        return ()
    # the soft edges of a coarse scan are pale and stand at one place of every sheet
    first = [(page, box) for page in paper.pages if not is_scanned(page) for box in page.pale if not _covers(page, box)]
    kept = [(page, box) for page, box in first if _recurs(paper.pages, page, box)]
    found = []
    for page in paper.pages:
        box = Box.around(box for on, box in kept if on is page)
        if box and box.width >= LEAST_WATERMARK[0] and box.height >= LEAST_WATERMARK[1] and _inside(page, box):
            found.append(Watermark(page.number, box))
    return tuple(found)


def _covers(page: Page, box: Box) -> bool:
    """A tinted ground is no watermark."""
    return box.area > page.width * page.height / 2


def _recurs(pages: Sequence[Page], page: Page, box: Box) -> bool:
    others = [other for other in pages if other is not page]
    same = [other for other in others if any(_same(box, one) for one in other.pale)]
    return len(same) + 1 >= max(2.0, MOST_PAGES * len(pages))


def _same(first: Box, second: Box) -> bool:
    sides = zip(
        (first.left, first.top, first.right, first.bottom),
        (second.left, second.top, second.right, second.bottom),
        strict=True,
    )
    return all(abs(a - b) <= SAME_PLACE for a, b in sides)


def _inside(page: Page, box: Box) -> bool:
    return box.bottom > EDGE and box.top < page.height - EDGE
