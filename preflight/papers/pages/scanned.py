"""Text papers that are scans, as their pictures seem to read: what was read from them, set upright, as lines.

Nothing that comes from here accuses. Where it agrees with the other papers it acquits; where it seems to disagree a
person has to look (see `judging.examining`).
"""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median

import msgspec

from preflight.facts import CM_PER_PT, Box, Line, Page, Reading
from preflight.papers.model import Filing, Paper, text_unread
from preflight.papers.words.askew import lean_of, letters_height, upright

LEGIBLE = 0.8
"""Mean probability of the letters of a line that is taken for words; the rest is ink. House value."""
MOST_OF_IT = 0.9
"""A page is read if so large a share of its lines is legible. House value."""
ONE_SIZE = 0.25
"""Lines whose height differs by less than this share are set in one size: the reader's boxes are no better."""


def as_read(filing: Filing) -> Filing | None:
    """The filing with the words of its scanned text papers; None if there is none that could be read as a whole."""
    papers = tuple(_as_read(paper) for paper in filing.papers)
    changed = any(new is not old for new, old in zip(papers, filing.papers, strict=True))
    return msgspec.structs.replace(filing, papers=papers) if changed else None


def scanned_pages(filing: Filing) -> frozenset[tuple[str, int]]:
    """File and number of the pages of its text papers whose words, if any, come from pictures."""
    papers = (paper for paper in filing.papers if paper.kind == "text")
    return frozenset((paper.file, page.number) for paper in papers for page in paper.pages if text_unread(page))


def _as_read(paper: Paper) -> Paper:
    """The paper itself where nothing was read from its pictures, or not all: what it lacks might stand on the rest."""
    scans = {page.number: _written(page) for page in paper.pages if text_unread(page)}
    if paper.kind != "text" or not scans or not all(scans.values()):
        return paper
    pages = tuple(_page(page, scans[page.number] or ()) if page.number in scans else page for page in paper.pages)
    return msgspec.structs.replace(paper, pages=pages)


def _written(page: Page) -> tuple[Reading, ...] | None:
    """The legible strings of a picture; None if it was not read, or much of it is not legible.

    A page with a few lines, as the last one often is, was read like a drawing.
    """
    every = page.readings if page.writing is None else page.writing
    level = [one for one in every or () if one.turned == 0 and one.text.strip()]
    legible = tuple(one for one in level if one.mean >= LEGIBLE)
    return legible if legible and len(legible) >= MOST_OF_IT * len(every or ()) else None


def _page(page: Page, written: Sequence[Reading]) -> Page:
    """The page with its lines; the picture itself no longer counts as one."""
    lean = lean_of(page, written)
    usual = median(letters_height(one.box, lean) for one in written)
    lines = tuple(_line(one, page, lean, usual) for one in written)
    return msgspec.structs.replace(page, lines=lines, pictures=(), text_unread=None)


def _line(one: Reading, page: Page, lean: float, usual: float) -> Line:
    box = upright(one.box, page, lean)
    own = letters_height(one.box, lean)
    height = usual if abs(own - usual) < ONE_SIZE * usual else own
    middle = box.middle[1]
    placed = Box(box.left, middle - height / 2, box.right, middle + height / 2)
    return Line(one.text, placed, round(height / CM_PER_PT))
