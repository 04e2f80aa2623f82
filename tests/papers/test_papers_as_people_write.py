"""Lay-outs and wordings met in bundles that nobody made for the tests; each once read wrongly.

The lay-outs are our own; what they must give is common practice, no source, unless a source is named.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

import msgspec
import pytest

from preflight.facts import FileFacts, Page
from preflight.facts.money import Fee
from preflight.papers import (
    BUILT_IN_ROLES,
    Declared,
    Paper,
    body,
    cover_sheet,
    dockets,
    entity_claimed,
    find_papers,
    title_of,
)
from preflight.testing import filing, paper

PROSE = [
    "The present disclosure relates to drawing boards, and more particularly to boards on which a sheet of paper",
    "is held by a magnetic sheet. Drawing boards for school use hold the paper by clips at one edge, and the edge",
    "that lies opposite lifts when a ruler is moved over it, so that the lines go astray and must be drawn again.",
]
FEES = (
    Fee(
        id="basic",
        since=dt.date(2025, 1, 19),
        undiscounted=325,
        small=130,
        micro=65,
        citation="37 CFR 1.16(d)",
        known="read",
    ),
)


def described(*lines: str) -> FileFacts:
    made = paper({"role": "specification", "pages": [{"text": list(lines)}]})
    return FileFacts(name="application.pdf", size=1, sha256="11", media_type="application/pdf", pages=made.pages)


def roles(file: FileFacts) -> list[str]:
    return [p.role for p in find_papers([file], BUILT_IN_ROLES, Declared())]


@pytest.mark.parametrize("heading", ["Cover Sheet", "Transmittal", "Application Data Sheet", "Power of Attorney"])
def test_a_heading_in_the_body_does_not_make_a_form_of_a_description(heading: str) -> None:
    assert roles(described("Claims Intake Server", "BACKGROUND", *PROSE, heading, *PROSE)) == ["specification"]


def test_a_description_headed_as_a_provisional_application_is_no_cover_sheet() -> None:
    title = "Drawing Board With Magnetic Cover Sheet"
    assert roles(described("PROVISIONAL PATENT APPLICATION", title, "FIELD", *PROSE)) == ["specification"]


def form(*rows: str | tuple[str, ...], kind: str = "cover-sheet") -> Paper:
    head = {"text": "PROVISIONAL APPLICATION FOR PATENT COVER SHEET", "at": [4, 2.2]}
    lines = []
    for number, row in enumerate(rows):
        cells = (row,) if isinstance(row, str) else row
        lines += [
            {"text": cell, "at": [left, 4 + 0.8 * number]} for left, cell in zip((2, 9), cells, strict=False) if cell
        ]
    return paper({"role": kind, "pages": [{"text": [head, *lines]}]})


def claimed(*rows: str | tuple[str, ...]) -> tuple[str | None, str]:
    made = msgspec.structs.replace(filing({"papers": []}, fees=FEES), papers=(form(*rows),))
    found = entity_claimed(made)
    return found.name, found.how_known


@pytest.mark.parametrize(
    ("row", "entity"),
    [
        ("\u2610 undiscounted  \u2610 small  \u2612 micro", "micro"),
        ("\u2610 undiscounted  \u2612 small  \u2610 micro", "small"),
        ("\u2612 undiscounted  \u2610 small  \u2610 micro", "undiscounted"),
        ("The applicant is a small entity.", "small"),
        ("No claim to small or micro entity status is made.", None),
        ("Small entity status is not claimed.", None),
        (("Small entity status claimed", "Yes"), "small"),
        ("The small entity filing fee of $130 is paid herewith.", "small"),  # 37 CFR 1.27(c)(3): the payment asserts
        ("The basic filing fee of $325.00 is paid herewith.", "undiscounted"),
    ],
)
def test_entity_as_people_state_it(row: Any, entity: str | None) -> None:
    assert claimed("Title: Hose Clamp", row)[0] == entity


def test_a_value_in_two_lines_beside_a_label_at_the_foot_of_its_cell() -> None:
    made = paper(
        {
            "role": "application-data-sheet",
            "pages": [
                {
                    "text": [
                        {"text": "Application Data Sheet", "at": [7, 2]},
                        {"text": "Scheduling Transmissions According to Predicted", "at": [9, 5.0], "size": 9},
                        {"text": "Title of the invention", "at": [2.4, 5.45], "size": 9},
                        {"text": "Remaining Energy", "at": [9, 5.45], "size": 9},
                        {"text": "Attorney docket number", "at": [2.4, 6.1], "size": 9},
                        {"text": "DEMO-0023", "at": [9, 6.1], "size": 9},
                    ]
                }
            ],
        }
    )
    found = cover_sheet(made)
    assert found is not None
    assert found.title is not None
    assert found.title.value == "Scheduling Transmissions According to Predicted Remaining Energy"


def specification(*pages: Any) -> Paper:
    return paper({"role": "specification", "pages": list(pages)})


def test_a_by_line_is_no_part_of_the_title() -> None:
    made = specification({"text": ["Drawing Board With Position Marks", "Ada Example", "FIELD", *PROSE]})
    found = title_of(made, ("Ada Example",))
    assert found is not None
    assert found.value == "Drawing Board With Position Marks"


def test_a_parts_name_on_one_page_is_no_docket_number_and_a_strayed_header_is_one() -> None:
    def page(header: str, *lines: str) -> dict[str, Any]:
        return {"text": [{"text": header, "at": [15, 1.3]}, *lines]}

    pages = [page("DEMO-0417", *PROSE), page("DEMO-0417", *PROSE), page("DEMO-0388", *PROSE)]
    strayed = specification(*pages, {"text": [{"text": "ESP32-S3 board", "at": [2.54, 2.5]}, *PROSE]})
    assert {said.value for said in dockets(strayed)} == {"DEMO-0417", "DEMO-0388"}


def test_a_header_of_two_lines_is_no_body() -> None:
    made = specification(
        {
            "text": [
                {"text": "PATENT", "at": [17.4, 1.37]},
                {"text": "Attorney Docket No. DEMO-0417", "at": [12.7, 1.84]},
                {"text": "CLAIMS", "at": [2.54, 2.65]},
                {"text": "What is claimed is:", "at": [2.54, 3.58]},
            ]
        }
    )
    page: Page = made.pages[0]
    box = body(page, made)
    assert box is not None
    assert box.top > 2.5


def test_a_single_line_number_is_no_body() -> None:
    made = specification({"text": [*PROSE, {"text": "5", "at": [1.6, 3.29]}]})
    box = body(made.pages[0], made)
    assert box is not None
    assert box.left > 2.5
