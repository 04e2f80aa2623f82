"""No row of the two sheets is left out in silence: it is a requirement, a question, a note, or has its reason here."""

from __future__ import annotations

import re

import pytest
from law_sheets import FILING, ID, MARKS, PAPERS, ROWS, TEXT, table

from preflight.testing import rulebook

pytestmark = MARKS

BOOK = rulebook("us")
REQUIREMENTS = {name: r for r in BOOK.requirements for name in (r.id, *r.also)}
NOTES = {name: note for note in BOOK.notes for name in (note.id, *note.also)}

LEFT_OUT = {
    "us.drawing.types": "points to the rules for designs, international designs, plants and reissues",
    "us.fee.size.national": "entries into the national stage, which no provisional is",
    "us.sign.design": "for the register of design practitioners; a design cannot be a provisional",
}
"""Rows that do not concern a provisional."""
NO_IDS = {"us.date", "us.fee", "us.micro", "us.name", "us.pdf", "us.practice", "us.prov", "us.receipt", "us.sign"} | {
    "us.small",
    "us.upload",
}
"""Beginnings of ids, which the sheets explain as such."""
WEIGHS_BUT_IS_PROPER = {
    "us.fee.no-sequence": "lines of a fee page that nobody sees before the upload",
    "us.practice.even-numbers": "silent by default, says the row",
    "us.practice.one-word-names": "a recommendation and never a finding, says the papers sheet, which rules names",
}
"""Notes on what is proper, although a row gives them a consequence."""
WEIGHS_NOTHING = {
    "us.drawing.moved": "asked: the sheets leave the second consequence to a person",
    "us.drawing.improvement": "asked: the sheets leave the second consequence to a person",
}
"""Requirements without consequence for the filing whose consequence for the examination the sheets do not give."""


def _cells(name: str) -> str:
    return " ; ".join(re.sub(r"\([^)]*\)", "", cell) for _, cell in ROWS.get(name, ()))


@pytest.mark.parametrize("name", sorted(ROWS))
def test_each_row_is_accounted_for(name: str) -> None:
    assert (name in REQUIREMENTS) + (name in NOTES) + (name in LEFT_OUT) == 1


def test_each_id_that_the_sheets_mention_is_accounted_for() -> None:
    """Also those without a row: old ids of the id map, aliases, rows that stand in a heading."""
    named = {name.rstrip(".") for name in ID.findall(TEXT)} - NO_IDS
    assert named - REQUIREMENTS.keys() - NOTES.keys() - LEFT_OUT.keys() == set()


def test_what_is_left_out_has_a_row() -> None:
    assert set(LEFT_OUT) <= set(ROWS)


def test_the_old_ids_of_the_id_map_lead_to_those_that_were_kept() -> None:
    (line,) = re.findall(r"Id map \(old -> kept\): (.*?)\. Practice ids", TEXT)
    pairs = re.findall(rf"({ID.pattern}) -> ({ID.pattern})", line)
    assert len(pairs) == 7
    assert all(REQUIREMENTS[old].id == kept for old, kept in pairs)


@pytest.mark.parametrize("name", sorted(ROWS.keys() & NOTES.keys()))
def test_a_note_breaks_nothing_in_the_folder(name: str) -> None:
    """Notes on what is proper have no consequence; the others tell of receipts, later duties, the office."""
    weighs = re.search(r"\b(refusal|notice|advice)\b[^/;]* / ", _cells(name))
    if NOTES[name].about == "proper":
        assert not weighs or name in WEIGHS_BUT_IS_PROPER


@pytest.mark.parametrize("name", sorted(ROWS.keys() & REQUIREMENTS.keys()))
def test_what_weighs_nothing_today_is_for_the_nonprovisional(name: str) -> None:
    requirement = REQUIREMENTS[name]
    if re.fullmatch(r"none / (refusal|notice|advice|by hand)", _cells(name).strip()) and requirement.id == name:
        assert requirement.filing == "none"
    if requirement.filing == "none" and requirement.id == name:
        assert _cells(name).split(";")[0].split(":")[-1].strip().startswith("none / ") or name in WEIGHS_NOTHING


def test_every_row_about_receipts_is_a_note_about_receipts() -> None:
    for name in ROWS:
        if name.startswith("us.receipt."):
            assert NOTES[name].about == "receipt"


MISTAKES = {
    1: ["us.drawing.colour", "us.practice.drawings-legible"],
    2: ["us.drawing.photo", "us.pdf.grey"],
    3: ["us.pdf.images", "us.text.contrast"],
    4: ["us.text.contrast", "us.text.paper"],
    5: ["us.practice.watermark"],
    6: ["us.practice.track-changes", "us.pdf.comments"],
    7: ["us.practice.placeholders"],
    8: ["us.practice.wrong-client", "us.pdf.metadata"],
    9: ["us.practice.one-version", "us.practice.source-file"],
    10: ["us.text.page-numbers", "us.text.pages-present"],
    11: ["us.text.page-numbers", "us.practice.identical-files", "us.practice.pages"],
    12: ["us.practice.pages"],
    13: ["us.pdf.rotate"],
    14: ["us.drawing.figures-present"],
    15: ["us.drawing.figures-described"],
    16: ["us.drawing.view-number"],
    17: ["us.drawing.view-number"],
    18: ["us.drawing.orphan-in-drawing", "us.drawing.orphan-in-text"],
    19: ["us.drawing.same-part"],
    20: ["us.drawing.margins", "us.text.margins", "us.practice.pages"],
    21: ["us.drawing.height"],
    22: ["us.drawing.lines"],
    23: ["us.drawing.frame", "us.drawing.scale"],
    24: ["us.practice.dimensions"],
    25: ["us.practice.slide-deck"],
    26: ["us.drawing.needed", "us.text.no-claims-new-matter"],
    27: ["us.prov.filing-date", "us.practice.short-description"],
    28: ["us.text.incorporation-web", "us.text.essential"],
    29: ["us.practice.admissions"],
    30: ["us.practice.stray-text"],
    31: ["us.pdf.metadata"],
    32: ["us.pdf.hidden"],
    33: ["us.pdf.active"],
    34: ["us.pdf.encrypted"],
    35: ["us.pdf.fonts"],
    36: ["us.name.characters", "us.name.extension", "us.name.length"],
    37: ["us.text.title", "us.practice.wrong-client"],
    38: ["us.practice.names"],
    39: ["us.sign.hand", "us.sign.s", "us.sign.s-name", "us.prov.cover.edition"],
    40: ["us.micro.form", "us.micro.no-mix"],
    41: ["us.fee.amount"],
    42: ["us.text.federal", "us.prov.cover.government"],
    43: ["us.text.page-numbers"],
    44: ["us.practice.ocr-differs"],
    45: ["us.drawing.ident"],
    46: ["us.drawing.arrangement"],
    47: ["us.prov.no-benefit"],
    48: ["us.prov.no-design"],
    49: ["us.drawing.view-number"],
}
"""The common mistakes of 6b of the papers sheet, each with the entries that speak of it."""


def test_each_common_mistake_has_an_entry() -> None:
    assert [int(row[0]) for row in table(PAPERS, "6b", "no")] == list(MISTAKES)
    spoken = {name for names in MISTAKES.values() for name in names}
    assert spoken - {e.id for e in (*BOOK.requirements, *BOOK.notes)} == set()


CURES = {
    "kind is nonprovisional": "us.prov.other-basis",
    "page or figure missing, file of another matter": "us.practice.same-day",
    "inventor missing or too many": "us.prov.inventors-corrected",
    "spelling of a name, title typo in office's record": "us.receipt.corrected",
    "entity too low (micro without right)": "us.micro.error",
    "entity too high": "us.small.refund",
    "no fee, part fee, no cover sheet": "us.prov.fee-late",
    "wrong document description": "us.receipt.wrong-description",
    "date is a day late (after midnight Eastern)": "us.receipt.day-late",
    "no receipt": "us.upload.down",
    "guest filer cannot send a follow-on electronically": "us.upload.no-view",
}
"""What to look at in the hour after the upload, 6d of the filing sheet, with the note that tells the cure."""


def test_each_cure_has_a_note() -> None:
    assert [row[0] for row in table(FILING, "6d", "wrong thing")] == list(CURES)
    assert set(CURES.values()) <= NOTES.keys()


MATRIX = ("us.prov.cover.entity", "us.micro.form", "us.micro.signer", "us.micro.no-mix", "us.fee.amount", "us.sign.who")
"""The requirements that report what the matrix of 3d of the filing sheet calls notice or advice."""


def test_the_matrix_of_entities_has_its_requirements() -> None:
    assert len(table(FILING, "3d", "tick")) == 13
    assert set(MATRIX) <= REQUIREMENTS.keys()


def test_the_questions_are_few_and_each_covers_something() -> None:
    asked = {r.asked_in for r in BOOK.requirements if r.asked_in}
    assert asked == {question.id for question in BOOK.questions}
    assert len(BOOK.questions) <= 15
