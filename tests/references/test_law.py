"""The US rulebook held to the rules as they were read from the published sources, which are not part of the project."""

from __future__ import annotations

import re

import pytest
from law_sheets import MARKS, ROWS, TEXT

from preflight.rulebooks import Note, Question, Requirement
from preflight.testing import requirements, rulebook

pytestmark = MARKS

BOOK = rulebook("us")
ALL = requirements(office="us")
ENTRIES = (*ALL, *BOOK.notes)
FORM = re.compile(r"PTO/[A-Z]+/\w+")
PAIR = re.compile(r"(refusal|notice|advice|none|by hand)[^;/|]*? / (refusal|notice|advice|none|by hand|-)")

NO_ROW = {
    "us.practice.one-version": "mistakes 8 and 9 of the papers sheet together: two versions contradict each other",
    "us.practice.source-agrees": "ours: what was exported before the last edit, told by the words of both files",
    "us.practice.identical-files": "mistake 11 of the papers sheet, doubled pages",
    "us.folder.other-files": "ours: what stands beside the papers",
    "us.folder.not-for-filing": "ours: what is for the client or for another register",
    "us.practice.same-device": "mistake 8 of the papers sheet, where nothing but the words tells",
    "us.folder.left-out": "ours: what was not looked at",
    "us.folder.unknown-paper": "ours: what nobody expects in the folder",
    "us.folder.declared-role": "ours: what the filer declares against what the page shows",
    "us.fee.amount": "last row but one of the matrix of 3d in the filing sheet, and the rows of the size fee",
    "us.text.title.length": "a half of us.text.title: from 251 characters on",
    "us.text.title.first-page": "a half of us.text.title: missing on the first page",
    "us.drawing.needed.device": "a half of us.drawing.needed: a device is claimed, no figure is there",
    "us.drawing.partial.letters": "the half of us.drawing.partial that can be measured",
    "us.drawing.views.apart": "the half of us.drawing.views that can be measured",
    "us.drawing.lead-lines.crossing": "the half of us.drawing.lead-lines that is by hand",
    "us.practice.figures-in-turn": "a half of us.practice.one-figure-paragraph: the description",
    "us.practice.highlighted": "ours: words marked in colour, as struck and inserted ones tell of unfinished work",
    "us.practice.named-first": "ours: a number that stands without a name sends the reader forward",
    "us.text.claims-form.characters": "the part of us.text.claims-form about reference characters",
    "us.practice.published-copy": "ours: a page of a published document among the drawings",
    "us.practice.dimensions": "mistake 24 of the papers sheet",
    "us.practice.slide-deck": "mistake 25 of the papers sheet",
    "us.practice.short-description": "mistake 27 of the papers sheet",
    "us.practice.admissions": "mistake 29 of the papers sheet",
    "us.practice.stray-text": "mistake 30 of the papers sheet",
    "us.practice.ocr-differs": "mistake 44 of the papers sheet",
    "us.receipt.children": "stands in the heading of 6b of the filing sheet",
    "us.receipt.corrected": "6d of the filing sheet, spelling",
    "us.receipt.wrong-description": "6d of the filing sheet, wrong description",
    "us.receipt.day-late": "6d of the filing sheet, a day late",
}
"""Entries that have no row of their own in the sheets, and what stands in its place."""
ALSO_ROWS = {
    "us.pdf.page-size": ["us.drawing.size"],
    "us.prov.cover.title": ["us.text.title"],
    "us.text.background": ["us.text.no-claims-new-matter"],
    "us.text.title.length": ["us.text.title"],
    "us.text.title.first-page": ["us.text.title"],
    "us.drawing.needed.device": ["us.drawing.needed"],
    "us.drawing.partial.letters": ["us.drawing.partial"],
    "us.drawing.views.apart": ["us.drawing.views"],
    "us.drawing.lead-lines.crossing": ["us.drawing.lead-lines"],
    "us.drawing.figures-described": ["us.text.brief-description"],
    "us.text.claims-form.characters": ["us.text.claims-form"],
    "us.practice.figures-in-turn": ["us.practice.one-figure-paragraph"],
    "us.receipt.date": ["us.date.eastern"],
    "us.receipt.number": ["us.prov.series"],
    "us.date.eastern.zone": ["us.date.eastern"],
}
"""Rows that speak of the same rule under an id that has an entry of its own."""
ALSO_PAIRS = {
    "us.practice.one-figure-paragraph": {("none", "advice")},  # the kind of view, of which the row gives an example
    "us.text.essential": {("advice", "notice"), ("advice", "advice")},  # whether it is essential no program can tell
    "us.text.claims-form": {("advice", "advice")},  # the row itself: "a single claim unnumbered (advice)"
    "us.text.mdc": {("advice", "advice")},  # 4b: a form that is marked M alone
    "us.text.brief-description": {("advice", "notice"), ("advice", "advice")},  # a family; what is told in other words
    "us.pdf.links": {("advice", "advice")},  # name spaces in code: in the column of what must not be flagged
    "us.pdf.valid": {("advice", "advice")},  # bytes before the header: in the column of what must not be flagged
    "us.micro.no-mix": {("advice", "advice")},  # matrix of 3d: overpaid is advice
    "us.text.page-numbers": {("notice", "notice")},  # pages out of order: mistake 11
    "us.practice.names": {("advice", "advice")},  # example S7 of the leaflet: signed, note the error
    "us.sign.s-number": {("advice", "advice")},  # one who can only be a practitioner, but is not called so
    "us.sign.hand": {("advice", "none")},  # section 2: a missing signature of a cover sheet is advice
    "us.fee.amount": {("notice", "none")},  # matrix of 3d; of the size fee only one row has a second consequence
    "us.text.contrast": {("advice", "advice")},  # a skew of 2-3 degrees, in the column of how to measure
    "us.prov.ads.signed": {("advice", "notice")},  # the first half of the cell, before the slash of a form's number
    "us.prov.cover.counts": {("notice", "none")},  # the first half of the cell
    "us.drawing.orphan-in-drawing": {("advice", "advice")},  # "look here" of READING-DRAWINGS.md, uncertain readings
    "us.drawing.orphan-in-text": {("advice", "advice")},  # the same: drawn only with letters, or read unsurely
    "us.drawing.same-part": {("advice", "advice")},  # other names that English cannot decide are asked, not asserted
    "us.drawing.modified-part": {("advice", "advice")},  # the same, where it is said once
    "us.text.claims-form.characters": {("advice", "advice")},  # 37 CFR 1.75 asks for none; parentheses are a wish
    "us.text.dark": {("advice", "notice"), ("notice", "notice")},  # in parentheses
}
"""Pairs that the sheets give elsewhere than in the row's own cell."""
ASKED_BY_THEIR_ROW = {
    "us.drawing.lead-lines": "question",
    "us.text.table-layout": "check the exported page",
    "us.small.who": "question",
    "us.micro.four": "asked number",
    "us.micro.each-fee": "ask again",
    "us.micro.income": "declared income",
    "us.micro.transfer": "question",
    "us.micro.small-first": "an assignment or employer: ask",
}
"""Asked although their consequences are given: what the column of how to check says."""
DERIVED = {
    "us.date.restore.roll": "from 35 USC 21(b), which other rows mark as read",
    "us.date.grace.chain": "from 35 USC 102(b)(1), which other rows mark as read",
}
"""Rows marked D alone, with what they follow from."""
FIGURES_FROM_ELSEWHERE = {"us.pdf.page-shrink": {3.0, 8.0, 12.0}}
"""Numbers of the prose that stand elsewhere: check value 5 of the papers sheet."""
PRACTICE_AT_NOTICE = {
    "us.practice.wrong-client": "contradictory",
    "us.practice.one-version": "contradictory",
    "us.practice.source-agrees": "what was written last is missing",
    "us.practice.identical-files": "something is missing or doubled",
    "us.folder.declared-role": "contradictory",
    "us.practice.placeholders": "content is missing",
    "us.practice.names": "contradictory",
    "us.practice.pages": "pages are missing, doubled or cut off",
    "us.practice.watermark": "illegible",
    "us.practice.track-changes": "contradictory: which text counts",
    "us.practice.drawings-legible": "illegible",
    "us.folder.not-for-filing": "what is for the client alone goes public",
    "us.practice.same-device": "contradictory",
    "us.practice.slide-deck": "the description is missing",
    "us.practice.published-copy": "contradictory: a sheet of another document",
}
"""What rests on practice ships as advice, except where it shows something illegible, missing or contradictory."""


def _own_rows(entry: Requirement | Note) -> list[tuple[str, str]]:
    ids = (entry.id, *entry.also, *ALSO_ROWS.get(entry.id, ()))
    return [row for one in ids for row in ROWS.get(one, ())]


def _pairs(requirement: Requirement) -> set[tuple[str, str]]:
    graded = {(grade.filing, grade.examination) for grade in requirement.levels}
    return {(requirement.filing, requirement.examination)} | graded


def _numbers_in(text: str) -> set[float]:
    return {float(n.replace(",", "")) for n in re.findall(r"\d[\d,]*\.?\d*", text)}


def _prose(entry: Requirement | Note) -> str:
    if isinstance(entry, Note):
        return entry.text
    return " ".join((entry.why, entry.exceptions, entry.fix, entry.message, *(g.message or "" for g in entry.levels)))


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda e: e.id)
def test_the_entry_has_a_row_in_the_sheets(entry: Requirement | Note) -> None:
    assert bool(ROWS.get(entry.id)) != (entry.id in NO_ROW)


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda e: e.id)
def test_each_citation_stands_in_the_sheets(entry: Requirement | Note) -> None:
    """In the entry's own row, where it has one and the source is a rule; the sheets leave "37 CFR" out."""
    rows = " ".join(row for row, _ in _own_rows(entry))
    for citation in entry.citations:
        bare = citation.source.removeprefix("37 CFR ")
        where = rows if ROWS.get(entry.id) and citation.source.startswith(("37 CFR", "35 USC", "MPEP")) else TEXT
        assert citation.source in where or bare in where, citation.source


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda e: e.id)
def test_each_figure_stands_where_its_citation_says(entry: Requirement | Note) -> None:
    rows = " ".join(row for row, _ in _own_rows(entry)) or TEXT
    for citation in entry.citations:
        where = TEXT if citation.known == "third party" and citation.source not in rows else rows
        for figure in citation.stands_there:
            assert figure in rows or figure in where, figure


@pytest.mark.parametrize("requirement", ALL, ids=lambda r: r.id)
def test_each_number_is_stated_derived_or_ours(requirement: Requirement) -> None:
    stated = {n for c in requirement.citations for figure in c.stands_there for n in _numbers_in(figure)}
    explained = [(name, why) for c in requirement.citations for name, why in (c.derived | c.house).items()]
    for name, number in requirement.numbers():
        why = [text for named, text in explained if named == name]
        assert number in stated or any(number in _numbers_in(text) for text in why), f"{name} = {number}"
    known_names = {name for name, _ in requirement.numbers()}
    assert {name for name, _ in explained} <= known_names, "an explanation without its number"


@pytest.mark.parametrize("requirement", ALL, ids=lambda r: r.id)
def test_each_derived_length_is_rightly_derived(requirement: Requirement) -> None:
    for text in (why for c in requirement.citations for why in c.derived.values()):
        for inches, cm in re.findall(r"(\d+(?:\.\d+)?(?:/\d+)?) in = (\d+\.\d+)", text):
            above, _, under = inches.partition("/")
            assert float(above) / float(under or 1) * 2.54 == pytest.approx(float(cm), abs=0.001), text


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda e: e.id)
def test_each_figure_of_the_prose_stands_in_the_sheets(entry: Requirement | Note) -> None:
    """Our own words hold no number that the row does not; where there is none, the sheets. Forms keep their names."""
    rows = " ".join(row for row, _ in _own_rows(entry)) or TEXT
    strange = _numbers_in(FORM.sub("", _prose(entry))) - _numbers_in(rows) - FIGURES_FROM_ELSEWHERE.get(entry.id, set())
    assert not strange


@pytest.mark.parametrize("question", BOOK.questions, ids=lambda q: q.id)
def test_each_figure_of_a_question_stands_in_the_rows_that_it_covers(question: Question) -> None:
    covered = [r for r in ALL if r.asked_in == question.id]
    there = {n for r in covered for row, _ in _own_rows(r) for n in _numbers_in(row)}
    there |= {n for r in covered for c in r.citations for text in c.stands_there for n in _numbers_in(text)}
    assert _numbers_in(FORM.sub("", question.text)) - there <= {1.0}  # FIG. 1


@pytest.mark.parametrize("requirement", ALL, ids=lambda r: r.id)
def test_consequences_are_those_of_the_sheets(requirement: Requirement) -> None:
    """Each pair that the requirement may have stands in the cell of its row; what the sheets leave to a person asks."""
    if requirement.id in NO_ROW:
        return
    cells = " ; ".join(re.sub(r"\([^)]*\)", "", cell) for _, cell in _own_rows(requirement))
    there = {(a, "none" if b == "-" else b) for a, b in PAIR.findall(cells)}
    if requirement.asked_in:
        assert any("by hand" in pair for pair in there) or requirement.id in ASKED_BY_THEIR_ROW
        if any("by hand" in pair for pair in there):
            return  # the answer "no" weighs as we weigh it: the sheets give no level
    there = {pair for pair in there if "by hand" not in pair} | ALSO_PAIRS.get(requirement.id, set())
    assert there, f"no pair in: {cells}"
    assert _pairs(requirement) <= there, cells
    if len(there) == 1:
        assert (requirement.filing, requirement.examination) in there, cells


@pytest.mark.parametrize("requirement", ALL, ids=lambda r: r.id)
def test_what_is_not_sure_does_not_fail_a_filing(requirement: Requirement) -> None:
    worst = set(requirement.worst)
    if requirement.known == "memory":
        assert requirement.asked_in or worst <= {"advice", "none"}
    if requirement.known == "practice":
        assert worst <= {"advice", "none"} or requirement.id in PRACTICE_AT_NOTICE


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda e: e.id)
def test_how_well_a_citation_is_known_agrees_with_the_marks(entry: Requirement | Note) -> None:
    """Read needs V or R in the row, third party T, practice P or the section of practices."""
    rows = " ".join(row for row, _ in _own_rows(entry))
    for citation in entry.citations if rows else ():
        if citation.source.removeprefix("37 CFR ") not in rows or entry.id in DERIVED:
            continue  # a source of its own, which no row marks
        marks = {"read": r"\b(V|R|V/R)\b", "third party": r"\bT(26)?\b"}.get(citation.known)
        assert marks is None or re.search(marks, rows), f"{citation.source} is said to be {citation.known}"


def test_each_entry_is_dated() -> None:
    assert {c.read_on for entry in ENTRIES for c in entry.citations} == {BOOK.edition}
