"""Signatures: their form, who signs, the name and number beside them, the date."""

from __future__ import annotations

import re
from collections.abc import Iterator

import msgspec

from preflight.checks.api import NoLimits, Outcome, Outcomes, Place, Seen, Unread, check
from preflight.checks.places import of_paper, of_said
from preflight.papers import (
    Certification,
    Filing,
    Paper,
    Signature,
    Value,
    agreement,
    certification,
    cover_sheet,
    days_written,
    mixed,
    pictured,
    serves_as_cover_sheet,
    signing,
    value_at,
)
from preflight.papers.forms.applicants import organisation_applicant
from preflight.papers.forms.form_words import DATE

COVERING = ("cover-sheet", "application-data-sheet", "letter")
SIGNED_PAPERS = ("cover-sheet", "application-data-sheet", "letter", "entity-certification", "power-of-attorney")
"""Papers on which a signature may stand."""
DATE_REACH = 2.5
"""A date belongs to the signature at most so many cm above it. House value."""
_DATE_ALONE = re.compile(
    r"(?:dated?:?\s*)?(?:[A-Za-z]{3,9}\.?\s+)?\d{1,4}[\s,./\-]+(?:[A-Za-z]{3,9}\.?,?[\s\-]+)?\d{1,4}(?:[\s,./\-]+\d{2,4})?",
    re.I,
)
_WORDS = {
    "slashes": "not one slash on each side",
    "empty": "no letter or numeral",
    "characters": "characters that may not stand there",
    "name": "no name in print",
}


class Flaws(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The flaws of a typed signature that are looked for: slashes, empty, characters, name."""

    flaws: tuple[str, ...]


def _of(paper: Paper, signature: Signature) -> Place:
    return Place(file=paper.file, page=signature.page, box=signature.box, role=paper.role)


@check("typed-signatures", of=Paper, takes=Flaws, says=("flaw",))
def typed_signatures(paper: Paper, wanted: Flaws) -> Outcomes:
    """Judge the form of each typed signature: slashes, what stands between them, the name in print.

    Ink, a certificate or the mark of signing software is no typed signature; a scan is only acquitted.
    """
    signed = signing(paper)
    if signed.kind == "unread":
        seen = pictured(paper)
        good = seen is not None and signing(seen.paper).signed is True
        at = of_paper(paper)
        yield Seen(what="signature", held=True, measured="typed", at=at) if good else Unread(why=signed.why, at=at)
    elif signed.kind == "bare" and signed.place:
        if "slashes" in wanted.flaws:
            yield _judged(f'"{signed.place.value}"', "slashes", of_said(signed.place), held=False)
    elif signed.kind == "typed":
        for one in signed.signatures:
            yield _judged(
                f'"{one.written}"', one.fault or "slashes", _of(paper, one), held=one.fault not in wanted.flaws
            )


def _judged(shown: str, flaw: str, at: Place, *, held: bool) -> Seen:
    return Seen(what="signature", held=held, measured=shown, at=at, words={"flaw": _WORDS[flaw]})


class SignedPapers(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The roles of papers that need a signature, and of those that keep a place for one and should bear it."""

    needed: tuple[str, ...]
    kept: tuple[str, ...] = ()


@check("signed-at-all", of=Filing, takes=SignedPapers, sorts=("cover",))
def signed_at_all(filing: Filing, wanted: SignedPapers) -> Outcomes:
    """See whether anything stands in the place of the signature: typed, ink, a certificate or the mark of software.

    A paper that serves as cover sheet should be signed where it keeps a place for it, unless another that serves so is.
    """
    for paper in filing.with_role(*wanted.needed):
        yield _signed_at_all(paper)
    covers = [(paper, signing(paper)) for paper in serves_as_cover_sheet(filing)]
    for paper, signed in covers:
        if paper.role not in wanted.kept or not (signed.place or signed.kind == "unread"):
            continue
        another = any(other.signed is not False for one, other in covers if one is not paper)
        if signed.kind != "nothing" or not another:
            yield _signed_at_all(paper, "cover")


def _signed_at_all(paper: Paper, sort: str = "") -> Outcome:
    signed = signing(paper)
    at = of_said(signed.place) if signed.place else of_paper(paper)
    if signed.kind == "unread":
        return Unread(why=signed.why, at=at, light=bool(sort))
    held = signed.kind != "nothing"
    return Seen(what="signature", held=held, measured=signed.why, at=at, sort="" if held else sort)


@check("practitioner-signs-with-number", of=Filing, takes=NoLimits, sorts=("no inventor",))
def practitioner_signs_with_number(filing: Filing, _: NoLimits) -> Outcomes:
    """Where the practitioner of the cover sheet signs, look for a registration number beside the signature.

    Somebody else who is neither inventor nor applicant can only be one, too.
    """
    sheet = cover_sheet(filing)
    if sheet and sheet.unread:
        yield Unread(why=sheet.unread, at=of_paper(sheet.paper))
        return
    if sheet is None:
        return
    people = [one.name for one in sheet.inventors] + ([sheet.applicant.value] if sheet.applicant else [])
    for paper, one in _typed(filing):
        name = one.name.value if one.name else one.text
        known = sheet.practitioner is not None and _same(name, sheet.practitioner.value)
        stranger = bool(sheet.inventors) and paper.role in COVERING
        if (known or stranger) and not any(_same(name, person) for person in people):
            held = one.registration is not None
            sort = "" if held or known else "no inventor"
            yield Seen(what="signature", held=held, measured=f'"{one.written}"', at=_of(paper, one), sort=sort)


def _typed(filing: Filing) -> Iterator[tuple[Paper, Signature]]:
    """Every typed signature of proper form."""
    for paper in filing.with_role(*SIGNED_PAPERS):
        for one in signing(paper).signatures:
            if one.fault is None:
                yield paper, one


def _same(name: str, other: str) -> bool:
    return agreement(name, other) != "other"


@check("one-kind-of-signature", of=Paper, takes=NoLimits)
def one_kind_of_signature(paper: Paper, _: NoLimits) -> Outcomes:
    """Look for ink beside a typed signature."""
    if why := paper.text_unread:
        yield Unread(why=why, at=of_paper(paper))
        return
    for one in signing(paper).signatures:
        page = next(page for page in paper.pages if page.number == one.page)
        yield Seen(what="signature", held=not mixed(page, one), measured=f'"{one.written}"', at=_of(paper, one))


@check("organisation-signs", of=Filing, takes=NoLimits, says=("applicant",))
def organisation_signs(filing: Filing, _: NoLimits) -> Outcomes:
    """Where the applicant is an organisation, look for a practitioner's number beside each typed signature."""
    sheet = cover_sheet(filing)
    if sheet and sheet.unread:
        yield Unread(why=sheet.unread, at=of_paper(sheet.paper))
        return
    applicant = organisation_applicant(filing)
    if sheet is None or applicant is None:
        return
    practitioner = sheet.practitioner.value if sheet.practitioner else ""
    for paper, one in _typed(filing):
        name = one.name.value if one.name else one.text
        yield Seen(
            what="signature",
            held=bool(one.registration) or bool(practitioner and _same(name, practitioner)),
            measured=f'"{one.written}"',
            at=_of(paper, one),
            words={"applicant": applicant.value},
        )


@check("all-sign", of=Filing, takes=NoLimits, says=("missing",))
def all_sign(filing: Filing, _: NoLimits) -> Outcomes:
    """Hold the signers of the certifications against the inventors, unless a practitioner signs or a power is there."""
    sheet = cover_sheet(filing)
    every = [certification(paper) for paper in filing.with_role("entity-certification")]
    signed = [one for one in every if one.signing.kind not in ("nothing", "unread", "bare")]
    if sheet is None or not every:
        return
    unread = next((one for one in every if one.signing.kind == "unread"), None)
    if sheet.unread or unread:
        paper = sheet.paper if sheet.unread else unread.paper if unread else sheet.paper
        yield Unread(why=sheet.unread or (unread.signing.why if unread else ""), at=of_paper(paper))
        return
    numbered = any(s.registration for one in signed for s in one.signing.signatures)
    if not signed or len(sheet.inventors) < 2 or numbered or filing.with_role("power-of-attorney"):
        return
    missing = _missing([one.name for one in sheet.inventors], signed)
    yield Seen(
        what="certification",
        held=not missing,
        measured=f"signed by {', '.join(_signers(signed)) or 'hand'}",
        at=of_paper(signed[0].paper),
        words={"missing": ", ".join(missing)},
    )


def _signers(signed: list[Certification]) -> list[str]:
    return [name for one in signed for name in one.signers]


def _missing(inventors: list[str], signed: list[Certification]) -> list[str]:
    """The inventors who have not signed; each paper signed by hand is taken to be one of those without a typed name."""
    by_hand = sum(not one.signers for one in signed)
    without = [name for name in inventors if not any(_same(name, signer) for signer in _signers(signed))]
    return without[by_hand:]


@check("signature-date", of=Filing, takes=NoLimits, sorts=("future", "other year"), says=("day",))
def signature_date(filing: Filing, _: NoLimits) -> Outcomes:
    """Compare the date beside a signature with the day of filing, on a certification with the year of the payment."""
    for paper in filing.with_role(*SIGNED_PAPERS):
        seen = pictured(paper)
        value = value_at(seen.paper if seen else paper, DATE) or (None if seen else _date_under(paper))
        days = days_written(value.text) if value else ()
        if value is None or not days:
            if paper.unread:
                yield Unread(why=paper.unread, at=of_paper(paper))
            continue
        at = Place(file=paper.file, page=value.page, box=value.box, role=paper.role)
        past = [day for day in days if day <= filing.filing_date]
        year = paper.role != "entity-certification" or any(day.year == filing.payment_date.year for day in past)
        sort = "" if past and year else "other year" if past else "future"
        if sort and seen:
            yield Unread(why=f'the scan seems to be dated "{value.text}": look there', at=at)
        else:
            yield Seen(
                what="date",
                held=not sort,
                measured=f'"{value.text}"',
                sort=sort,
                at=at,
                words={"day": filing.filing_date.isoformat()},
            )


def _date_under(paper: Paper) -> Value | None:
    """A line that is nothing but a date, right under or beside a signature: letters print no label."""
    at = signing(paper).place
    box = at.box if at else None
    page = next((page for page in paper.pages if at and page.number == at.page), None)
    if box is None or page is None:
        return None
    for line in page.lines:
        apart = line.box.middle[1] - box.middle[1]
        if line.visible and -0.3 <= apart <= DATE_REACH and _DATE_ALONE.fullmatch(line.text.strip()):
            return Value(line.text.strip(), page.number, line.box)
    return None


@check("data-sheet-signed", of=Filing, takes=NoLimits, sorts=("beside a cover sheet",))
def data_sheet_signed(filing: Filing, _: NoLimits) -> Outcomes:
    """See whether a data sheet is signed, and whether another cover sheet is in the folder."""
    for paper in filing.with_role("application-data-sheet"):
        signed = signing(paper)
        at = of_said(signed.place) if signed.place else of_paper(paper)
        if signed.kind == "unread":
            yield Unread(why=signed.why, at=at)
            continue
        if signed.place is None:
            continue  # it keeps no place for a signature that could be seen
        held = signed.signed is not False
        beside = bool(filing.with_role("cover-sheet")) and not held
        yield Seen(
            what="data sheet",
            held=held,
            measured=signed.why,
            sort="beside a cover sheet" if beside else "",
            at=at,
        )
