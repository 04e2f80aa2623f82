"""Numbers of pages and sheets: there, in their place, consecutive, with the right total."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from preflight.checks.api import Measured, Outcomes, Place, Seen, Unread, check
from preflight.checks.places import of_paper
from preflight.checks.series import Numbered, follow, totals
from preflight.facts import Box, Page
from preflight.papers import Filing, PageNumber, Paper, SheetNumber, page_numbers, sheet_numbers, usual_height

PLAIN = "n/m"
"""The style of a sheet number that carries no words."""


class PageNumbers(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Whose pages are numbered on, and where a number may stand: cm from top or bottom edge, cm from the middle."""

    roles: tuple[str, ...]
    near_edge: float
    near_middle: float


@check(
    "page-numbers",
    of=Filing,
    takes=PageNumbers,
    sorts=("absent", "misplaced", "restart", "gap", "repeat", "total", "order"),
    says=("expected",),
    acquits_scans=True,
)
def page_numbering(filing: Filing, wanted: PageNumbers) -> Outcomes:
    """Follow the page numbers over the text papers, each on from another or from 1."""
    papers = sorted(filing.with_role(*wanted.roles), key=lambda p: wanted.roles.index(p.role))
    readable: list[tuple[Paper, list[PageNumber]]] = []
    for paper in papers:
        if why := paper.text_unread:
            yield Unread(why=why, at=of_paper(paper))
        else:
            readable.append((paper, list(page_numbers(paper))))
    if readable and not any(n.value is not None for _, numbers in readable for n in numbers):
        yield from _none_at_all([paper for paper, _ in readable])
        return
    for paper, numbers in readable:
        yield from _misplaced(paper, numbers, wanted)
    yield from _followed(readable, filing)


def _followed(papers: Sequence[tuple[Paper, list[PageNumber]]], filing: Filing) -> Outcomes:
    """Each paper's numbers, from where another paper ends or from 1; in the order of their first numbers."""
    ends: dict[str, set[int]] = {}
    outcomes: list[Seen | Unread] = []
    runs = [_run(paper, numbers) for paper, numbers in papers]
    known = [(_first(run), position) for position, run in enumerate(runs)]
    for begins, position in sorted(known, key=lambda k: (k[0] is None, k[0] or 0, k[1])):
        run, paper = runs[position], papers[position][0]
        if begins is None:
            yield from _unnumbered_paper(run)
            continue
        every = {end for role, found in ends.items() if role != paper.role for end in found}
        outcomes += _begun(run, begins, every, paper)
        ends.setdefault(paper.role, set()).add([n.value for n in run if n.value is not None][-1])
    yield from outcomes
    lasts = {end for found in ends.values() for end in found}
    if lasts and not _torn(outcomes):
        numbered = [n for run in runs for n in run]
        yield from totals("page number", numbered, max(lasts), lasts | _other_totals(filing, [p for p, _ in papers]))


def _torn(outcomes: Sequence[Seen | Unread]) -> bool:
    """Whether a number is missing or doubled: that explains a wrong total as well."""
    return any(isinstance(o, Seen) and not o.held and o.sort in ("gap", "repeat") for o in outcomes)


def _other_totals(filing: Filing, numbered: Sequence[Paper]) -> set[int]:
    """What "of n" may also count: all text pages, these and the sheets, or all pages of a file."""
    text = sum(len(p.pages) for p in numbered)
    sheets = sum(len(p.pages) for p in filing.papers if p.kind == "drawing")
    files = {p.file for p in numbered}
    wholes = {len(f.pages) for f in filing.files if f.name in files}
    return {text, text + sheets, *wholes, *(whole + sheets for whole in wholes)}


def _begun(run: Sequence[Numbered], begins: int, ends: set[int], paper: Paper) -> Iterator[Seen | Unread]:
    """The run, held to begin at 1, after the end of another paper, or at the page's own place in its file."""
    if begins == 1 and ends:
        yield Seen(
            what="page number",
            held=False,
            measured="1",
            sort="restart",
            at=run[0].at,
            words={"expected": str(max(ends) + 1)},
        )
        yield from follow("page number", run, 1)
    elif begins == 1 or begins - 1 in ends or begins == paper.first_page:
        yield from follow("page number", run, begins)
    else:
        yield from follow("page number", run, max(ends, default=0) + 1)


def _run(paper: Paper, numbers: Sequence[PageNumber]) -> list[Numbered]:
    blank = [page.ink is None and not page.unread for page in paper.pages]
    return [Numbered(_at(paper, n), n.value, n.total, n.unread, white) for n, white in zip(numbers, blank, strict=True)]


def _first(run: Sequence[Numbered]) -> int | None:
    """The number of the run's first page, counted back from its first number where that page has none."""
    written = [n for n in run if not n.blank]
    return next((n.value - position for position, n in enumerate(written) if n.value is not None), None)


def _none_at_all(papers: Sequence[Paper]) -> Iterator[Seen]:
    first = papers[0].pages[0]
    yield Seen(
        what="page number",
        held=False,
        measured="none",
        sort="absent",
        at=Place(file=papers[0].file, page=first.number, role=papers[0].role),
        also=tuple(
            Place(file=paper.file, page=page.number, role=paper.role)
            for paper in papers
            for page in paper.pages
            if page is not first
        ),
        words={"expected": "1 and so on"},
    )


def _unnumbered_paper(run: Sequence[Numbered]) -> Outcomes:
    for page in run:
        if page.blank:
            continue
        if page.unread:
            yield Unread(why=page.unread, at=page.at)
            continue
        yield Seen(
            what="page number", held=False, measured="none", sort="absent", at=page.at, words={"expected": "one"}
        )


def _misplaced(paper: Paper, numbers: Sequence[PageNumber], wanted: PageNumbers) -> Iterator[Seen]:
    """Numbers that stand elsewhere than near the middle of the top or bottom edge."""
    for number, page in zip(numbers, paper.pages, strict=True):
        if number.value is None or number.box is None:
            continue
        across, down = number.box.middle
        near_edge = min(down, page.height - down) <= wanted.near_edge or _beyond_text(page, number.box)
        near_middle = abs(across - page.width / 2) <= wanted.near_middle
        if not (near_edge and near_middle):
            yield Seen(
                what="page number",
                held=False,
                measured="at the side" if near_edge else "within the text",
                sort="misplaced",
                at=_at(paper, number),
                words={"expected": "in the middle"},
            )


def _beyond_text(page: Page, number: Box) -> bool:
    """Whether all words stand on one side of the number: it is above or below the text, however deep."""
    lines = [line.box for line in page.lines if line.visible and not line.box.touches(number)]
    return all(box.bottom <= number.top for box in lines) or all(box.top >= number.bottom for box in lines)


def _at(paper: Paper, number: PageNumber) -> Place:
    return Place(file=paper.file, page=number.page, box=number.box, role=paper.role)


class SheetNumbers(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Whose sheets are numbered; a number must stand below the top margin (cm) and in this share of the height.

    It must be `more` cm higher than the reference characters, less the reading error `blur` of a picture.
    """

    roles: tuple[str, ...]
    margin: float
    in_top: float
    more: float
    blur: float


@check(
    "sheet-numbers",
    of=Filing,
    takes=SheetNumbers,
    sorts=("absent", "misplaced", "style", "small", "gap", "repeat", "total", "order"),
    says=("expected",),
)
def sheet_numbering(filing: Filing, wanted: SheetNumbers) -> Outcomes:
    """Follow the sheet numbers over all drawings; a single sheet may go without."""
    sheets: list[Numbered] = []
    odd: list[tuple[Place, SheetNumber]] = []
    for paper in filing.with_role(*wanted.roles):
        if why := paper.text_unread:
            yield Unread(why=why, at=of_paper(paper))
            return
        for number in sheet_numbers(paper):
            at = Place(file=paper.file, page=number.page, box=number.box, role=paper.role)
            sheets.append(Numbered(at, number.n, number.of, number.unread))
            if number.n is not None and number.style != PLAIN:
                odd.append((at, number))
            yield from _sheet_misplaced(at, number, paper, wanted)
            yield from _small(at, number, paper, wanted)
    yield from _odd_styles(odd)
    if not sheets or (len(sheets) == 1 and sheets[0].value is None):
        return
    if all(sheet.value is None and not sheet.unread for sheet in sheets):
        first = sheets[0]
        yield Seen(
            what="sheet number",
            held=False,
            measured="none",
            sort="absent",
            at=first.at,
            also=tuple(sheet.at for sheet in sheets[1:]),
            words={"expected": f"1/{len(sheets)}"},
        )
        return
    yield from _sheets(sheets)


def _sheets(sheets: Sequence[Numbered]) -> Outcomes:
    """The numbers in their order, then the totals, unless a missing or doubled sheet explains them."""
    count = len(sheets)
    if sheets[0].value is None and not sheets[0].unread:
        yield Seen(
            what="sheet number",
            held=False,
            measured="none",
            sort="absent",
            at=sheets[0].at,
            words={"expected": f"1/{count}"},
        )
    outcomes = [_with_total(one, count) for one in follow("sheet number", sheets, 1)]
    yield from outcomes
    if not _torn(outcomes):
        yield from totals("sheet number", sheets, count)


def _with_total(one: Seen | Unread, count: int) -> Seen | Unread:
    if isinstance(one, Unread) or one.sort != "absent":
        return one
    return msgspec.structs.replace(one, words={"expected": f"{one.words['expected']}/{count}"})


def _sheet_misplaced(at: Place, number: SheetNumber, paper: Paper, wanted: SheetNumbers) -> Iterator[Seen]:
    """A number in the top margin or far down. A sheet on its side is left alone: which edge is its top is open."""
    page = paper.pages[number.page - paper.first_page]
    if number.n is None or number.box is None or number.turned or page.width > page.height:
        return
    down = number.box.middle[1]
    if down < wanted.margin or down > wanted.in_top * page.height:
        where = "in the top margin" if down < wanted.margin else "far below the top"
        yield Seen(
            what="sheet number", held=False, measured=where, sort="misplaced", at=at, words={"expected": "at the top"}
        )


def _small(at: Place, number: SheetNumber, paper: Paper, wanted: SheetNumbers) -> Iterator[Measured]:
    """The height of a number against the middle one of the reference characters of its sheet."""
    page = paper.pages[number.page - paper.first_page]
    usual, box = usual_height(page), number.box
    if usual and number.n is not None:
        yield Measured(
            what="sheet number",
            value=number.height if page.readings is not None or box is None else _across(box, number.turned),
            unit="cm",
            least=round(usual + wanted.more, 3),
            slack=wanted.blur if page.readings is not None else 0.0,
            at=at,
            sort="small",
        )


def _across(box: Box, turned: int) -> float:
    return box.height if turned in (0, 180) else box.width


def _odd_styles(odd: Sequence[tuple[Place, SheetNumber]]) -> Iterator[Seen]:
    """Numbers with other words than the two numerals, all as one fault."""
    if not odd:
        return
    at, number = odd[0]

    def written(style: str) -> str:
        return f'"{style.replace("n", str(number.n), 1).replace("m", str(number.of), 1)}"'

    yield Seen(
        what="sheet number",
        held=False,
        measured=written(number.style),
        sort="style",
        at=at,
        also=tuple(place for place, _ in odd[1:]),
        words={"expected": written(PLAIN)},
    )
