"""The page numbers printed on a text paper, told from dockets, years, line, claim and paragraph numbers."""

from __future__ import annotations

import itertools
import re
from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import Literal

import msgspec

from preflight.facts import Box, Line, Page
from preflight.papers.model import Paper, text_unread
from preflight.papers.words.lettering import flat, level, upright, words
from preflight.papers.words.remembered import remembered

LONE_ZONE = 4.0
"""... and within so many cm if it is alone in its row, with white towards the text. House value: deep footers."""
LONE_GAP = 0.6
"""So many cm of white. House value: more than between lines of text."""
ZONE = 3.2
"""A page number stands within so many cm of the upper or lower edge. House value: a margin of 2.54 and a line."""
CENTRE = 3.0
"""A number whose middle lies within so many cm of the middle of the page stands in the centre. House value."""
HEADER_WORDS = 14
"""A header line that holds a number has at most so many words. House value."""
SAME_HEIGHT = 0.6
"""From page to page a page number keeps its height within so many cm. House value."""
LINE_NUMBER_EDGE = 2.6
"""Numbers wholly left of this (cm) with others over or under them number lines. House value."""

_BARE = re.compile(
    r"^[\-\s|~*.\[(]*(?:(?P<word>page|pg\.?|p\.?)\s*(?:no\.?\s*)?)?(?P<n>\d{1,4})"
    r"(?:\s*(?:of|/)\s*(?P<m>\d{1,4}))?[\-\s|~*\])]*$",
    re.IGNORECASE,
)
_AT_END = re.compile(
    r"(?:^|[\s|:;,\-])(?P<word>page|pg\.?|p\.)?\s*(?P<n>\d{1,4})(?:\s*(?:of|/)\s*(?P<m>\d{1,4}))?[\s|\-]*$",
    re.IGNORECASE,
)
_AT_START = re.compile(
    r"^[\s|\-]*(?P<word>page|pg\.?|p\.)?\s*(?P<n>\d{1,4})(?:\s*(?:of|/)\s*(?P<m>\d{1,4}))?(?=[\s|:;,\-])", re.IGNORECASE
)
_INSIDE = re.compile(r"\b(?P<word>page)\s*(?P<n>\d{1,4})(?:\s*(?:of|/)\s*(?P<m>\d{1,4}))?\b", re.IGNORECASE)
_FIRST_YEAR, _LAST_YEAR = 1900, 2100

Edge = Literal["top", "bottom"]
Side = Literal["left", "centre", "right"]


class PageNumber(msgspec.Struct, frozen=True):
    """The number that a page prints. `value` is None where none was found; `unread` says why it could not be read.

    `box` is None also for a number that stands with text that is turned; edge and side are then those of the text.
    """

    page: int
    value: int | None = None
    total: int | None = None
    box: Box | None = None
    edge: Edge | None = None
    side: Side | None = None
    text: str = ""
    unread: str | None = None


class _Candidate(msgspec.Struct, frozen=True):
    number: PageNumber
    alone: bool
    worded: bool
    """It says "page" or gives the total, so that it cannot be anything else."""
    height: float
    """Distance of its middle from its edge of the page, in cm."""


@remembered
def page_numbers(paper: Paper) -> tuple[PageNumber, ...]:
    """One record a page, in page order.

    Of all numbers near the upper and lower edge those are page numbers that stand at one height and in one
    shape on most pages and rise; a number alone in its row counts before one within a header line.
    """
    found = {page.number: list(_candidates(page)) for page in paper.pages}
    chosen = _series(found, [page.number for page in paper.pages])
    return tuple(chosen.get(page.number) or _none(page) for page in paper.pages)


def _none(page: Page) -> PageNumber:
    return PageNumber(page.number, unread=text_unread(page))


def _candidates(page: Page) -> Iterator[_Candidate]:
    """Numbers near the edges as the page is displayed, and as its text reads if most of that is turned."""
    yield from _upright_candidates(page)
    if (way := _most_turned(page)) != 0:
        for candidate in _upright_candidates(_turned_back(page, way)):
            yield msgspec.structs.replace(candidate, number=msgspec.structs.replace(candidate.number, box=None))


def _most_turned(page: Page) -> int:
    """The direction of most characters of the page, degrees as in `Line.turned`."""
    share: dict[int, int] = defaultdict(int)
    for line in page.lines:
        if line.visible:
            share[line.turned] += len(line.text)
    return max(share, key=lambda way: (share[way], way == 0), default=0)


def _turned_back(page: Page, way: int) -> Page:
    """The page turned so that lines of this direction stand upright."""
    wide, high = (page.width, page.height) if way == 180 else (page.height, page.width)

    def place(x: float, y: float) -> tuple[float, float]:
        return {90: (y, high - x), 180: (wide - x, high - y)}.get(way, (wide - y, x))

    def box(old: Box) -> Box:
        (x0, y0), (x1, y1) = place(old.left, old.top), place(old.right, old.bottom)
        return Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))

    lines = tuple(
        msgspec.structs.replace(line, box=box(line.box), turned=(line.turned - way) % 360) for line in page.lines
    )
    return msgspec.structs.replace(page, width=wide, height=high, lines=lines)


def _upright_candidates(page: Page) -> Iterator[_Candidate]:
    lines = upright(line for line in page.lines if line.visible)
    for line in lines:
        if ZONE < line.box.middle[1] < page.height - ZONE and not _lone(page, lines, line):
            continue
        text = flat(line.text)
        bare = _BARE.match(text)
        if bare:
            if not _numbers_lines(lines, line, page):
                neighbours = any(other is not line and level(other, line) for other in lines)
                yield _candidate(page, line, bare, alone=not neighbours)
        elif len(words(text)) <= HEADER_WORDS and not text.startswith("["):
            shapes = (_INSIDE.search(text), _AT_END.search(text), _AT_START.match(text))
            found = next((one for one in shapes if one and not _belongs(text, one)), None)
            if found:
                yield _candidate(page, line, found, alone=False)


def _lone(page: Page, lines: Sequence[Line], line: Line) -> bool:
    """Whether a line stands alone near an edge, apart from the text."""
    if LONE_ZONE < line.box.middle[1] < page.height - LONE_ZONE:
        return False
    others = [other for other in lines if other is not line]
    near = [
        other
        for other in others
        if other.box.top - LONE_GAP < line.box.bottom and line.box.top < other.box.bottom + LONE_GAP
    ]
    return not near and bool(_BARE.match(flat(line.text)))


def _numbers_lines(lines: Sequence[Line], line: Line, page: Page) -> bool:
    """Whether a bare number is one of a column of them at the edge: line numbers."""
    inside = line.box.right > LINE_NUMBER_EDGE and line.box.left < page.width - LINE_NUMBER_EDGE
    column = [
        other
        for other in lines
        if re.fullmatch(r"\d{1,3}", flat(other.text)) and abs(other.box.right - line.box.right) < 0.3
    ]
    return not inside and len(column) >= 3


def _belongs(text: str, found: re.Match[str]) -> bool:
    """Whether a number in a header line is part of something else: a docket, a date, a figure, a claim."""
    if found.group("word") or found.group("m"):
        return False
    before = text[: found.start("n")].rstrip()
    return bool(
        re.search(
            r"(?:[A-Z0-9][\-/.]|\bno\.?|\bnumber|#|:|\bdocket|\bref\.?|\bfigs?\.?|\bclaims?|\bexample|\btable"
            r"|\b(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?(?:\s*\d{1,2},?)?|[$])$",
            before,
            re.IGNORECASE,
        )
        or re.match(r"^\s*(?:[.)]|[\-/]\d)", text[found.end("n") :])
    )


def _candidate(page: Page, line: Line, found: re.Match[str], *, alone: bool) -> _Candidate:
    box = _part(line, found)
    middle = box.middle
    edge: Edge = "top" if middle[1] < page.height / 2 else "bottom"
    off = middle[0] - page.width / 2
    side: Side = "centre" if abs(off) <= CENTRE else "left" if off < 0 else "right"
    total = found.group("m")
    number = PageNumber(
        page.number, int(found.group("n")), int(total) if total else None, box, edge, side, found.group(0).strip()
    )
    height = middle[1] if edge == "top" else page.height - middle[1]
    return _Candidate(number, alone, bool(found.group("word") or total), height)


def _part(line: Line, found: re.Match[str]) -> Box:
    """The place of the number within its line, shared out by characters."""
    each = line.box.width / max(len(flat(line.text)), 1)
    left, right = line.box.left + found.start() * each, line.box.left + found.end() * each
    return Box(left, line.box.top, right, line.box.bottom)


def _series(found: dict[int, list[_Candidate]], order: Sequence[int]) -> dict[int, PageNumber]:
    """The best group of candidates: same edge, height and shape, on as many pages as possible, rising."""
    groups: dict[tuple[Edge | None, bool, int, Side | None], list[_Candidate]] = defaultdict(list)
    for candidate in (one for number in order for one in found[number]):
        for shift in (0, 1):  # two overlapping grids, so that no height falls between two cells
            cell = 2 * int((candidate.height + shift * SAME_HEIGHT / 2) / SAME_HEIGHT) + shift
            for side in (candidate.number.side, None):  # None: left and right pages in turn
                groups[candidate.number.edge, candidate.alone, cell, side].append(candidate)
    best = max(groups.values(), key=_score, default=[])
    if not best or _score(best)[0] <= 0:
        return {}
    chosen = _one_a_page(best)
    # a page whose number stands a little elsewhere, or beside a header, still carries one
    for number in order:
        if number not in chosen:
            other = _fitting(found[number], best[0].number.edge, chosen, order, number)
            if other:
                chosen[number] = other
    return chosen


def _score(group: list[_Candidate]) -> tuple[float, bool, bool, bool]:
    """Pages that fit a rising count; then shape. A group that does not rise is worth nothing."""
    values = [number.value or 0 for number in _one_a_page(group).values()]
    rising = sum(1 for first, second in itertools.pairwise(values) if 0 < second - first <= 3)
    worded = any(candidate.worded for candidate in group)
    alone, low = group[0].alone, group[0].number.edge == "bottom"
    if len(values) == 1:
        counted = values[0] == group[0].number.page  # within a header line, but the same as the page of the file
        certain = worded or counted or (alone and not _FIRST_YEAR <= values[0] <= _LAST_YEAR)
        return (0.5 if certain else 0.0, alone, worded, low)
    if len(values) == 2 and values[0] == values[1] and alone and group[0].number.side == "centre":
        plain = worded or not _FIRST_YEAR <= values[0] <= _LAST_YEAR
        return (0.5 if plain else 0.0, alone, worded, low)  # the second page stands there twice
    if rising * 2 < len(values) - 1:
        return (0.0, alone, worded, low)
    return (rising + (0.5 if worded else 0.0), alone, worded, low)


def _one_a_page(group: list[_Candidate]) -> dict[int, PageNumber]:
    """Of several in one place on a page the first one, or the one that says "page"."""
    chosen: dict[int, PageNumber] = {}
    ranked: dict[int, bool] = {}
    for candidate in group:
        page = candidate.number.page
        if page not in chosen or (candidate.worded and not ranked[page]):
            chosen[page], ranked[page] = candidate.number, candidate.worded
    return chosen


def _fitting(
    some: list[_Candidate], edge: Edge | None, chosen: dict[int, PageNumber], order: Sequence[int], page: int
) -> PageNumber | None:
    """A candidate on a page left out of the series whose value is what its neighbours lead to expect."""
    at = order.index(page)
    expected = set()
    for step, near in ((-1, at - 1), (1, at + 1)):
        if 0 <= near < len(order) and order[near] in chosen:
            expected.add((chosen[order[near]].value or 0) - step)
    fits = [one.number for one in some if one.number.value in expected]
    return next((number for number in fits if number.edge == edge), fits[0] if fits else None)
