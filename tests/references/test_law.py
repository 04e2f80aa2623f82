"""The US rulebook held to the rules as they were read from the published sources, which are not part of the project."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path

import pytest

from preflight.rulebooks import Requirement
from preflight.testing import flat, requirements, rulebook

SHARED = Path(__file__).parents[3] / "shared"
SHEETS = [SHARED / "RULES-us-papers.md", SHARED / "RULES-us-filing.md"]
"""../shared, seen from the root of the project."""

pytestmark = [
    pytest.mark.reference,
    pytest.mark.skipif(
        not all(path.exists() for path in SHEETS),
        reason="the rules as read from the sources are not beside this checkout",
    ),
]

BOOK = rulebook("us")
ALL = requirements(office="us")
PAIR = re.compile(r"(refusal|notice|advice|none|by hand)[^;/|]*? / (refusal|notice|advice|none|by hand|-)")

NO_ROW = {
    "us.practice.one-version": "mistakes 8 and 9 of the papers sheet together: two versions contradict each other",
    "us.practice.identical-files": "mistake 11 of the papers sheet, doubled pages",
    "us.folder.other-files": "ours: what stands beside the papers",
    "us.folder.left-out": "ours: what was not looked at",
    "us.folder.unknown-paper": "ours: what nobody expects in the folder",
    "us.folder.declared-role": "ours: what the filer declares against what the page shows",
    "us.fee.amount": "last row but one of the matrix of 3d in the filing sheet",
}
"""Requirements that have no row of their own in the sheets, and what stands in its place."""
ALSO_ROWS = {
    "us.small.who": ["us.small.500"],
    "us.pdf.page-size": ["us.drawing.size"],
    "us.prov.cover.title": ["us.text.title"],
    "us.prov.no-benefit": ["us.text.benefit"],
    "us.drawing.needed": ["us.prov.drawing"],
    "us.text.background": ["us.text.no-claims-new-matter"],
}
"""Rows that speak of the same rule under another id."""
ALSO_PAIRS = {
    "us.pdf.valid": {("advice", "advice")},  # bytes before the header: in the column of what must not be flagged
    "us.micro.no-mix": {("advice", "advice")},  # matrix of 3d: overpaid is advice
    "us.text.page-numbers": {("notice", "notice")},  # pages out of order: mistake 11
}
"""Pairs that the sheets give elsewhere than in the row's own cell."""
PRACTICE_AT_NOTICE = {
    "us.practice.wrong-client": "contradictory",
    "us.practice.one-version": "contradictory",
    "us.practice.identical-files": "something is missing or doubled",
    "us.folder.declared-role": "contradictory",
    "us.practice.placeholders": "content is missing",
}
"""What rests on practice ships as advice, except where it shows something illegible, missing or contradictory."""


def _text() -> str:
    return flat(" ".join(path.read_text("utf-8") for path in SHEETS).replace("**", ""))


TEXT = _text() if all(path.exists() for path in SHEETS) else ""


def _rows() -> dict[str, list[tuple[str, str]]]:
    """For each id its rows: the whole row, and the cell with the two consequences."""
    found: dict[str, list[tuple[str, str]]] = {}
    column: int | None = None
    for line in (line for path in SHEETS if path.exists() for line in path.read_text("utf-8").splitlines()):
        cells = [cell.strip() for cell in re.split(r"(?<!\\)\|", line.replace("**", ""))]
        if len(cells) < 3:
            column = None
        elif column is None:
            column = next((n for n, cell in enumerate(cells) if cell in ("a / b", "consequence a / b")), -1)
        elif re.fullmatch(r"us\.[a-z0-9.-]+", cells[1]):
            found.setdefault(cells[1], []).append((flat(" | ".join(cells)), cells[column] if column > 0 else ""))
    return found


ROWS = _rows()


def _own_rows(requirement: Requirement) -> list[tuple[str, str]]:
    return [row for one in (requirement.id, *ALSO_ROWS.get(requirement.id, ())) for row in ROWS.get(one, ())]


def _pairs(requirement: Requirement) -> set[tuple[str, str]]:
    graded = {(grade.filing, grade.examination) for grade in requirement.levels}
    return {(requirement.filing, requirement.examination)} | graded


def _numbers_in(text: str) -> set[float]:
    return {float(n.replace(",", "")) for n in re.findall(r"\d[\d,]*\.?\d*", text)}


@pytest.mark.parametrize("requirement", ALL, ids=lambda r: r.id)
def test_the_requirement_has_a_row_in_the_sheets(requirement: Requirement) -> None:
    assert bool(ROWS.get(requirement.id)) != (requirement.id in NO_ROW)


@pytest.mark.parametrize("requirement", ALL, ids=lambda r: r.id)
def test_each_citation_stands_in_the_sheets(requirement: Requirement) -> None:
    """In the requirement's own row, where it has one and the source is a rule; the sheets leave "37 CFR" out."""
    rows = " ".join(row for row, _ in _own_rows(requirement))
    for citation in requirement.citations:
        bare = citation.source.removeprefix("37 CFR ")
        where = rows if rows and citation.source.startswith(("37 CFR", "35 USC", "MPEP")) else TEXT
        assert citation.source in where or bare in where, citation.source


@pytest.mark.parametrize("requirement", ALL, ids=lambda r: r.id)
def test_each_figure_stands_where_its_citation_says(requirement: Requirement) -> None:
    rows = " ".join(row for row, _ in _own_rows(requirement)) or TEXT
    for citation in requirement.citations:
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


@pytest.mark.parametrize("requirement", [r for r in ALL if r.question], ids=lambda r: r.id)
def test_each_figure_of_a_question_stands_in_the_sheets(requirement: Requirement) -> None:
    for figure in re.findall(r"\d{1,3}(?:,\d{3})+|\b\d{1,3}\b", requirement.question or ""):
        if figure != "1":  # FIG. 1
            assert any(figure in stated for c in requirement.citations for stated in c.stands_there), figure


@pytest.mark.parametrize("requirement", ALL, ids=lambda r: r.id)
def test_consequences_are_those_of_the_sheets(requirement: Requirement) -> None:
    """Each pair that the requirement may have stands in the cell of its row; a by-hand row is a question."""
    if requirement.id in NO_ROW:
        return
    cells = " ; ".join(re.sub(r"\([^)]*\)", "", cell) for _, cell in _own_rows(requirement))
    there = {(a, "none" if b == "-" else b) for a, b in PAIR.findall(cells)}
    if there == {("by hand", "by hand")} or (requirement.question and ("by hand", "by hand") in there):
        assert requirement.question, "the sheets leave it to a person"
        return
    assert there, f"no pair in: {cells}"
    assert _pairs(requirement) <= there | ALSO_PAIRS.get(requirement.id, set()), cells
    if len(there) == 1:
        assert (requirement.filing, requirement.examination) in there, cells


@pytest.mark.parametrize("requirement", ALL, ids=lambda r: r.id)
def test_what_is_not_sure_does_not_fail_a_filing(requirement: Requirement) -> None:
    worst = set(requirement.worst)
    if requirement.known == "memory":
        assert requirement.question or worst <= {"advice", "none"}
    if requirement.known == "practice":
        assert worst <= {"advice", "none"} or requirement.id in PRACTICE_AT_NOTICE


@pytest.mark.parametrize("requirement", ALL, ids=lambda r: r.id)
def test_how_well_a_citation_is_known_agrees_with_the_marks(requirement: Requirement) -> None:
    """Read needs V or R in the row, third party T, practice P or the section of practices."""
    rows = " ".join(row for row, _ in _own_rows(requirement))
    for citation in requirement.citations if rows else ():
        if citation.source.removeprefix("37 CFR ") not in rows:
            continue  # a source of its own, which no row marks
        marks = {"read": r"\b(V|R|V/R)\b", "third party": r"\bT(26)?\b"}.get(citation.known)
        assert marks is None or re.search(marks, rows), f"{citation.source} is said to be {citation.known}"


def test_each_requirement_is_dated() -> None:
    assert {c.read_on for r in ALL for c in r.citations} == {BOOK.edition}


FEE_ROW = re.compile(r"^\| (\d{4})(?:-(\d\d))?(?:-(\d\d))?[^|]*\| ([^|]+)\| ([^|]+)\| ([^|]+)\|")
FEE_IDS = ("basic", "size", "surcharge")
KNOWN = {
    dt.date(2025, 1, 19): ("read", "third party", "third party"),
    dt.date(2022, 12, 29): ("read", "read", "read"),
    dt.date(2020, 10, 2): ("read", "memory", "memory"),
    dt.date(2018, 1, 16): ("read", "third party", "third party"),
    dt.date(2013, 3, 19): ("third party", "third party", "third party"),
    dt.date(2011, 9, 1): ("read", "read", "memory"),
    dt.date(2009, 1, 1): ("memory", "read", "memory"),
}
"""How the marks in the last column of the table read for basic, size and surcharge; part memory counts as memory."""


def _amounts(cell: str) -> tuple[int | None, ...]:
    each = [None if n.strip() == "-" else int(n) for n in cell.replace("each 50 sheets", "").split("/")]
    return tuple(each)


def _fee_table() -> dict[tuple[str, dt.date], tuple[int | None, ...]]:
    found: dict[tuple[str, dt.date], tuple[int | None, ...]] = {}
    text = SHEETS[1].read_text("utf-8").split("\n## 4. Fees", 1)[1].split("\n### 4a", 1)[0]
    for line in text.replace("**", "").splitlines():
        if row := FEE_ROW.match(line):
            year, month, day, *cells = row.groups()
            since = dt.date(int(year), int(month or 1), int(day or 1))
            found |= {(name, since): _amounts(cell) for name, cell in zip(FEE_IDS, cells, strict=True)}
    return found


def test_fees_are_those_of_the_sheet() -> None:
    ours = {(fee.id, fee.since): (fee.undiscounted, fee.small, fee.micro) for fee in BOOK.fees}
    theirs = _fee_table()
    assert len(theirs) == 3 * len(KNOWN)
    assert ours == theirs


def test_fees_say_how_well_they_are_known() -> None:
    for fee in BOOK.fees:
        assert fee.known == KNOWN[fee.since][FEE_IDS.index(fee.id)], f"{fee.id} since {fee.since}"


def test_fee_codes_stand_in_the_sheet() -> None:
    for fee in BOOK.fees:
        assert len(fee.codes) == 2 + (fee.micro is not None)
        assert "/".join(fee.codes) in TEXT


def test_the_size_fee_counts_as_the_sheet_says() -> None:
    (rule,) = {(fee.sheets_free, fee.sheets_each, fee.sheet_weight) for fee in BOOK.fees if fee.id == "size"}
    assert rule == (100, 50, 0.75)
    assert "over 100 sheets of paper" in TEXT
    assert "each additional 50 sheets or fraction" in TEXT
    assert "the equivalent is 75 %" in TEXT
