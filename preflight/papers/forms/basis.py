"""On which basis micro entity status is certified, and on which another paper says that it is."""

from __future__ import annotations

import re
from typing import Literal

import msgspec

from preflight.papers.forms.letters import sentences
from preflight.papers.forms.ticks import Choice, choices, marks_on
from preflight.papers.model import Paper, Said
from preflight.papers.roles.form_numbers import form_number, whole_text
from preflight.papers.words.lettering import Row, keyed, rows
from preflight.papers.words.printed import lines_on

Basis = Literal["income", "institution"]

HEADING_WORDS = 16
"""A row that names the basis of the form has at most so many words. House value."""
INCOME = r"\bgross income\b|\bincome basis\b"
INSTITUTION = r"\binstitutions? of higher education\b|\b(?:education|institution(?:al)?) basis\b"
EMPLOYED, GIVEN = r"\bemploy(?:er|ed|ment|s)?\b", r"\b(?:assign|convey|grant|give|licen[cs])\w*\b"
"""Folded words beside the boxes of a certification."""

_NUMBERS: dict[Basis, str] = {"income": r"SB/0?15A", "institution": r"SB/0?15B"}
_HEADED: dict[Basis, re.Pattern[str]] = {
    "income": re.compile(rf"{INCOME}|\bmes gib\b"),
    "institution": re.compile(rf"{INSTITUTION}|\bmes iheb\b"),
}
_HEADS = re.compile(r"\bcertif\w+\b|\bbasis\b|\bmes (?:gib|iheb)\b")
_OWN_BOXES: dict[Basis, tuple[str, ...]] = {"income": (INCOME,), "institution": (INSTITUTION, EMPLOYED, GIVEN)}
_OTHER_BOX: dict[Basis, str] = {"income": INSTITUTION, "institution": INCOME}
_DENIED = re.compile(r"\b(?:not|no|neither|nor|without)\b")

_BOXED: dict[Basis, str] = {
    "income": rf"\bsb 0?15a\b(?! (?:or|and) )|{INCOME}",
    "institution": rf"(?<! or pto )\bsb 0?15b\b|{INSTITUTION}",
}
_EITHER = re.compile(r"15A\s*(?:or|and|and/or|/|,)\s*(?:form\s+)?(?:(?:PTO/)?SB/0?)?(?:15)?B\b", re.IGNORECASE)
_SPOKEN: dict[Basis, re.Pattern[str]] = {
    "income": re.compile(
        r"\b(?:PTO/)?SB/0?15A\b|\bmicro[- ]entity\b[^.;]{0,60}?\bgross[- ]income(?: basis)?\b", re.IGNORECASE
    ),
    "institution": re.compile(
        r"\b(?:PTO/)?SB/0?15B\b|\bmicro[- ]entity\b[^.;]{0,60}?\binstitutions? of higher education(?: basis)?\b",
        re.IGNORECASE,
    ),
}


class BasisSaid(msgspec.Struct, frozen=True):
    """A basis and the words that name it."""

    name: Basis
    place: Said


def basis_of(paper: Paper) -> BasisSaid | None:
    """The basis of a certification: by the number or the heading of the form, else by the one box that is ticked.

    Where neither tells, by the phrase that comes first: both stand in the text of either form.
    """
    return _headed(paper) or _ticked(paper) or _first_named(paper)


def other_basis_ticked(paper: Paper, basis: Basis) -> Said | None:
    """The ticked box of the other basis, where those of the form's own basis are there and all empty."""
    own = [_box(paper, words) for words in _OWN_BOXES[basis]]
    other = _box(paper, _OTHER_BOX[basis])
    if any(one.tick == "ticked" for one in own) or not any(one.tick == "empty" for one in own):
        return None
    denied = other.place and _DENIED.search(keyed(other.place.value))
    return other.place if other.tick == "ticked" and not denied else None


def basis_stated(paper: Paper) -> BasisSaid | None:
    """The one basis that a cover sheet, a letter or a fee sheet names for the certification; None if both or neither.

    Where boxes offer a basis they alone speak.
    """
    text = sentences(paper)
    if text is None or _EITHER.search(text.text):
        return None
    boxes = {name: _box(paper, words) for name, words in _BOXED.items()}
    if any(one.tick in ("ticked", "empty") for one in boxes.values()):
        return _one([(name, one.place) for name, one in boxes.items() if one.tick == "ticked"])
    found = [(name, match) for name, pattern in _SPOKEN.items() if (match := pattern.search(text.text))]
    meant = [(name, m) for name, m in found if not _DENIED.search(keyed(text.row_before(m.start()) + m.group()))]
    return _one([(name, text.place(match.start(), match.group())) for name, match in meant])


def _one(found: list[tuple[Basis, Said | None]]) -> BasisSaid | None:
    name, place = found[0] if len(found) == 1 else (None, None)
    return BasisSaid(name, place) if name and place else None


def _box(paper: Paper, words: str) -> Choice:
    """One choice alone: among others a printed one without a box would count as empty."""
    return choices(paper, {"this": words})["this"]


def _headed(paper: Paper) -> BasisSaid | None:
    page = paper.pages[0]
    marked = [mark.box for mark in marks_on(paper, page)] + [square.box for square in page.squares]
    every = [row for row in rows(lines_on(paper, page)) if not any(box.touches(row.box) for box in marked)]
    numbered = [name for name, number in _NUMBERS.items() if form_number(page, number)]
    if len(numbered) == 1 and every:
        return BasisSaid(numbered[0], _said(paper, _with_number(every, numbered[0])))
    for row in every:
        folded = keyed(row.text)
        names = [name for name, pattern in _HEADED.items() if pattern.search(folded)]
        if len(names) == 1 and _HEADS.search(folded) and len(folded.split()) <= HEADING_WORDS:
            return BasisSaid(names[0], _said(paper, row))
    return None


def _with_number(every: list[Row], basis: Basis) -> Row:
    number = re.compile(_NUMBERS[basis], re.IGNORECASE)
    return next((row for row in every if number.search(row.text)), every[0])


def _ticked(paper: Paper) -> BasisSaid | None:
    boxes: list[tuple[Basis, Choice]] = [("income", _box(paper, INCOME)), ("institution", _box(paper, INSTITUTION))]
    return _one([(name, one.place) for name, one in boxes if one.tick == "ticked"])


def _first_named(paper: Paper) -> BasisSaid | None:
    page = paper.pages[0]
    text = whole_text(page)
    places = {name: found.start() for name, pattern in _HEADED.items() if (found := pattern.search(text))}
    if not places:
        return None
    first = min(places, key=lambda name: places[name])
    every = rows(lines_on(paper, page))
    row = next((row for row in every if _HEADED[first].search(keyed(row.text))), every[0] if every else None)
    return BasisSaid(first, _said(paper, row)) if row else None


def _said(paper: Paper, row: Row) -> Said:
    return Said(row.text, paper.file, paper.role, paper.pages[0].number, row.box)
