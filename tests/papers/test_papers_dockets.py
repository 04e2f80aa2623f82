"""Docket numbers that a paper says. Shapes and labels are common practice, no source."""

from __future__ import annotations

from typing import Any

import pytest

from preflight.papers import dockets, fold_docket
from preflight.testing import paper

PROSE = "The lever turns about the pin and lifts the band of the clamp away from the wall of the hose."


def found(*lines: str | dict[str, Any], role: str = "specification") -> list[str]:
    return [said.value for said in dockets(paper({"role": role, "pages": [{"text": list(lines)}]}))]


@pytest.mark.parametrize(
    ("line", "docket"),
    [
        ("Attorney Docket No. DEMO-0417", "DEMO-0417"),
        ("Attorney Docket Number: DEMO.0417/US", "DEMO.0417/US"),
        ("Docket: 1001-0005", "1001-0005"),
        ("Docket No.: 1001-0005 PROV", "1001-0005 PROV"),
        ("Atty. Dkt. No. 417", "417"),
        ("Our Ref.: P417US", "P417US"),
        ("Ref: HC-417", "HC-417"),
        ("Client/Matter No. 12345.0012", "12345.0012"),
        ("Docket No.: HOSECLAMP-P", "HOSECLAMP-P"),
        ("Attorney's Docket No. DEMO-0417", "DEMO-0417"),
    ],
)
def test_a_labelled_docket_number(line: str, docket: str) -> None:
    assert found(line, PROSE) == [docket]


@pytest.mark.parametrize(
    "line",
    [
        "the docket is kept",
        "reference numeral 12",
        "Docket No. (optional)",
        "Docket No.:",
        "as said in U.S. application Ser. No. 17/000,000 (Attorney Docket No. OTHER-9), filed the same day herewith,",
        "the file number 12 is stored in the table of the controller and read again at the next start of it",
    ],
)
def test_what_is_no_docket_number(line: str) -> None:
    assert found(PROSE, PROSE, line, PROSE) == []


@pytest.mark.parametrize("header", ["DEMO-0417", "DEMO-0417 Page 3", "Hose clamp - DEMO-0417", "1001.0005.P1"])
def test_a_bare_docket_number_in_a_header(header: str) -> None:
    assert len(found({"text": header, "at": [2.54, 1.2]}, PROSE)) == 1


@pytest.mark.parametrize(
    "header",
    [
        "1/3",
        "11/25/2026",
        "2026-11-25",
        "63/000,000",
        "PTO/SB/16 (12-22)",
        "FIG. 1",
        "US-9000000",
        "555-0100",
        "OMB 0651-0000",
    ],
)
def test_other_tokens_in_a_header(header: str) -> None:
    assert found({"text": header, "at": [2.54, 1.2]}, PROSE) == []


def test_a_model_number_in_the_text_is_none() -> None:
    assert found(PROSE, PROSE, "Model RS-232 is used.", PROSE) == []


def test_beside_or_under_a_bare_label_of_a_form() -> None:
    beside = [{"text": "Docket number", "at": [2, 5]}, {"text": "DEMO-0417", "at": [9, 5]}]
    under = [{"text": "DOCKET NUMBER", "at": [2, 5]}, {"text": "DEMO-0417", "at": [2, 5.6]}]
    assert found(*beside, role="cover-sheet") == ["DEMO-0417"]
    assert found(*under, role="cover-sheet") == ["DEMO-0417"]


def test_once_a_page_however_it_is_written() -> None:
    assert found({"text": "Docket DEMO-0417", "at": [2, 1.2]}, {"text": "DEMO0417", "at": [2, 26.8]}) == ["DEMO-0417"]


def test_folded_as_the_office_keeps_it() -> None:
    # RULES-us-filing 6a: spaces, slashes, hyphens dropped in the office's copy
    assert fold_docket("demo-0417 / us") == fold_docket("DEMO0417US") == "DEMO0417US"


def test_invisible_text_says_nothing() -> None:
    assert found({"text": "Docket No. DEMO-0417", "visible": False}) == []
