"""What sheets of drawings print besides the figures: sheet numbers, figure labels, identification in the top margin."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

import msgspec

from preflight.facts import CM_PER_PT, Box, Line, Page
from preflight.papers.model import Paper
from preflight.papers.pages.dust import without_dust
from preflight.papers.roles.drawing_pages import FIGURE_LABEL
from preflight.papers.words.drawn import CAPITAL, as_seen
from preflight.papers.words.lettering import flat, words

TOP_SHARE = 1 / 3
"""A sheet number stands in this upper share of the sheet, seen the way its own text reads. House value."""
FOOT_SHARE = 0.85
"""Below this share of the height a number stands at the foot. House value."""
TARGET, CORNER = 1.2, 3.0
"""Cross-hairs for a scanner are at most so large and so near to both edges of a corner (cm). House values."""
CAPTION_WORDS = 10
"""A figure label with its caption has at most so many words. House value."""
MARGIN = 2.5
"""Identification stands within so many cm of the top edge: where to look, not what is allowed."""
NUMBER_REACH = 3.0
"""A number belongs to a lone "FIG." within so many letter heights right of it. House value."""
SPECKS = ".,-' "
"""What a speck beside a number is read as."""
OVERLAP = 0.6
"""... or begins so many letter heights before its end: what is read from a picture has room round it. House value."""
LINE_HEIGHT, LINE_GAP = 0.8, 0.3
"""On a scan: a header line is no higher than this (cm) and so far from the figure. House values."""
SLACK = 0.12
"""Ink may stick out of the box of its line by so many cm. House value."""

_SLASH = re.compile(r"^(\d{1,3})\s*/\s*(\d{1,3})$")
_WORDED = re.compile(r"\bsheet\s*(?:no\.?\s*)?(\d{1,3})\s*(?:of|/)\s*(\d{1,3})\b", re.IGNORECASE)
_BARE_OF = re.compile(r"^(?:page\s*)?(\d{1,3})\s*of\s*(\d{1,3})$", re.IGNORECASE)
_TRAILING = re.compile(r"(?:^|\s)(\d{1,3})\s*/\s*(\d{1,3})$")
_FIG = r"\bFIG(?:S|URES?)?\b\.?"
_LONE_FIG = re.compile(rf"^[\W_]*{_FIG}[\W_]*$", re.IGNORECASE)
_LEADING = re.compile(rf"^[\W_]*{_FIG}\s*(\d{{1,3}})\s?(\(?[A-Za-z]\)?)?(?=$|[\s.,:;\-)'])", re.IGNORECASE)
_MEMBER = re.compile(r"(\d{1,3})\s?(\(?[A-Za-z]\)?(?![A-Za-z]))?")
_VERB = re.compile(r"^\W*(?:is|are|shows?|illustrates?|depicts?|and|to|has|have|of)\b")
_REFERENCE_CHARACTER = re.compile(r"^[\W_]*\d{1,4}[A-Za-z]?'{0,3}[\W_]*$|^[A-Z]'?$")


class SheetNumber(msgspec.Struct, frozen=True):
    """The sheet number of one page; `n` is None where none was found, `unread` says why it could not be read."""

    page: int
    n: int | None = None
    of: int | None = None
    box: Box | None = None
    style: str = ""
    """n/m, "Sheet n of m" or "n of m"."""
    size: float = 0.0
    """Type size in pt."""
    turned: int = 0
    unread: str | None = None

    @property
    def height(self) -> float:
        """Of its numerals, in cm: estimated in a picture, worked out from the type size of characters."""
        return round(self.size * CAPITAL * CM_PER_PT, 3)


class FigureLabel(msgspec.Struct, frozen=True):
    """One view's label as printed, e.g. number 2, letter "A", text "FIG. 2A (PRIOR ART)"."""

    number: int
    letter: str
    text: str
    page: int
    box: Box
    size: float
    turned: int = 0

    @property
    def name(self) -> str:
        """For comparing: "2A"."""
        return f"{self.number}{self.letter.upper()}"

    @property
    def height(self) -> float:
        """Of its capitals, in cm: measured in a picture, worked out from the type size of characters."""
        return round(self.size * CAPITAL * CM_PER_PT, 3)


def sheet_numbers(paper: Paper) -> tuple[SheetNumber, ...]:
    """One record a page. Of several fractions on a page the one counts whose total the other sheets give too."""
    count = len(paper.pages)
    found = {page.number: list(_sheet_candidates(as_seen(page), count)) for page in paper.pages}
    totals = Counter(one.of for some in found.values() for one in {o.of: o for o in some}.values())
    return tuple(_chosen(as_seen(page), found[page.number], totals, count) for page in paper.pages)


def _chosen(page: Page, some: list[SheetNumber], totals: Counter[int | None], count: int) -> SheetNumber:
    if some:
        return min(some, key=lambda one: (-totals[one.of], one.of != count, one.style == "n/m", _depth(page, one)))
    if page.unread or page.readings_unread or (page.text_unread and page.readings is None):
        return SheetNumber(page.number, unread=page.unread or page.readings_unread or page.text_unread)
    blind = page.ink is not None and not any(line.visible for line in page.lines)
    return SheetNumber(page.number, unread="no text on the sheet can be read" if blind else None)


def _depth(page: Page, one: SheetNumber) -> float:
    return _from_top(page, one.box, one.turned) if one.box else 0.0


def _from_top(page: Page, box: Box, turned: int) -> float:
    """How far a text stands from the edge that is its top when one reads it, as a share of the sheet."""
    return {
        0: box.top / page.height,
        90: (page.width - box.right) / page.width,
        180: (page.height - box.bottom) / page.height,
        270: box.left / page.width,
    }.get(turned, 1.0)


def _sheet_candidates(page: Page, count: int) -> Iterator[SheetNumber]:
    """Fractions in the upper part; at the foot only one whose total is the number of sheets that there are."""
    for line in page.lines:
        share = _from_top(page, line.box, line.turned)
        at_foot = share > FOOT_SHARE and re.search(rf"(?:/|\bof)\s*{count}$", flat(line.text))
        if not line.visible or (share > TOP_SHARE and not at_foot):
            continue
        text = flat(line.text)
        in_margin = _from_top(page, line.box, line.turned) * (page.width if line.turned in (90, 270) else page.height)
        shapes = [(_WORDED.search(text), "Sheet n of m"), (_SLASH.match(text), "n/m"), (_BARE_OF.match(text), "n of m")]
        if in_margin < MARGIN and len(words(text)) >= 2:
            shapes.append((_TRAILING.search(text), "n/m"))
        for found, style in shapes:
            if found and int(found.group(1)) > 0 and int(found.group(2)) > 0:
                n, of = int(found.group(1)), int(found.group(2))
                if n <= of or in_margin < 2 * MARGIN or at_foot:
                    yield SheetNumber(page.number, n, of, line.box, style, line.size, line.turned)
                break


def figure_labels(paper: Paper) -> tuple[FigureLabel, ...]:
    """The labels of the views on the sheets, in page order, from visible text in any direction.

    A line counts if it is a label, with or without a short caption; "FIG." and its number may stand apart.
    "FIGS. 2A and 2B" is two labels in one place.
    """
    return tuple(label for page in paper.pages for label in labels_on(page))


def labels_on(page: Page) -> tuple[FigureLabel, ...]:
    """Those of one sheet."""
    return tuple(_labels(page))


def _labels(page: Page) -> Iterator[FigureLabel]:
    lines = [line for line in as_seen(page).lines if line.visible]
    for line in lines:
        text = flat(line.text)
        if _LONE_FIG.match(text):
            other = _number_beside(lines, line)
            if other is None:
                continue
            number = flat(other.text).strip(SPECKS)
            text, box = f"{text} {number}", Box.around([line.box, other.box]) or line.box
        else:
            box = line.box
        yield from (
            FigureLabel(number, letter, text, page.number, box, line.size, line.turned)
            for number, letter in members(text)
        )


def members(text: str) -> list[tuple[int, str]]:
    """The views that one label names: "FIG. 2A" one, "FIGS. 2A and 2B" two; none if the text is no label."""
    if FIGURE_LABEL.match(text):
        plain = re.sub(r"\(?\b(?:prior|related|background) art\b\)?|\(?\bcont[\w.']*\)?", "", text, flags=re.IGNORECASE)
        every = _MEMBER.findall(re.sub(rf"^[\W_]*{_FIG}", "", plain, flags=re.IGNORECASE))
        return [(int(number), letter.strip("()")) for number, letter in every]
    found = _LEADING.match(text)
    rest = text[found.end() :] if found else ""
    if found and len(words(rest)) <= CAPTION_WORDS and not _VERB.match(rest):
        return [(int(found.group(1)), (found.group(2) or "").strip("()"))]
    return []


def _number_beside(lines: list[Line], label: Line) -> Line | None:
    """The bare number that follows a lone "FIG." in the direction of its text."""
    reach = NUMBER_REACH * label.size * CM_PER_PT
    near = [
        other
        for other in lines
        if re.fullmatch(r"\d{1,3}\s?[A-Za-z]?", flat(other.text).strip(SPECKS))
        and other.turned == label.turned
        and _ahead(label, other) is not None
        and -OVERLAP * label.size * CM_PER_PT <= (_ahead(label, other) or 0.0) <= reach
    ]
    return min(near, key=lambda other: _ahead(label, other) or 0.0, default=None)


def _ahead(label: Line, other: Line) -> float | None:
    """How far `other` begins after the end of `label` along its base line; None if it is on another line."""
    a, b = label.box, other.box
    side = abs(a.middle[0] - b.middle[0]) if label.turned in (90, 270) else abs(a.middle[1] - b.middle[1])
    if side > label.size * CM_PER_PT / 2:
        return None
    return {0: b.left - a.right, 90: b.top - a.bottom, 180: a.left - b.right, 270: a.top - b.bottom}[label.turned]


def identification(page: Page, depth: float = MARGIN) -> tuple[Line, ...]:
    """Visible lines in the top margin that can be title, inventor or docket number.

    Seen as displayed. Figure labels, reference characters and sheet numbers are none.
    """
    return tuple(
        line
        for line in sorted(as_seen(page).lines, key=lambda ln: (ln.box.top, ln.box.left))
        if line.visible
        and line.turned == 0
        and line.box.middle[1] < depth
        and not members(flat(line.text))
        and not _REFERENCE_CHARACTER.match(flat(line.text))
        and not any(shape.match(flat(line.text)) for shape in (_SLASH, _BARE_OF))
        and not re.fullmatch(r"sheet\s*\d{1,3}\s*(?:of|/)\s*\d{1,3}", flat(line.text), re.IGNORECASE)
    )


def sight_ink(page: Page, depth: float = MARGIN) -> Box | None:
    """The ink of a sheet without the identification text in its top margin; None for a blank or unread page.

    A sheet number up there is left out too: where it stands is a question of its own. Where no text can be
    read, low clusters in the top margin, apart from the rest, are taken for such a line.
    """
    page = as_seen(page)
    if page.ink is None:
        return None
    if not page.marks:
        return page.ink
    marks = [mark for mark in without_dust(page) if mark not in scan_targets(page)]
    if not any(line.visible for line in page.lines):
        return Box.around(_without_header(marks, depth))
    lines = [*identification(page, depth), *_numbers_in_margin(page, depth)]
    named = [line.box.grown(SLACK) for line in lines]
    turned = [line.box.grown(SLACK) for line in _turned_identification(page, depth)]
    return Box.around(
        mark
        for mark in marks
        if not (mark.bottom <= depth + SLACK and any(_inside(mark, box) for box in named))
        and not (mark.left >= page.width - depth - SLACK and any(_beside(mark, box) for box in turned))
    )


def _turned_identification(page: Page, depth: float) -> Iterator[Line]:
    """The same lines on a sheet that lies with its top at the right: they run down its right margin."""
    for line in page.lines:
        if line.visible and line.turned == 90 and page.width > page.height and line.box.left > page.width - depth:
            yield line


def scan_targets(page: Page) -> tuple[Box, ...]:
    """Two small marks in corners that lie across from each other: cross-hairs for the scanner, which stand outside."""
    small = [mark for mark in page.marks if max(mark.width, mark.height) <= TARGET]
    corners: dict[tuple[bool, bool], Box] = {}
    for mark in small:
        across, down = mark.middle
        right, low = across > page.width / 2, down > page.height / 2
        if min(across, page.width - across) <= CORNER and min(down, page.height - down) <= CORNER:
            corners[right, low] = mark
    pairs = (((False, False), (True, True)), ((True, False), (False, True)))
    return tuple(corners[one] for a, b in pairs if a in corners and b in corners for one in (a, b))


def _without_header(marks: list[Box], depth: float) -> list[Box]:
    low = [mark for mark in marks if mark.bottom <= depth and mark.height <= LINE_HEIGHT]
    rest = [mark for mark in marks if mark not in low]
    if not rest or any(mark.bottom + LINE_GAP > min(other.top for other in rest) for mark in low):
        return marks
    return rest


def _numbers_in_margin(page: Page, depth: float) -> Iterator[Line]:
    for line in page.lines:
        text = flat(line.text)
        up_there = line.visible and line.turned == 0 and line.box.middle[1] < depth and len(words(text)) <= 3
        if up_there and (_SLASH.match(text) or _WORDED.search(text) or _BARE_OF.match(text)):
            yield line


def _inside(mark: Box, box: Box) -> bool:
    """Whether a cluster lies in the height of a line and shares some of its width."""
    return box.top <= mark.top and mark.bottom <= box.bottom and mark.touches(box)


def _beside(mark: Box, box: Box) -> bool:
    """The same for a line that runs down."""
    return box.left <= mark.left and mark.right <= box.right and mark.touches(box)
