"""What a certification of micro entity status says."""

from __future__ import annotations

import re
from typing import Literal

import msgspec

from preflight.papers.forms import form_words as label
from preflight.papers.forms.labels import said, value_at
from preflight.papers.forms.signatures import Signing, signing
from preflight.papers.model import Paper, Said
from preflight.papers.roles.form_numbers import whole_text
from preflight.papers.words.lettering import flat

_BASES = (
    ("institution", re.compile(r"\bpto sb 0?15b\b|\binstitution of higher education\b|\bmes iheb\b")),
    ("income", re.compile(r"\bpto sb 0?15a\b|\bgross income\b|\bmes gib\b")),
)


class Certification(msgspec.Struct, frozen=True):
    """One certification. None means that it was not found there; see `unread` first."""

    paper: Paper
    unread: str | None = None
    """Why its words could not be read; then nothing below is known."""
    basis: Literal["income", "institution"] | None = None
    title: Said | None = None
    first_inventor: Said | None = None
    docket: Said | None = None
    signing: Signing = Signing(None, "not read")
    signers: tuple[str, ...] = ()


def certification(paper: Paper) -> Certification:
    """What this paper says as a certification of micro entity status."""
    if paper.unread:
        return Certification(paper, unread=paper.unread, signing=signing(paper))
    signed = signing(paper)
    return Certification(
        paper,
        basis=_basis(paper),
        title=said(paper, value_at(paper, label.TITLE)),
        first_inventor=said(paper, value_at(paper, rf"{label.FIRST_INVENTOR}|{label.INVENTORS}")),
        docket=said(paper, value_at(paper, label.DOCKET)),
        signing=signed,
        signers=tuple(flat(one.name.value if one.name else one.text) for one in signed.signatures if one.fault is None),
    )


def _basis(paper: Paper) -> Literal["income", "institution"] | None:
    """By the form's number or heading on the first page; both phrases stand in the text of either form."""
    text = whole_text(paper.pages[0])
    places = {basis: found.start() for basis, pattern in _BASES if (found := pattern.search(text))}
    if not places:
        return None
    return "income" if min(places, key=lambda basis: places[basis]) == "income" else "institution"
