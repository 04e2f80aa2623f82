"""What a cover sheet and a data sheet say about people, parts and editions, field by field.

What only a picture seems to say is never held against anybody: it is met, or a person is asked to look.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal

import msgspec

from preflight.checks.api import Measured, NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.places import of_paper, of_said
from preflight.checks.presence import might_be
from preflight.facts import Box
from preflight.papers import (
    Asked,
    CoverSheet,
    Filing,
    Inventor,
    Paper,
    Said,
    agreement,
    benefit_said,
    blanks,
    cover_sheet,
    enclosed,
    flat_text,
    further_sheets,
    headings_missing,
    inventors,
    pictured,
    serves_as_cover_sheet,
    sheets_of_inventors,
)

_NOBODY = re.compile(r"^(?:none|no|n/?a|not applicable|pro se|-+|the applicant|inventor)?\.?$", re.IGNORECASE)
_LIVES = re.compile(
    r"\b(?:resid\w+|liv(?:e|es|ing) (?:in|at)|citizens?|domicil\w+|located (?:in|at)|of the city of)\b", re.I
)
FEWEST = 3
"""A form that bears fewer of the headings is not built by them. House value."""
_NUMBER = re.compile(r"[1-9]\d{4,5}|L\d{3,5}")
"""Five or six digits (from memory); "L" and a number for limited recognition."""


class Complete(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Which places of the form must be filled in, and which part of each inventor that is started."""

    fields: tuple[Asked, ...]
    part: Literal["names", "residence"]


@check("inventors-complete", of=Filing, takes=Complete, says=("field",))
def inventors_complete(filing: Filing, wanted: Complete) -> Outcomes:
    """See whether the places for inventors are filled in for each who is started. What is not asked is not missed.

    A letter that alone stands for the cover sheet must itself say where each lives.
    """
    sheets = filing.with_role("cover-sheet", "application-data-sheet")
    letters = () if sheets else serves_as_cover_sheet(filing)
    for paper in (*sheets, *letters):
        yield from _people_complete(paper, wanted, alone=paper.kind == "letter")


def _people_complete(paper: Paper, wanted: Complete, *, alone: bool) -> Outcomes:
    seen = pictured(paper) if not paper.fields else None
    read = seen.paper if seen else paper
    sheet = cover_sheet(read) if alone else None
    people = inventors(read) or (sheet.inventors if sheet else ())
    silent = "residence" if alone and wanted.part == "residence" and not _tells_where(read, people) else ""
    lacking = [(one, what) for one in people if (what := _lacks(one, people, wanted.part) or silent)]
    if paper.unread:
        sure = bool(people) and not lacking and bool(seen and all(seen.sure(*_spot(one)) for one in people))
        words = f"; the scan seems to say {_words(people, wanted.part)}: look there" if people else ""
        first = next((one for one, _ in lacking), people[0]) if people else None
        page, box = _spot(first) if first else (0, None)
        here = _at(paper, page or paper.first_page, box)
        yield (
            Seen(what="inventor", held=True, measured="filled in", at=here, words={"field": wanted.part})
            if sure
            else Unread(why=f"{paper.text_unread}{words}", at=here)
        )
        return
    empty = [value for field in wanted.fields for value in blanks(paper, field)]
    for value in empty:
        yield Seen(
            what="field",
            held=bool(value.text) or any(one.residence or wanted.part == "names" for one in people),
            measured="filled in" if value.text else "left empty",
            at=_at(paper, value.page, value.box),
            words={"field": wanted.fields[0]},
        )
    for one in people:
        what = next((what for who, what in lacking if who is one), "")
        page, box = _spot(one)
        yield Seen(
            what="inventor",
            held=not what,
            measured="left empty" if what else "filled in",
            at=_at(paper, page or paper.first_page, box),
            words={"field": f"{what} of {one.name}" if what else wanted.part},
        )


def _at(paper: Paper, page: int, box: Box | None = None) -> Place:
    return Place(file=paper.file, page=page, box=box, role=paper.role)


def _tells_where(paper: Paper, people: tuple[Inventor, ...]) -> bool:
    """Whether a letter says anything about where its inventors live, be it in words of its own."""
    text = " ".join(flat_text(line.text) for page in paper.pages for line in page.lines)
    return any(one.residence for one in people) or bool(_LIVES.search(text))


def _spot(one: Inventor) -> tuple[int, Box | None]:
    return (one.place.page, one.place.box) if one.place else (0, None)


def _words(people: tuple[Inventor, ...], part: str) -> str:
    said = (one.name if part == "names" else f"{one.name}, {one.residence or 'no residence'}" for one in people)
    return "; ".join(f'"{text}"' for text in said)


def _lacks(one: Inventor, people: tuple[Inventor, ...], part: str) -> str:
    """What a started inventor lacks that the form asks for, in words; empty for nothing."""
    if part == "names":
        asked = {"given", "family"} <= set(one.columns)
        return "" if not asked or (one.given and one.family) else "family name" if one.given else "given name"
    columns = {"residence", "city", "region"} & set(one.columns)
    shared = any(other.residence and other.place == one.place for other in people)
    if not one.residence and shared:
        return ""  # "A and B, both of Portland, Oregon"
    if not one.residence:
        return "residence" if columns or any(other.residence for other in people) else ""
    if {"city", "region"} <= columns:
        return "" if one.city and one.region else "state or country" if one.city else "city"
    alone = one.city and not one.region and len(one.residence.split()) == 1
    return "state or country" if alone else ""


@check("further-sheets", of=Paper, takes=NoLimits, says=("stated",))
def further_inventors(paper: Paper, _: NoLimits) -> Outcomes:
    """Compare the sheets of additional inventors that the form states with the pages that name inventors."""
    if paper.unread:
        yield Unread(why=paper.unread, at=Place(page=paper.first_page))
        return
    stated = further_sheets(paper)
    if stated:
        yield Measured(
            what="sheets of additional inventors",
            value=sheets_of_inventors(paper),
            unit="sheets",
            least=stated.number,
            most=stated.number,
            at=of_said(stated.place),
            words={"stated": str(stated.number)},
        )


@check("practitioner-number", of=Paper, takes=NoLimits, sorts=("no number", "form"), says=("practitioner",))
def practitioner_number(paper: Paper, _: NoLimits) -> Outcomes:
    """Where a practitioner is named, look for the registration number and at its form."""
    sheet = cover_sheet(paper)
    seen = sheet.seems if sheet and sheet.unread else sheet
    if sheet is None or (seen and (seen.practitioner is None or _NOBODY.match(seen.practitioner.value.strip()))):
        return
    number = _number(seen) if seen else ""
    sort = "" if _NUMBER.fullmatch(number) else "form" if number else "no number"
    if sheet.unread and (sort or seen is None):
        named = (seen.practitioner_number or seen.practitioner) if seen else None
        words = f'; the scan seems to say "{named.value}": look there' if named else ""
        yield Unread(f"{sheet.unread}{words}", of_said(named) if named else of_paper(paper))
    elif seen and seen.practitioner:
        yield Seen(
            what="registration number",
            held=not sort,
            measured=f'"{number}"' if number else "none",
            sort=sort,
            at=of_said(seen.practitioner_number or seen.practitioner),
            words={"practitioner": seen.practitioner.value},
        )


def _number(sheet: CoverSheet) -> str:
    """The registration number as digits, from its own place or behind the name."""
    inside = re.search(r"\b(?:L\d{3,5}|\d[\d,]{3,7})\b", sheet.practitioner.value) if sheet.practitioner else None
    said = sheet.practitioner_number.value if sheet.practitioner_number else inside.group(0) if inside else ""
    return said.replace(",", "").strip()


@check("parts-enclosed", of=Filing, takes=NoLimits, sorts=("missing", "not ticked"), says=("part",))
def parts_enclosed(filing: Filing, _: NoLimits) -> Outcomes:
    """Hold the parts that the cover sheet ticks against the papers in the folder."""
    for paper in filing.with_role("cover-sheet"):
        if paper.unread:
            yield Unread(why=paper.unread, at=of_paper(paper))
            continue
        parts = enclosed(paper)
        for part in parts if any(one.choice.tick == "ticked" for one in parts) else ():
            there = bool(filing.with_role(part.role))
            ticked = part.choice.tick == "ticked"
            if ticked and not there and (unsure := might_be(filing)):
                yield from unsure
                continue
            yield Seen(
                what=part.role.replace("-", " "),
                held=there == ticked,
                measured="ticked" if ticked else "not ticked",
                sort="" if there == ticked else "missing" if ticked else "not ticked",
                at=of_said(part.choice.place) if part.choice.place else of_paper(paper),
                words={"part": part.role.replace("-", " ")},
            )


class Edition(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The newest edition known, as year and month: "2022-12"."""

    newest: str


@check("form-edition", of=Paper, takes=Edition)
def form_edition(paper: Paper, known: Edition) -> Outcomes:
    """Compare the edition that the office's form prints, "(mm-yy)", with the newest known. Other forms have none."""
    sheet = cover_sheet(paper)
    if sheet is None:
        return
    if sheet.unread:
        yield Unread(why=sheet.unread, at=Place(page=paper.first_page))
    elif sheet.edition:
        month, year = sheet.edition.split("-")
        edition = f"{int(year) % 100 + 2000}-{int(month):02d}"
        yield Seen(
            what="edition",
            held=edition >= known.newest,
            measured=f"({sheet.edition})",
            required=known.newest,
            at=Place(page=paper.first_page),
        )


class Headings(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Words that must head a part of the form."""

    words: tuple[str, ...]


@check("headings-there", of=Paper, takes=Headings, says=("missing",))
def headings_there(paper: Paper, wanted: Headings) -> Outcomes:
    """See whether the form bears its name and the headings of its sections."""
    if paper.unread:
        yield Unread(why=paper.unread, at=Place(page=paper.first_page))
        return
    missing = headings_missing(paper, wanted.words)
    if len(wanted.words) - len(missing) < FEWEST:
        return  # a sheet of another make, whose parts are headed otherwise or not at all
    yield Seen(
        what="headings",
        held=not missing,
        measured=f"without {', '.join(missing)}" if missing else "all there",
        at=Place(page=paper.first_page),
        words={"missing": ", ".join(missing)},
    )


@check("sheets-agree", of=Filing, takes=NoLimits, says=("what", "other"))
def sheets_agree(filing: Filing, _: NoLimits) -> Outcomes:
    """Compare customer number, registration number and residences of data sheets with those of the cover sheet.

    Titles, docket numbers and names are compared on all papers by other checks.
    """
    first = next((sheet for paper in filing.with_role("cover-sheet") if (sheet := cover_sheet(paper))), None)
    for paper in filing.with_role("application-data-sheet"):
        sheet = cover_sheet(paper)
        if first is None or sheet is None:
            continue
        if why := first.unread or sheet.unread:
            yield Unread(why=why, at=of_paper(first.paper if first.unread else paper))
            continue
        for what, ours, theirs in _pairs(sheet, first):
            yield Seen(
                what=what,
                held=_folded(ours.value) == _folded(theirs.value),
                measured=f'"{ours.value}"',
                required=f'"{theirs.value}"',
                at=of_said(ours),
                also=(of_said(theirs),),
                words={"what": what, "other": theirs.file},
            )


def _pairs(sheet: CoverSheet, first: CoverSheet) -> Iterator[tuple[str, Said, Said]]:
    for what, ours, theirs in (
        ("customer number", sheet.customer_number, first.customer_number),
        ("registration number", sheet.practitioner_number, first.practitioner_number),
    ):
        if ours and theirs:
            yield what, ours, theirs
    for one in sheet.inventors:
        for other in first.inventors:
            if agreement(one.name, other.name) == "same" and one.city and other.city and one.place and other.place:
                yield (
                    f"city of {other.name}",
                    msgspec.structs.replace(one.place, value=one.city),
                    msgspec.structs.replace(other.place, value=other.city),
                )


def _folded(text: str) -> str:
    return re.sub(r"[\W_]+", "", flat_text(text)).casefold()


def benefit_on_forms(filing: Filing) -> Outcomes:
    """Look on cover sheet, data sheet and letter for the number of an application whose benefit is claimed."""
    for paper in filing.with_role("cover-sheet", "application-data-sheet", "letter"):
        if paper.unread:
            if paper.role == "application-data-sheet":  # the others keep no place for it
                yield Unread(why=paper.unread, at=of_paper(paper))
            continue
        found = list(benefit_said(paper))
        if found:  # number, date and kind of one earlier application are one claim
            also = tuple(of_said(said) for said in found[1:])
            yield Seen(what="claim", held=False, measured=f'"{found[0].value}"', at=of_said(found[0]), also=also)
        else:
            yield Seen(what="claim", held=True, measured="none", at=of_paper(paper))
