"""The forms of a filing, read: one place to import cover sheet, certification, signatures and inventors from."""

from preflight.papers.forms.certifications import Certification, certification
from preflight.papers.forms.cover_sheets import (
    Amount,
    Count,
    CoverSheet,
    cover_sheet,
    says_provisional,
    serves_as_cover_sheet,
    total_fee,
)
from preflight.papers.forms.inventors import inventors
from preflight.papers.forms.persons import Inventor, folded_name
from preflight.papers.forms.signatures import Signature, Signing, signatures, signing
from preflight.papers.forms.ticks import Choice, Tick

__all__ = [
    "Amount",
    "Certification",
    "Choice",
    "Count",
    "CoverSheet",
    "Inventor",
    "Signature",
    "Signing",
    "Tick",
    "certification",
    "cover_sheet",
    "folded_name",
    "inventors",
    "says_provisional",
    "serves_as_cover_sheet",
    "signatures",
    "signing",
    "total_fee",
]
