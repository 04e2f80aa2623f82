"""Everything that a form says, field by field: a value, an empty place, or something that could not be read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Literal

import msgspec

from preflight.facts import Box
from preflight.papers.forms import form_words as label
from preflight.papers.forms.certifications import certification
from preflight.papers.forms.cover_sheets import ENTITY_CHOICES, CoverSheet, cover_sheet
from preflight.papers.forms.inventors import inventors
from preflight.papers.forms.labels import Value, value_at
from preflight.papers.forms.letters import inventors_said
from preflight.papers.forms.pictured import Pictured, pictured
from preflight.papers.forms.signatures import signing
from preflight.papers.forms.ticks import choices
from preflight.papers.model import Paper, Said

State = Literal["value", "empty", "not readable"]

LABELS: Mapping[str, str] = {
    "title": label.TITLE,
    "docket number": label.DOCKET,
    "first inventor": label.FIRST_INVENTOR,
    "practitioner": label.PRACTITIONER,
    "registration number": label.REGISTRATION,
    "correspondence address": label.ADDRESS,
    "customer number": label.CUSTOMER,
    "agency": label.AGENCY,
    "contract": label.CONTRACT,
    "pages": label.PAGES,
    "sheets": label.SHEETS,
    "total fee": label.TOTAL,
    "name of signer": label.NAME,
    "date": label.DATE,
}


class Entry(msgspec.Struct, frozen=True):
    """One field of a form. What a picture seems to say is `sure` only where every letter of it is."""

    name: str
    state: State
    text: str = ""
    """As printed; "ticked" or "not ticked" for a choice, "yes" or "no" for a question; empty without a value."""
    page: int = 0
    box: Box | None = None
    sure: bool = True


def form_table(paper: Paper) -> tuple[Entry, ...]:
    """The fields of a form, from its form fields, its characters or its picture; those that it lacks are left out.

    Inventors are "inventor 1", "residence 1" and so on; entities are "small", "micro", "undiscounted".
    """
    seen = pictured(paper) if not paper.fields else None
    read = seen.paper if seen else paper
    if read.unread:
        return ()
    entries = [*_labelled(read), *_people(read), *_ticked(read), *_further(read, paper)]
    return tuple(_doubted(entry, seen) if seen else entry for entry in entries)


def _doubted(entry: Entry, seen: Pictured) -> Entry:
    """Of a picture nothing is sure to be empty, and no value where the reader doubts a letter."""
    if entry.state == "value":
        return msgspec.structs.replace(entry, sure=entry.sure and seen.sure(entry.page, entry.box))
    return msgspec.structs.replace(entry, state="not readable", sure=False)


def _entry(name: str, value: Value | Said | None) -> Iterator[Entry]:
    if value is not None:
        text = value.text if isinstance(value, Value) else value.value
        yield Entry(name, "value" if text else "empty", text, value.page, value.box)


def _labelled(paper: Paper) -> Iterator[Entry]:
    sheet = cover_sheet(paper)
    found: dict[str, Said | None] = {"title": sheet.title, "docket number": sheet.docket} if sheet else {}
    for name, words in LABELS.items():
        yield from _entry(name, found.get(name) or _total(name, sheet) or _count(name, sheet) or value_at(paper, words))


def _total(name: str, sheet: CoverSheet | None) -> Said | None:
    amount = sheet.fee if sheet and name == "total fee" else None
    return msgspec.structs.replace(amount.place, value=str(amount.dollars)) if amount else None


def _count(name: str, sheet: CoverSheet | None) -> Said | None:
    count = {"pages": sheet.pages, "sheets": sheet.sheets}.get(name) if sheet else None
    return msgspec.structs.replace(count.place, value=str(count.number)) if count else None


def _people(paper: Paper) -> Iterator[Entry]:
    if paper.role not in ("cover-sheet", "application-data-sheet", "letter"):
        return
    people = inventors(paper) or (inventors_said(paper) if paper.kind == "letter" else ())
    for number, one in enumerate(people, 1):
        page, box = _spot(one.place)
        yield Entry(f"inventor {number}", "value", one.name, page, box)
        where = one.residence or ""
        yield Entry(f"residence {number}", "value" if where else "empty", where, page, box)


def _spot(place: Said | None) -> tuple[int, Box | None]:
    return (place.page, place.box) if place else (0, None)


def _ticked(paper: Paper) -> Iterator[Entry]:
    if paper.role == "entity-certification":
        return
    for name, choice in choices(paper, ENTITY_CHOICES).items():
        if choice.tick != "not there" and choice.place:
            state: State = "not readable" if choice.tick == "unreadable" else "value"
            text = {"ticked": "ticked", "empty": "not ticked"}.get(choice.tick, "")
            yield Entry(name, state, text, choice.place.page, choice.place.box, sure=state == "value")


def _further(read: Paper, paper: Paper) -> Iterator[Entry]:
    """What is no label with a value: the answer about the government, the basis, the signature."""
    sheet = cover_sheet(read)
    if sheet and sheet.government and paper.role != "entity-certification":
        value, place = sheet.government.value, sheet.government.place
        state: State = "value" if value in ("yes", "no") else "empty" if value == "unanswered" else "not readable"
        answer = str(value) if state == "value" else ""
        yield Entry("government", state, answer, place.page, place.box, sure=state != "not readable")
    found = certification(read) if paper.role == "entity-certification" else None
    if found and found.basis:
        yield Entry("basis", "value", found.basis, *_spot(found.basis_at))
    signed = signing(read) if signing(read).signed else signing(paper)
    if signed.place:
        states: dict[str, State] = {"nothing": "empty", "unread": "not readable"}
        state = states.get(signed.kind, "value")
        written = signed.place.value if signed.kind in ("typed", "bare") else signed.kind
        sure = signed.kind not in ("ink", "unread")
        yield Entry("signature", state, written if state == "value" else "", *_spot(signed.place), sure=sure)
