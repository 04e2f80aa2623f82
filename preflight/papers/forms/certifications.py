"""What a certification of micro entity status says."""

from __future__ import annotations

import msgspec

from preflight.papers.forms import form_words as label
from preflight.papers.forms.basis import Basis, basis_of, other_basis_ticked
from preflight.papers.forms.labels import said, value_at
from preflight.papers.forms.signatures import Signing, signing
from preflight.papers.model import Paper, Said
from preflight.papers.words.lettering import flat


class Certification(msgspec.Struct, frozen=True):
    """One certification. None means that it was not found there; see `unread` first."""

    paper: Paper
    unread: str | None = None
    """Why its words could not be read; then nothing below is known."""
    basis: Basis | None = None
    basis_at: Said | None = None
    """Where it says so."""
    other_basis: Said | None = None
    """A ticked box that speaks of the other basis, while those of the form's own are empty."""
    title: Said | None = None
    first_inventor: Said | None = None
    docket: Said | None = None
    signing: Signing = Signing(None, "not read")
    signers: tuple[str, ...] = ()


def certification(paper: Paper) -> Certification:
    """What this paper says as a certification of micro entity status."""
    if paper.unread:
        return Certification(paper, unread=paper.unread, signing=signing(paper))
    signed, basis = signing(paper), basis_of(paper)
    return Certification(
        paper,
        basis=basis.name if basis else None,
        basis_at=basis.place if basis else None,
        other_basis=other_basis_ticked(paper, basis.name) if basis else None,
        title=said(paper, value_at(paper, label.TITLE)),
        first_inventor=said(paper, value_at(paper, rf"{label.FIRST_INVENTOR}|{label.INVENTORS}")),
        docket=said(paper, value_at(paper, label.DOCKET)),
        signing=signed,
        signers=tuple(flat(one.name.value if one.name else one.text) for one in signed.signatures if one.fault is None),
    )
