"""The roles that papers of a filing can have."""

from __future__ import annotations

from preflight.papers.model import Role
from preflight.papers.roles.drawing_pages import drawing_sign
from preflight.papers.roles.form_roles import (
    assignment_sign,
    certification_sign,
    cover_sign,
    data_sheet_sign,
    declaration_sign,
    fee_sign,
    letter_sign,
    other_sign,
    power_sign,
    receipt_sign,
)
from preflight.papers.roles.private_papers import (
    card_form_sign,
    citation_list_sign,
    disclosure_form_sign,
    engagement_sign,
    invoice_sign,
)
from preflight.papers.roles.text_roles import abstract_sign, claims_sign, specification_sign

BUILT_IN_ROLES: tuple[Role, ...] = (
    Role(
        "cover-sheet",
        "cover sheet",
        "form",
        cover_sign,
        ("cover", "cover sheet", "coversheet", "coverpage", "sb16", "sb0016", "sb 16"),
    ),
    Role(
        "entity-certification",
        "micro entity certification",
        "form",
        certification_sign,
        (
            *("micro", "micro entity", "microentity", "certification", "entity", "mes"),
            *("15a", "15b", "sb15", "sb15a", "sb15b", "sb0015a", "sb0015b"),
        ),
    ),
    Role(
        "application-data-sheet",
        "application data sheet",
        "form",
        data_sheet_sign,
        ("ads", "data sheet", "application data sheet", "datasheet", "aia14", "aia0014"),
    ),
    Role(
        "fee-sheet",
        "fee sheet",
        "form",
        fee_sign,
        ("fee", "fees", "fee transmittal", "fee sheet", "fee worksheet", "sb17", "sb0017"),
    ),
    Role("assignment", "assignment", "form", assignment_sign, ("assignment",)),
    Role(
        "power-of-attorney",
        "power of attorney",
        "form",
        power_sign,
        ("poa", "power of attorney", "aia80", "aia81", "aia82", "aia0082", "sb80"),
    ),
    Role("declaration", "oath or declaration", "form", declaration_sign, ("declaration", "decl", "oath", "aia0001")),
    Role(
        "acknowledgement-receipt",
        "acknowledgement receipt",
        "other",
        receipt_sign,
        ("receipt", "acknowledgement", "acknowledgment"),
    ),
    Role("payment-card-form", "payment card form", "form", card_form_sign, ("2038", "credit card", "card form")),
    Role("citation-list", "list of cited documents", "form", citation_list_sign, ("ids", "sb08", "sb08a", "citations")),
    Role("invoice", "invoice", "other", invoice_sign, ("invoice",)),
    Role(
        "engagement-letter",
        "engagement letter",
        "letter",
        engagement_sign,
        ("engagement", "engagement letter", "retainer"),
    ),
    Role("invention-disclosure", "invention disclosure form", "form", disclosure_form_sign, ("idf", "disclosure form")),
    Role("claims", "claims", "text", claims_sign, ("claims", "claim", "clm")),
    Role("abstract", "abstract", "text", abstract_sign, ("abstract", "abst")),
    Role(
        "letter",
        "letter",
        "letter",
        letter_sign,
        ("letter", "ltr", "cover letter", "cover ltr", "transmittal", "transmittal letter"),
    ),
    Role(
        "specification",
        "specification",
        "text",
        specification_sign,
        ("specification", "spec", "description", "disclosure", "desc"),
    ),
    Role(
        "drawings",
        "drawings",
        "drawing",
        drawing_sign,
        ("drawing", "drawings", "figures", "figs", "fig", "dwg", "dwgs", "drw", "sketches", "sketch"),
    ),
    Role("other", "other paper", "other", other_sign, ("appendix", "misc", "exhibit")),
)
"""The built-in roles, more special ones first: of two equally sure signs the first wins."""
