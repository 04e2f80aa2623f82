"""Scanned forms from readings made by hand: how far they may lie askew, what is sure, what is only seen as ink.

No picture is read here; that the reader of pictures sees such strings is tested in tests/forms.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from preflight.checks.built_in import CHECKS
from preflight.facts import Box, Square
from preflight.judging import Finding
from preflight.papers import FormEntry, Paper, form_table, signing
from preflight.testing import filing, judged, paper, requirements, rulebook

SHEET = (21.59, 27.94)
CELLS = [
    ("Provisional Application Cover Sheet", 5.0, 2.0),
    *(("Given name", 2.2, 4.0), ("Family name", 6.2, 4.0), ("City", 10.2, 4.0), ("State or country", 14.2, 4.0)),
    *(("Ada", 2.2, 4.8), ("Example", 6.2, 4.8), ("Portland", 10.2, 4.8), ("Oregon", 14.2, 4.8)),
    *(("Bo", 2.2, 5.6), ("Muster", 6.2, 5.6), ("Salem", 10.2, 5.6), ("Oregon", 14.2, 5.6)),
    *(("Title of the invention", 2.2, 6.8), ("Hose guide", 9.0, 6.8)),
    *(("Docket number", 2.2, 7.6), ("DEMO-0417", 9.0, 7.6)),
    *(("Drawings, number of sheets", 2.2, 8.4), ("3", 9.0, 8.4)),
    *(("Small entity", 2.9, 9.6), ("Micro entity", 2.9, 10.4)),
    *(("Signature", 2.2, 18.0), ("Date", 2.2, 19.0), ("2026-11-20", 9.0, 19.0)),
]
WHAT_IT_SAYS = {
    "inventor 1": "Ada Example",
    "residence 1": "Portland, Oregon",
    "inventor 2": "Bo Muster",
    "residence 2": "Salem, Oregon",
    "title": "Hose guide",
    "docket number": "DEMO-0417",
    "sheets": "3",
    "small": "not ticked",
    "micro": "ticked",
    "date": "2026-11-20",
}


def scanned(
    askew: float = 0.0, doubtful: str = "", scrawl: bool = False, spoilt: Mapping[int, tuple[str, float]] = {}
) -> dict[str, Any]:
    """The cells turned about the middle of the sheet, as they are read from its picture.

    `spoilt`: by the number of a cell what is read in its stead, and how sure the least sure letter is.
    """
    turn = math.radians(askew)

    def turned(left: float, top: float, right: float, bottom: float) -> Box:
        across, down = (left + right) / 2 - SHEET[0] / 2, (top + bottom) / 2 - SHEET[1] / 2
        x = across * math.cos(turn) - down * math.sin(turn) + SHEET[0] / 2
        y = across * math.sin(turn) + down * math.cos(turn) + SHEET[1] / 2
        high = (bottom - top) + (right - left) * abs(math.sin(turn))
        return Box(x - (right - left) / 2, y - high / 2, x + (right - left) / 2, y + high / 2)

    readings: list[dict[str, Any]] = [
        {
            "text": text,
            "box": list(turned(left, top, left + 0.19 * len(text), top + 0.55).__reduce__()[1]),
            "mean": 0.99,
            "lowest": 0.6 if text == doubtful else lowest,
        }
        for number, (printed, left, top) in enumerate(CELLS)
        for text, lowest in [spoilt.get(number, (printed, 0.99))]
    ]
    if scrawl:
        readings.append({"text": "An", "box": [9.0, 17.3, 13.0, 18.7], "mean": 0.4, "lowest": 0.2})
    squares = tuple(
        Square(turned(2.2, top + 0.05, 2.6, top + 0.45), filled) for top, filled in ((9.6, 0.0), (10.4, 0.4))
    )
    page = {
        "ink": [2, 2, 19, 26],
        "pictures": [{"box": [0, 0, *SHEET]}],
        "readings": readings,
        "squares": squares,
    }
    return {"role": "cover-sheet", "pages": [page]}


def scan(askew: float = 0.0, doubtful: str = "", scrawl: bool = False) -> Paper:
    return paper(scanned(askew, doubtful, scrawl))


def table(one: Paper) -> dict[str, FormEntry]:
    return {entry.name: entry for entry in form_table(one)}


@settings(deadline=None, max_examples=40)
@given(st.floats(-1.0, 1.0))
def test_a_sheet_may_lie_askew_by_a_degree(askew: float) -> None:
    found = table(scan(askew))
    assert {name: found[name].text for name in WHAT_IT_SAYS} == WHAT_IT_SAYS
    assert all(found[name].sure for name in WHAT_IT_SAYS)


@pytest.mark.parametrize(("text", "name"), [("Hose guide", "title"), ("Muster", "inventor 2"), ("3", "sheets")])
def test_what_the_reader_doubts_is_not_sure(text: str, name: str) -> None:
    found = table(scan(doubtful=text))
    assert found[name].text == WHAT_IT_SAYS[name]
    assert not found[name].sure
    assert found["docket number"].sure


def test_of_a_picture_nothing_is_empty() -> None:
    """The reader may have missed it."""
    found = table(scan())
    assert {entry.state for entry in found.values() if not entry.text} <= {"not readable"}


def test_a_scrawl_is_ink_in_the_place_of_the_signature() -> None:
    assert signing(scan(scrawl=True)).kind == "ink"
    assert signing(scan()).kind == "unread"
    assert signing(scan(doubtful="Date")).kind == "unread"


SPECIFICATION = {"role": "specification", "pages": [{"text": ["HOSE GUIDE", "", "The roller tilts."], "foot": "1"}]}
MICRO = {
    "role": "entity-certification",
    "pages": [
        "CERTIFICATION OF MICRO ENTITY STATUS (GROSS INCOME BASIS)\nFirst named inventor: Ada Example\n"
        "Title of invention: Hose guide\nSignature: /Ada Example/\nName: Ada Example"
    ],
}
MISREAD = st.tuples(st.text("abcdeABCDE0123456789/. ", min_size=1, max_size=12), st.sampled_from([0.3, 0.6, 0.9, 0.99]))
"""What a reader of pictures may make of a cell, however sure it is of it."""
RULES, FEES = requirements("us"), rulebook("us").fees


@settings(deadline=None, max_examples=40)
@given(st.floats(-1.0, 1.0), st.dictionaries(st.integers(0, len(CELLS) - 1), MISREAD, max_size=6))
def test_whatever_is_misread_on_a_scan_is_asked_at_a_page_and_never_asserted(
    askew: float, spoilt: dict[int, tuple[str, float]]
) -> None:
    found = said_of(scanned(askew, spoilt=spoilt))
    unread = [one for one in found if one.state == "unread"]
    assert any(place.file == "cover-sheet.pdf" for one in unread for place in one.places)
    assert all(place.page for one in unread for place in one.places)
    assert broken(found) == broken(said_of(scanned())), "on no paper, whatever the scan seems to say"
    assert all(one.box and one.page == 1 for one in form_table(paper(scanned(askew, spoilt=spoilt))))


def said_of(cover: dict[str, Any]) -> tuple[Finding, ...]:
    words = {"papers": [SPECIFICATION, cover, MICRO]}
    return judged(filing(words, fees=FEES), RULES, CHECKS).findings


def broken(found: tuple[Finding, ...]) -> set[tuple[str, str | None]]:
    return {(one.requirement.id, place.file) for one in found if one.state == "broken" for place in one.places}
