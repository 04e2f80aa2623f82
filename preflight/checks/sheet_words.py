"""What is written on the sheets of drawings besides characters, and which way it stands."""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterator, Sequence

import msgspec

from preflight.checks.api import Measured, NoLimits, Outcomes, Place, Seen, check
from preflight.checks.inside import listed
from preflight.checks.specification import place, unread
from preflight.checks.unreadable import each_sheet, unread_sheets
from preflight.facts import Page
from preflight.papers import (
    Drawn,
    FigureLabel,
    Filing,
    Paper,
    figure_labels,
    flat_text,
    labels_on,
    sheet_unread,
    strings_on,
)
from preflight.papers.specification.structure import specification, whole_text
from preflight.papers.words.old_art import LEGEND, called_old, spoken_of_as_old

NAMED = 6
"""So many words are shown, the rest is counted. House value."""


class Words(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The most words that a line of a legend may have; `top`: lines that begin higher (cm) identify the sheet."""

    most: int
    top: float


@check("few-words", of=Paper, takes=Words)
def few_words(paper: Paper, limit: Words) -> Outcomes:
    """Count the words of the longest line on each sheet, identification and pictures left out."""
    yield from each_sheet(paper, lambda page: _longest_line(page, limit))


def _longest_line(page: Page, limit: Words) -> Outcomes:
    lines = [
        (len(re.findall(r"[^\W\d_]{2,}", one.text)), one)
        for one in strings_on(page)
        if one.box.top >= limit.top and not any(picture.box.holds_middle_of(one.box) for picture in page.pictures)
    ]
    if lines:
        number, one = max(lines, key=lambda line: line[0])
        at = Place(page=page.number, box=one.box)
        yield Measured(what="line on the sheet", value=number, unit="words", most=limit.most, at=at)


@check("sheets-in-english", of=Paper, takes=NoLimits)
def sheets_in_english(paper: Paper, _: NoLimits) -> Outcomes:
    """Look for words of the sheets in letters that are neither Latin nor Greek; in pictures they cannot be told."""
    yield from each_sheet(paper, _foreign)


def _foreign(page: Page) -> Outcomes:
    own = [one for one in strings_on(page) if one.reading is None]
    words = [(word, one) for one in own for word in re.findall(r"[^\W\d_]{2,}", one.text)]
    strange = [(word, one) for word, one in words if any(_is_foreign(letter) for letter in word)]
    if words:
        yield Seen(
            what="words",
            held=not strange,
            measured=listed((word for word, _ in strange), NAMED),
            at=Place(page=page.number, box=(strange or words)[0][1].box),
            also=tuple(Place(page=page.number, box=one.box) for _, one in strange[1:]),
        )


def _is_foreign(letter: str) -> bool:
    known = ("LATIN", "GREEK", "MICRO", "OHM", "ANGSTROM", "FEMININE", "MASCULINE", "MODIFIER")
    return not unicodedata.name(letter, "LATIN").startswith(known)


class Standing(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """So many strings must be written, and so great a share of them, before a sheet is told to stand on its head."""

    least: int
    share: float


@check("views-stand-alike", of=Paper, takes=Standing, sorts=("upside down", "top at left"))
def views_stand_alike(paper: Paper, limit: Standing) -> Outcomes:
    """See which way the labels of the views stand on each sheet, and whether most of it stands a wrong way."""
    yield from each_sheet(paper, lambda page: _standing(page, limit))


def _standing(page: Page, limit: Standing) -> Outcomes:
    written = [one for one in strings_on(page) if re.search(r"\w", one.text)]
    wrong = next((way for way in (180, 270) if _is_most(written, way, limit)), None)
    labels = labels_on(page)
    ways = sorted({label.turned for label in labels})
    at = tuple(Place(page=page.number, box=one.box) for one in (labels or written))
    if wrong:
        sort = "upside down" if wrong == 180 else "top at left"
        first = next(one for one in written if one.turned == wrong)
        yield Seen(what="sheet", held=False, measured=sort, sort=sort, at=Place(page=page.number, box=first.box))
    elif labels:
        names = listed((f"FIG. {label.name}" for label in labels), NAMED)
        yield Seen(what="views", held=len(ways) == 1, measured=names, at=at[0], also=at[1:])


def _is_most(written: Sequence[Drawn], way: int, limit: Standing) -> bool:
    number = sum(one.turned == way for one in written)
    return number >= limit.least and number >= limit.share * len(written)


_DIMENSION = re.compile(
    r"[\u00d8\u2300\u2205]\s?\d+(?:[.,]\d+)?(?:\s?mm)?|\d+(?:[.,]\d+)?\s?(?:mm|cm|in\.|\"|\u2033)"
    r"|(?:[\u00d8\u2300\u2205]\s?)?\d+(?:[.,]\d+)?\s?\u00b1\s?\d*(?:[.,]\d+)?(?:\s?mm)?"
)
"""A length with its unit, a diameter, a tolerance."""


class Dimensions(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The most dimensions of a sheet that are let pass, if the text does not give them."""

    most: int


@check("few-dimensions", of=Filing, takes=Dimensions)
def few_dimensions(filing: Filing, limit: Dimensions) -> Outcomes:
    """Count the dimensions and tolerances on each sheet, without those that the text gives as well."""
    yield from unread_sheets(filing)
    found = specification(filing)
    text = whole_text(found) if found else None
    said = re.sub(r"\s", "", text.text) if text else ""
    for paper in filing.with_role("drawings"):
        for page in (one for one in paper.pages if not sheet_unread(one) and strings_on(one)):
            every = [one for one in strings_on(page) if one.sure and _DIMENSION.fullmatch(flat_text(one.text))]
            strange = [one for one in every if re.sub(r"\s", "", flat_text(one.text)) not in said]
            places = [Place(file=paper.file, page=page.number, box=one.box, role=paper.role) for one in strange]
            at = places[0] if places else Place(file=paper.file, page=page.number, role=paper.role)
            yield Measured(what="sheet", value=len(strange), unit="dimensions", most=limit.most, at=at)


_COPYRIGHT = re.compile(
    r"\u00a9|\bcopyright\b.*(?:\(c\)|\b(?:19|20)\d\d\b)|\(c\)\s*(?:copyright\b|(?:19|20)\d\d\b)"
    r"|\bmask work\b|\u24c2|\*M\*",
    re.IGNORECASE,
)
"""A notice of 17 USC 401 or 909; "Copyright" alone may be a word of the figure, "(c)" the letter of one."""


class Notice(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Least and greatest height of the letters in cm, the reading errors, the top margin, and the words that allow it.

    `outline` and `scan`: how far a height may be misread in characters and in pictures.
    """

    least: float
    most: float
    outline: float
    scan: float
    top: float
    words: str


@check("copyright-on-sheets", of=Filing, takes=Notice, sorts=("paragraph", "margin"))
def copyright_on_sheets(filing: Filing, limit: Notice) -> Outcomes:
    """Look for notices of copyright on the sheets: their paragraph in the text, their place, their height."""
    yield from unread_sheets(filing)
    found = specification(filing)
    text = whole_text(found) if found else None
    blind = list(unread(found)) if found else []
    for paper in filing.with_role("drawings"):
        for page in paper.pages:
            some = [one for one in strings_on(page) if _COPYRIGHT.search(one.text)]
            yield from blind if some else ()
            for one in some:
                at = Place(file=paper.file, page=page.number, box=one.box, role=paper.role)
                yield from _notice(one, at, text.text if text and not blind else None, limit)
            if not some and page.ink:
                at = Place(file=paper.file, page=page.number, role=paper.role)
                yield Seen(what="sheet", held=True, measured="no notice", at=at)


def _notice(one: Drawn, at: Place, text: str | None, limit: Notice) -> Outcomes:
    said = f'"{flat_text(one.text)}"'
    if text is not None:
        allowed = limit.words in flat_text(text).casefold()
        yield Seen(what="notice", held=allowed, measured=said, sort="" if allowed else "paragraph", at=at)
    inside = not (one.turned == 0 and one.box.middle[1] < limit.top)
    yield Seen(what="notice", held=inside, measured=said, sort="" if inside else "margin", at=at)
    if one.height and inside:
        slack = limit.outline if one.reading is None else limit.scan
        yield Measured(
            what="notice of copyright",
            value=one.height,
            unit="cm",
            least=limit.least,
            most=limit.most,
            slack=slack,
            at=at,
        )


@check("old-art-labelled", of=Filing, takes=NoLimits, sorts=("text silent",), says=("figure",))
def old_art_labelled(filing: Filing, _: NoLimits) -> Outcomes:
    """Compare the figures that the text calls prior art with those that are labelled so on the sheets."""
    found = specification(filing)
    text = whole_text(found) if found else None
    if found is None or text is None or not filing.with_role("drawings"):
        return
    yield from unread(found)
    labelled = {label.name: (paper, label, legend) for paper, label, legend in _labelled(filing)}
    old = dict(reversed(list(called_old(text.text))))
    missing = [name for name in old if name not in labelled]
    if missing and (blind := unread_sheets(filing)):
        yield from blind
        return
    for name, start in old.items():
        if name in labelled:
            yield _said(name, held=labelled[name][2], at=place(text.at(start)), sort="")
    for name, (paper, label, legend) in labelled.items():
        if legend and name not in old:
            at = Place(file=paper.file, page=label.page, box=label.box, role=paper.role)
            held = spoken_of_as_old(text.text, name)
            yield _said(name, held=held, at=at, sort="" if held else "text silent")


def _said(name: str, *, held: bool, at: Place, sort: str) -> Seen:
    return Seen(what="figure", held=held, measured=f"FIG. {name}", at=at, sort=sort, words={"figure": f"FIG. {name}"})


def _labelled(filing: Filing) -> Iterator[tuple[Paper, FigureLabel, bool]]:
    """Each view of the sheets and whether a legend stands in its label or nearest to it."""
    for paper in filing.with_role("drawings"):
        pages = {page.number: page for page in paper.pages}
        for label in figure_labels(paper):
            page = pages[label.page]
            legends = [one for one in strings_on(page) if LEGEND.search(one.text)]
            others = labels_on(page)
            own = any(min(others, key=lambda other: _apart(other, one)).box == label.box for one in legends)
            yield paper, label, own or bool(LEGEND.search(label.text))


def _apart(label: FigureLabel, one: Drawn) -> float:
    (x, y), (u, v) = label.box.middle, one.box.middle
    return math.hypot(x - u, y - v)
