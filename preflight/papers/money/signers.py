"""Who has signed for micro entity status, and whether that is enough."""

from __future__ import annotations

from preflight.papers.forms.applicants import office_beside, organisation_applicant
from preflight.papers.forms.certifications import Certification
from preflight.papers.forms.cover_sheets import cover_sheet
from preflight.papers.matter.names import agreement
from preflight.papers.model import Filing, Said


def bears_a_signature(one: Certification) -> bool:
    """Typed, by hand or by software; whether ink is a signature is asked of a person, it is not missing."""
    return one.signing.signed or (one.signing.signed is None and one.paper.text_unread is None)


def too_few(filing: Filing, signed: list[Certification]) -> bool:
    """Joint inventors sign each a copy, unless a practitioner signs or one holds power from the others."""
    sheet = cover_sheet(filing)
    inventors = len(sheet.inventors) if sheet else 0
    signers = sum(max(1, len(set(one.signers))) for one in signed)
    return signers < inventors and not _practitioner(signed) and not filing.with_role("power-of-attorney")


def for_an_organisation(filing: Filing, signed: list[Certification]) -> Said | None:
    """The applicant that is an organisation, or the office in one of whoever signed, where no practitioner has.

    An inventor or the practitioner of the cover sheet may hold an office too; only strangers sign as officers.
    """
    if _practitioner(signed):
        return None
    return organisation_applicant(filing) or _office(filing, signed)


def _office(filing: Filing, signed: list[Certification]) -> Said | None:
    sheet = cover_sheet(filing)
    known = [one.name for one in sheet.inventors] if sheet else []
    if not known:
        return None
    known += [sheet.practitioner.value] if sheet and sheet.practitioner else []
    offices = [
        office_beside(one.paper, signature) if _stranger(signature.name, known) else None
        for one in signed
        for signature in one.signing.signatures
    ]
    return offices[0] if offices and all(offices) else None


def _stranger(name: Said | None, known: list[str]) -> bool:
    """Whether a name has not even a word in common with the people of the filing."""
    return name is not None and not any(
        agreement(name.value, one) != "other" or {*name.value.casefold().split()} & {*one.casefold().split()}
        for one in known
    )


def _practitioner(signed: list[Certification]) -> bool:
    return any(s.registration for one in signed for s in one.signing.signatures if s.fault is None)
