"""What the forms must say, against what they say and against the other papers."""

from __future__ import annotations

import re
from collections.abc import Sequence

import msgspec

from preflight.checks.api import Measured, NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.places import of_paper, of_said
from preflight.papers import (
    Asked,
    Count,
    CoverSheet,
    Filing,
    Paper,
    Said,
    agreement,
    blanks,
    cover_sheet,
    names_on,
    names_said,
    pictured,
    private_numbers,
    signing,
    value_at,
)
from preflight.papers.forms.form_words import AGENCY, CONTRACT

_SUPPORTED = re.compile(
    r"\bgovernment (?:has|have|may have|retains) certain rights\b"
    r"|\b(?:with|under) (?:U\.?S\.? |United States )?government support\b",
    re.IGNORECASE,
)
"""The usual sentences of a statement of support; a heading with "not applicable" holds neither."""


def _of_cover(sheet: CoverSheet, said: Said | None = None) -> Place:
    if said:
        return Place(file=said.file, page=said.page, box=said.box, role=said.role)
    return of_paper(sheet.paper)


class Fields(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What must be filled in."""

    fields: tuple[Asked, ...]


@check("fields-filled", of=Paper, takes=Fields, says=("field",))
def fields_filled(paper: Paper, wanted: Fields) -> Outcomes:
    """See whether the places that a form keeps for something are filled in. What it does not ask for is not missed."""
    if paper.unread:
        yield from _seems_filled(paper, wanted)
        return
    for field in wanted.fields:
        for value in blanks(paper, field):
            yield Seen(
                what="field",
                held=bool(value.text),
                measured="filled in" if value.text else "left empty",
                at=Place(page=value.page, box=value.box),
                words={"field": field},
            )


def _seems_filled(paper: Paper, wanted: Fields) -> Outcomes:
    """Of a picture a place is met where its text was read for sure; else a person has to look."""
    seen = pictured(paper)
    for field in wanted.fields:
        found = next((v for v in (blanks(seen.paper, field) if seen else ()) if v.text), None)
        at = Place(page=found.page if found else paper.first_page, box=found.box if found else None)
        if seen and found and seen.sure(found.page, found.box):
            yield Seen(what="field", held=True, measured="filled in", at=at, words={"field": field})
        else:
            words = f'; the scan seems to say "{found.text}": look there' if found else ""
            yield Unread(why=f"{paper.text_unread}{words}", at=at)


@check("government-answer", of=Filing, takes=NoLimits, sorts=("not named",))
def government_answer(filing: Filing, _: NoLimits) -> Outcomes:
    """Where the text states that the government supported the work, hold the answer on the cover sheet against it."""
    sheet = cover_sheet(filing)
    told = [place for paper in filing.with_role("specification") for place in _support(paper)]
    if sheet and sheet.government and sheet.government.value == "yes":
        yield from _named(sheet)
    if sheet is None or not told:
        return
    answer = sheet.government.value if sheet.government else "unanswered"
    at = _of_cover(sheet, sheet.government.place if sheet.government else None)
    if sheet.unread or answer == "unreadable":
        yield Unread(why=sheet.unread or "the answer to the question about the government cannot be told", at=at)
    else:
        said = {"yes": "yes", "no": "no"}.get(answer, "not answered")
        yield Seen(what="answer", held=answer == "yes", measured=said, at=at, also=tuple(told[:1]))


def _named(sheet: CoverSheet) -> Outcomes:
    """Whether the places for the agency and the contract are filled in beside the answer yes."""
    for what, label in (("agency", AGENCY), ("contract number", CONTRACT)):
        value = value_at(sheet.paper, label)
        if value:
            at = Place(file=sheet.paper.file, page=value.page, box=value.box, role=sheet.paper.role)
            sort = "" if value.text else "not named"
            yield Seen(what=what, held=not sort, measured="left empty" if sort else value.text, sort=sort, at=at)


def _support(paper: Paper) -> list[Place]:
    return [
        Place(file=paper.file, page=page.number, box=line.box, role=paper.role)
        for page in paper.pages
        for line in page.lines
        if line.visible and _SUPPORTED.search(line.text)
    ]


@check("stated-counts", of=Filing, takes=NoLimits, sorts=("fewer", "more"), says=("stated",))
def stated_counts(filing: Filing, _: NoLimits) -> Outcomes:
    """Compare the pages and sheets that the cover sheet states with those in the folder."""
    sheet = cover_sheet(filing)
    if sheet is None:
        return
    seen = sheet.seems if sheet.unread else sheet
    if seen is None or (sheet.unread and not (seen.pages or seen.sheets)):
        yield Unread(why=sheet.unread or "", at=_of_cover(sheet))
        return
    lengths = [sum(len(p.pages) for p in filing.with_role(role)) for role in ("specification", "claims", "abstract")]
    sums = {lengths[0], lengths[0] + lengths[1], lengths[0] + lengths[2], sum(lengths)}
    drawings = [p for p in filing.papers if p.kind == "drawing"]
    if seen.pages:
        yield _counted("pages", sheet, seen.pages, sums, filing.with_role("specification"))
    if seen.sheets:
        yield _counted("sheets", sheet, seen.sheets, {sum(len(p.pages) for p in drawings)}, drawings)


def _counted(
    what: str, sheet: CoverSheet, stated: Count, there: set[int], papers: Sequence[Paper]
) -> Measured | Unread:
    """The fault is that of the paper whose pages are fewer or more, where there is one. A scan is only acquitted."""
    if sheet.unread and stated.number not in there:
        return Unread(
            why=f"the scan seems to state {stated.number} {what}: look there", at=_of_cover(sheet, stated.place)
        )
    nearest = min(there, key=lambda n: abs(n - stated.number))
    on_cover = _of_cover(sheet, stated.place)
    at = Place(file=papers[0].file, role=papers[0].role) if papers else on_cover
    return Measured(
        what=what,
        value=nearest,
        unit=what,
        least=stated.number,
        most=stated.number,
        sort="fewer" if nearest < stated.number else "more" if nearest > stated.number else "",
        at=at,
        shown=(on_cover,) if papers else (),
        words={"stated": str(stated.number)},
    )


@check("names-agree", of=Filing, takes=NoLimits, sorts=("spelling", "other", "signer"), says=("other",))
def names_agree(filing: Filing, _: NoLimits) -> Outcomes:
    """Compare the inventors on every paper with those on the first. Initials against full names are left alone."""
    first, *others = names_said(filing) or ((),)
    forms = filing.with_role("cover-sheet", "application-data-sheet", "entity-certification")
    scans = [paper for paper in forms if paper.unread]
    for paper in scans:
        yield from _seems_named(paper, first or _seem_named_elsewhere(paper, scans))
    for names in others:
        for said in names:
            found = [agreement(said.value, known.value) for known in first]
            same = any(one in ("same", "initials") for one in found)
            near = next((known for known, one in zip(first, found, strict=True) if one == "spelling"), first[0])
            yield Seen(
                what="inventor",
                held=same,
                measured=f'"{said.value}"',
                required=f'"{near.value}"',
                sort="" if same else "spelling" if "spelling" in found else "other",
                at=Place(file=said.file, page=said.page or None, box=said.box, role=said.role),
                words={"other": near.file},
            )
    yield from _signers_spelled(filing, first)


def _signers_spelled(filing: Filing, known: Sequence[Said]) -> Outcomes:
    """Whether a signer who can only be one of the inventors is spelled as that one. Others need be none.

    A slip in a signature leaves it valid where the person is plain.
    """
    for paper in filing.with_role("entity-certification", "cover-sheet", "application-data-sheet", "letter"):
        for one in signing(paper).signatures:
            said = one.name
            found = {agreement(said.value, other.value): other for other in known} if said else {}
            if said and "spelling" in found and not {"same", "initials"} & set(found):
                yield Seen(
                    what="inventor",
                    held=False,
                    measured=f'"{said.value}"',
                    required=f'"{found["spelling"].value}"',
                    sort="signer",
                    at=of_said(said),
                    words={"other": found["spelling"].file},
                )


def _seem_named_elsewhere(paper: Paper, scans: Sequence[Paper]) -> tuple[Said, ...]:
    """The names on the other scans; of the paper that names most, only those that another one names too can agree."""
    each = {other.file: names_on(seen.paper) for other in scans if (seen := pictured(other))}
    most = max(each.values(), key=len, default=())
    mine = each.get(paper.file, ())
    others = tuple(said for names in each.values() if names is not mine for said in names)
    return mine if others and mine is most else others


def _seems_named(paper: Paper, known: Sequence[Said]) -> Outcomes:
    """Of a picture names are met where they are those of another paper; else a person has to look."""
    at = of_paper(paper)
    seen = pictured(paper)
    names = names_on(seen.paper) if seen else ()
    strange = [said for said in names if not any(agreement(said.value, one.value) == "same" for one in known)]
    if names and known and not strange:
        yield Seen(what="inventor", held=True, measured=f'"{names[0].value}"', at=at)
    else:
        words = f'; the scan seems to name "{strange[0].value}": look there' if strange else ""
        yield Unread(why=f"{paper.text_unread}{words}", at=of_said(strange[0]) if strange else at)


@check("private-numbers", of=Paper, takes=NoLimits)
def no_private_numbers(paper: Paper, _: NoLimits) -> Outcomes:
    """Look for social security and payment card numbers. The digits are never repeated."""
    found = list(private_numbers(paper))
    for one in found:
        yield Seen(what="number", held=False, measured=one.kind, at=Place(page=one.page, box=one.box))
    if not found and (why := paper.text_unread):
        yield Unread(why=why, at=Place(page=paper.first_page))
    elif not found:
        yield Seen(what="number", held=True, measured="none", at=Place(page=paper.first_page))
