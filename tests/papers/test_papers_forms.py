"""Cover sheets, data sheets, letters and certifications, filled in the many ways that people fill them in.

What a cover sheet says: 37 CFR 1.51(c)(1), RULES-us-filing 1b. The lay-outs are ours; people are invented.
"""

from __future__ import annotations

from typing import Any

import msgspec
import pytest

from preflight.facts import Box, Square
from preflight.papers import (
    Paper,
    certification,
    cover_sheet,
    inventors,
    says_provisional,
    serves_as_cover_sheet,
    title_of,
)
from preflight.papers.forms.cover_sheets import dollars
from preflight.testing import filing, paper

HEAD = {"text": "PROVISIONAL APPLICATION FOR PATENT COVER SHEET", "at": [4, 2.2]}


def form(
    *rows: str | tuple[str, ...], role: str = "cover-sheet", lefts: tuple[float, ...] = (2, 9, 15), **more: Any
) -> Paper:
    """Rows of one cell or several, 0.8 cm apart."""
    lines = []
    for number, row in enumerate(rows):
        cells = (row,) if isinstance(row, str) else row
        lines += [
            {"text": cell, "at": [left, 4 + 0.8 * number]} for left, cell in zip(lefts, cells, strict=False) if cell
        ]
    return paper({"role": role, "pages": [{"text": [HEAD, *lines]}], **more})


def sheet(*rows: str | tuple[str, ...], **more: Any) -> Any:
    found = cover_sheet(form(*rows, **more))
    assert found is not None
    return found


FULL = {
    "colons": (
        "Docket No.: DEMO-0417",
        "Title of the Invention: Hose Clamp with Lever",
        "Inventors: Ada Example, Portland, Oregon; Ben Sample, Munich, Germany",
        "Entity status: [ ] Undiscounted [X] Small entity [ ] Micro entity",
        "Total fee (USD): 130.00",
        "Specification: 12 pages",
        "Drawings: 3 sheets",
    ),
    "two columns": (
        ("Docket number", "DEMO-0417"),
        ("Title of the invention", "Hose Clamp with Lever"),
        ("Inventor 1", "Ada Example, Portland, Oregon"),
        ("Inventor 2", "Ben Sample, Munich, Germany"),
        ("Total fee", "$130"),
        ("Specification, number of pages", "12"),
        ("Drawings, number of sheets", "3"),
        "\u2610 Undiscounted",
        "\u2612 Small entity (37 CFR 1.27)",
        "\u2610 Micro entity (37 CFR 1.29)",
    ),
    "a table": (
        ("Name", "City", "State or country"),
        ("Ada Example", "Portland", "Oregon"),
        ("Ben Sample", "Munich", "Germany"),
        "Title: Hose Clamp with Lever",
        "Attorney docket: DEMO-0417",
        "X Applicant asserts small entity status.",
        "Applicant certifies micro entity status.",
        "TOTAL FEE AMOUNT ($): 130.00",
        "Drawing(s) Number of Sheets 3",
        "Specification (e.g., description of the invention) Number of Pages 12",
    ),
    "labels above": (
        ("TITLE OF THE INVENTION (500 characters max)",),
        ("Hose Clamp with Lever",),
        "DOCKET NUMBER",
        "DEMO-0417",
        "INVENTORS",
        "1. Ada Example (Portland, Oregon)",
        "2. Ben Sample (Munich, Germany)",
        "ENTITY STATUS: Small entity",
        "FEE: 130.00",
        "12 pages of specification, 3 sheets of drawings",
    ),
}


@pytest.mark.parametrize("rows", FULL.values(), ids=FULL.keys())
def test_the_same_sheet_in_many_lay_outs(rows: tuple[str | tuple[str, ...], ...]) -> None:
    found = sheet(*rows)
    assert found.provisional
    assert found.title.value == "Hose Clamp with Lever"
    assert found.docket.value == "DEMO-0417"
    assert [(one.name, one.city, one.region) for one in found.inventors] == [
        ("Ada Example", "Portland", "Oregon"),
        ("Ben Sample", "Munich", "Germany"),
    ]
    assert (found.small.tick, found.micro.tick == "ticked") == ("ticked", False)
    assert found.fee.dollars == 130
    assert (found.pages.number, found.sheets.number) == (12, 3)


def test_the_form_with_columns_for_given_and_family_name() -> None:
    found = sheet(
        (
            "Given Name (first and middle [if any])",
            "Family Name or Surname",
            "Residence (City and either State or Foreign Country)",
        ),
        ("Ada M.", "Example", "Portland, Oregon"),
        ("Ben", "Sample", "Munich"),
        "Additional inventors are being named on the __ separately numbered sheets attached hereto.",
        lefts=(1.5, 9.5, 14),
    )
    first, second = found.inventors
    assert (first.given, first.family, first.city, first.region) == ("Ada M.", "Example", "Portland", "Oregon")
    assert (second.name, second.city, second.region) == ("Ben Sample", "Munich", None)


def test_a_title_goes_on_in_the_next_line_where_its_line_is_full() -> None:
    title = [
        {"text": "SYSTEMS AND METHODS FOR ADAPTIVE ROUTING OF SENSOR TELEMETRY USING LEARNED", "box": [2, 6, 19, 6.27]}
    ]
    label, rest = (
        {"text": "TITLE OF THE INVENTION", "at": [2, 5.25]},
        {"text": "EMBEDDINGS", "box": [2, 6.75, 4.5, 7.01]},
    )
    full = paper({"role": "cover-sheet", "pages": [{"text": [HEAD, label, *title, rest]}]})
    assert title_of(full).value.endswith("USING LEARNED EMBEDDINGS")  # type: ignore[union-attr]
    narrow = {**title[0], "text": "TELEMETRY ROUTER", "box": [2, 6, 7, 6.27]}
    assert (
        title_of(paper({"role": "cover-sheet", "pages": [{"text": [HEAD, label, narrow, rest]}]})).value
        == "TELEMETRY ROUTER"
    )  # type: ignore[union-attr]


def test_cells_that_stand_close_are_parted_again() -> None:
    """A program sets the columns as wide as their cells: heads and cells run together. How it is set: from memory."""

    def cell(text: str, left: float, top: float, right: float) -> dict[str, Any]:
        return {"text": text, "box": [left, top, right, top + 0.3]}

    lines = [
        cell("Given name Family name Residence", 5.53, 7.08, 12.73),
        cell("Lucius", 5.53, 7.81, 6.65),
        cell("Fenwarden Cobalt Springs, Colorado, US", 8.37, 7.81, 16.04),
        cell("Ngaio Te", 5.53, 8.53, 7.09),
        cell("Porere", 8.37, 8.53, 9.45),
        cell("Wairau Bluff, New Zealand", 11.01, 8.53, 15.72),
        cell("Dr. Emmerich Zoll", 5.53, 9.24, 9.06),
        cell("Linz-Urfahr, Austria", 11.02, 9.24, 14.5),
    ]
    found = cover_sheet(paper({"role": "cover-sheet", "pages": [{"text": [HEAD, *lines]}]}))
    assert found is not None
    assert [(one.name, one.residence) for one in found.inventors] == [
        ("Lucius Fenwarden", "Cobalt Springs, Colorado, US"),
        ("Ngaio Te Porere", "Wairau Bluff, New Zealand"),
        ("Dr. Emmerich Zoll", "Linz-Urfahr, Austria"),
    ]


def test_an_inventor_without_residence_is_still_named() -> None:
    (one,) = inventors(form("Inventor: Ada Example", "Title: Hose Clamp"))
    assert (one.name, one.residence, one.city) == ("Ada Example", None, None)


def test_names_and_places_under_each_other() -> None:
    rows = (
        "Inventor 1",
        "Name: Ada Example",
        "City: Portland",
        "State: Oregon",
        "Inventor 2",
        "Name: Ben Sample",
        "Residence: Munich, Germany",
    )
    assert [(one.name, one.city, one.region) for one in inventors(form(*rows))] == [
        ("Ada Example", "Portland", "Oregon"),
        ("Ben Sample", "Munich", "Germany"),
    ]


def test_the_correspondence_address_names_no_inventor() -> None:
    rows = (
        "Inventor: Ada Example, Portland, Oregon",
        "Correspondence address: Cleo Muster, 1 Sample Lane, Salem, Oregon 97301",
        "Telephone: 555-0100",
    )
    found = sheet(*rows)
    assert [one.name for one in found.inventors] == ["Ada Example"]
    assert found.address.value.startswith("Cleo Muster")


def test_form_fields_speak_by_name_or_description() -> None:
    fields = [
        {"name": "Given Name first and middle if anyRow1", "value": "Ada", "box": [2, 5, 6, 5.5]},
        {"name": "Family Name or SurnameRow1", "value": "Example", "box": [7, 5, 11, 5.5]},
        {
            "name": "Residence City and either State or Foreign CountryRow1",
            "value": "Portland, Oregon",
            "box": [12, 5, 18, 5.5],
        },
        {"name": "Given Name first and middle if anyRow2", "value": None, "box": [2, 6, 6, 6.5]},
        {"name": "Text7", "label": "TITLE OF THE INVENTION", "value": "Hose Clamp with Lever", "box": [2, 8, 18, 8.5]},
        {"name": "Docket Number", "value": "DEMO-0417", "box": [2, 9, 8, 9.5]},
        {"name": "Check1", "label": "Applicant asserts small entity status", "kind": "tick", "value": None},
        {"name": "Check2", "label": "Applicant certifies micro entity status", "kind": "tick", "value": "Yes"},
    ]
    found = sheet(fields=fields)
    assert [(one.name, one.city, one.region) for one in found.inventors] == [("Ada Example", "Portland", "Oregon")]
    assert (found.title.value, found.docket.value) == ("Hose Clamp with Lever", "DEMO-0417")
    assert (found.small.tick, found.micro.tick) == ("empty", "ticked")


def test_a_tick_field_is_known_by_the_words_to_its_right() -> None:
    fields = [{"name": "Box 12", "kind": "tick", "value": "On", "box": [2, 4, 2.4, 4.4]}]
    found = cover_sheet(
        paper(
            {
                "role": "cover-sheet",
                "fields": fields,
                "pages": [{"text": [HEAD, {"text": "Small entity", "at": [3, 4]}]}],
            }
        )
    )
    assert found is not None
    assert found.small.tick == "ticked"


@pytest.mark.parametrize(
    ("row", "small", "micro"),
    [
        ("\u2610 Small entity \u2612 Micro entity", "empty", "ticked"),
        ("\u2611 Small entity \u2610 Micro entity", "ticked", "empty"),
        ("[x] Small entity [ ] Micro entity", "ticked", "empty"),
        ("(X) Small entity ( ) Micro entity", "ticked", "empty"),
        ("Small entity [ ] Micro entity [X]", "empty", "ticked"),
        ("\u2713 Small entity", "ticked", "not there"),
        ("\uf0fe Small entity \uf0a8 Micro entity", "ticked", "empty"),
        ("[X] Small entity [X] Micro entity", "ticked", "ticked"),
        ("\u2610 Small entity \u2610 Micro entity", "empty", "empty"),
        ("Entity status: micro entity", "not there", "ticked"),
        ("Entity: undiscounted", "not there", "not there"),
        ("Applicant asserts small entity status under 37 CFR 1.27.", "ticked", "not there"),
    ],
)
def test_ticks_in_all_their_shapes(row: str, small: str, micro: str) -> None:
    found = sheet("Title: Hose Clamp", row)
    assert (found.small.tick, found.micro.tick) == (small, micro)


@pytest.mark.parametrize(
    ("said", "tick"),
    [
        ("undiscounted (other than small or micro entity)", "undiscounted"),
        ("large entity (not small or micro)", "undiscounted"),
        ("small (not micro)", "small"),
        ("small entity. Micro entity status is not claimed.", "small"),
        ("not a small entity", "undiscounted"),
        ("micro entity (gross income basis)", "micro"),
    ],
)
def test_an_entity_that_is_denied_is_not_claimed(said: str, tick: str) -> None:  # how it is worded: from memory
    found = sheet("Title: Hose Clamp", f"Entity status: {said}")
    ticked = {name for name in ("small", "micro") if getattr(found, name).tick == "ticked"}
    assert ticked == ({tick} - {"undiscounted"})


def test_boxes_that_are_drawn_cannot_be_told() -> None:
    found = sheet("Applicant asserts small entity status.", "Applicant certifies micro entity status.")
    assert (found.small.tick, found.micro.tick) == ("unreadable", "unreadable")


def test_a_cross_typed_into_a_drawn_box_settles_the_group() -> None:
    found = sheet(
        ("X", "Applicant certifies micro entity status."),
        ("", "Applicant asserts small entity status."),
        lefts=(2, 2.6),
    )
    assert (found.small.tick, found.micro.tick) == ("empty", "ticked")


def test_printed_amounts_of_the_form_are_no_tick_and_no_fee() -> None:
    # form PTO/SB/16 (12-22) prints 300/120/60
    found = sheet("Filing Fee of $300 ($120 for small entity) ($60 for micro entity).", "Total fee amount: 60")
    assert (found.small.tick, found.micro.tick) == ("not there", "not there")
    assert found.fee.dollars == 60


@pytest.mark.parametrize(
    ("text", "amount"),
    [("$325.00", 325), ("USD 65", 65), ("1,234", 1234), ("65.50", None), ("none", None), ("$2,125.00", 2125)],
)
def test_dollars(text: str, amount: int | None) -> None:
    assert dollars(text) == amount


QUESTION = "The invention was made under a contract with an agency of the United States Government:"


@pytest.mark.parametrize(
    ("rows", "answer"),
    [
        (("Government interest: No",), "no"),
        ((("Government interest", "Yes"),), "yes"),
        ((QUESTION + " [X] No [ ] Yes",), "no"),
        ((QUESTION, "X No.", "Yes, the agency is: ____"), "no"),
        ((QUESTION, "\u2610 No", "\u2612 Yes"), "yes"),
        ((QUESTION, "[ ] No", "[ ] Yes"), "unanswered"),
        ((QUESTION, "No.", "Yes, the agency is:"), "unreadable"),
    ],
)
def test_the_question_about_the_government(rows: tuple[Any, ...], answer: str) -> None:
    assert sheet("Title: Hose Clamp", *rows).government.value == answer


def test_the_edition_of_the_form() -> None:
    found = cover_sheet(
        paper({"role": "cover-sheet", "pages": [{"text": [{"text": "PTO/SB/16 (12-22)", "at": [16, 1]}, HEAD]}]})
    )
    assert found is not None
    assert found.edition == "12-22"


def test_a_cover_sheet_need_not_say_provisional_and_then_does_not() -> None:
    plain = [{"text": "Application Cover Sheet", "at": [6, 2.2]}, {"text": "Nonprovisional", "at": [2, 5]}]
    assert says_provisional(paper({"role": "cover-sheet", "pages": [{"text": plain}]})) is None


@pytest.mark.parametrize(
    ("rows", "provisional"),
    [
        (("Application Type: Provisional",), True),
        ((("Application Type", "Provisional"),), True),
        (("Application Type: Nonprovisional",), False),
        (("Application Type: Nonprovisional", "Domestic benefit: claims benefit of provisional 63/000,000"), False),
        (("\u2612 Provisional \u2610 Nonprovisional",), True),
        (("\u2610 Provisional \u2612 Nonprovisional",), False),
    ],
)
def test_the_type_on_a_data_sheet(rows: tuple[Any, ...], provisional: bool) -> None:
    lines = [{"text": "APPLICATION DATA SHEET", "at": [6, 2.2]}]
    for number, row in enumerate(rows):
        cells = (row,) if isinstance(row, str) else row
        lines += [{"text": cell, "at": [2 + 7 * n, 4 + number]} for n, cell in enumerate(cells)]
    found = paper({"role": "application-data-sheet", "pages": [{"text": lines}]})
    assert (says_provisional(found) is not None) is provisional


LETTER = [
    "Commissioner for Patents",
    'Re: Provisional patent application entitled "Hose Clamp with Lever"',
    "Our Ref.: DEMO-0417",
    "Dear Sir or Madam:",
    "Enclosed is a provisional application with 12 pages of specification and 3 sheets of drawings.",
    "The inventors are Ada M. Example, residing at Portland, Oregon, and Ben Sample, residing at Munich, Germany.",
    "Applicant asserts small entity status. The filing fee of $130 is paid herewith.",
    "Respectfully submitted,",
    "/Cleo Muster/",
    "Cleo Muster",
]


def test_a_letter_in_sentences() -> None:
    found = cover_sheet(paper({"role": "letter", "pages": [{"text": LETTER}]}))
    assert found is not None
    assert found.title is not None
    assert (found.title.value, found.docket and found.docket.value) == ("Hose Clamp with Lever", "DEMO-0417")
    assert [(one.name, one.city, one.region) for one in found.inventors] == [
        ("Ada M. Example", "Portland", "Oregon"),
        ("Ben Sample", "Munich", "Germany"),
    ]
    assert (found.small.tick, found.micro.tick) == ("ticked", "not there")
    assert found.fee is not None
    assert found.fee.dollars == 130
    assert found.pages is not None
    assert found.sheets is not None
    assert (found.pages.number, found.sheets.number) == (12, 3)
    assert found.signing is not None
    assert found.signing.signed


def test_what_serves_as_a_cover_sheet() -> None:
    # us.prov.cover: form, data sheet of type provisional, or letter; K80
    letter = {"role": "letter", "pages": [{"text": LETTER}]}
    data = {
        "role": "application-data-sheet",
        "pages": [{"text": ["Application Data Sheet", "Application Type: Provisional"]}],
    }
    cover = {"role": "cover-sheet", "pages": [{"text": [HEAD]}]}
    other = {
        "role": "letter",
        "file": "b.pdf",
        "pages": [{"text": ["Dear Sir:", "claims the benefit of a provisional application."]}],
    }
    assert [p.role for p in serves_as_cover_sheet(filing({"papers": [letter, data, cover, other]}))] == [
        "cover-sheet",
        "application-data-sheet",
        "letter",
    ]
    assert serves_as_cover_sheet(filing({"papers": [other]})) == ()
    assert cover_sheet(filing({"papers": [other]})) is None


def test_a_scanned_cover_sheet_is_unread_and_not_empty() -> None:
    found = cover_sheet(paper({"role": "cover-sheet", "pages": [{"ink": [2, 2, 19, 26]}]}))
    assert found is not None
    assert found.unread


CERTIFICATE = {"text": "CERTIFICATION OF MICRO ENTITY STATUS (GROSS INCOME BASIS)", "at": [3, 2.2]}


@pytest.mark.parametrize(
    "rows",
    [
        (
            "First Named Inventor: Ada Example",
            "Title of Invention: Hose Clamp",
            "Signature: /Ada Example/",
            "Name: Ada Example",
        ),
        (
            ("First named inventor", "Ada Example"),
            ("Title of the invention", "Hose Clamp"),
            ("Signature", "/Ada Example/"),
            ("Name", "Ada Example"),
        ),
        (
            ("First Named Inventor:", "Title of Invention:"),
            ("Ada Example", "Hose Clamp"),
            ("Signature", "/Ada Example/"),
            ("Name", "Ada Example"),
        ),
    ],
    ids=["colons", "two columns", "cells"],
)
def test_a_certification(rows: tuple[Any, ...]) -> None:
    # us.micro.form.identified: first named inventor and title at the top
    lines = [CERTIFICATE]
    for number, row in enumerate(rows):
        cells = (row,) if isinstance(row, str) else row
        lines += [{"text": cell, "at": [2 + 8 * n, 4 + number]} for n, cell in enumerate(cells)]
    found = certification(paper({"role": "entity-certification", "pages": [{"text": lines}]}))
    assert found.basis == "income"
    assert (found.first_inventor and found.first_inventor.value, found.title and found.title.value) == (
        "Ada Example",
        "Hose Clamp",
    )
    assert (found.signing.signed, found.signers) == (True, ("Ada Example",))


@pytest.mark.parametrize(
    ("text", "basis"),
    [
        ("PTO/SB/15A (07-14)", "income"),
        ("PTO/SB/15B (07-14)", "institution"),
        ("(Institution of Higher Education Basis)", "institution"),
        ("Micro entity certification", None),
    ],
)
def test_the_basis_of_a_certification(text: str, basis: str | None) -> None:  # us.micro.form
    found = certification(paper({"role": "entity-certification", "pages": [{"text": [text]}]}))
    assert found.basis == basis


def framed(*rows: tuple[str, float | None]) -> Any:
    """A cover sheet whose boxes are drawn: words, and the share of ink in the frame left of them (None: no frame)."""
    text = [HEAD, *({"text": words, "at": [3.0, 8.0 + number]} for number, (words, _) in enumerate(rows))]
    frames = [
        Square(Box(2.2, 8.02 + number, 2.6, 8.42 + number), filled)
        for number, (_, filled) in enumerate(rows)
        if filled is not None
    ]
    made = paper({"role": "cover-sheet", "pages": [{"text": text}]})
    page = msgspec.structs.replace(made.pages[0], squares=tuple(frames))
    return cover_sheet(msgspec.structs.replace(made, pages=(page,)))


def test_a_drawn_box_is_ticked_by_the_ink_inside() -> None:
    # common practice, no source: forms printed by a browser or a form program draw their boxes
    found = framed(
        ("The applicant asserts small entity status", 0.0), ("The applicant certifies micro entity status", 0.3)
    )
    assert (found.small.tick, found.micro.tick) == ("empty", "ticked")
    blank = framed(
        ("The applicant asserts small entity status", 0.0), ("The applicant certifies micro entity status", 0.0)
    )
    assert (blank.small.tick, blank.micro.tick) == ("empty", "empty")


def test_an_answer_that_ends_the_row() -> None:
    assert sheet(("Small entity status claimed", "Yes")).small.tick == "ticked"
    assert sheet(("Small entity status claimed", "No")).small.tick == "empty"


@pytest.mark.parametrize("ticked", [0, 1])
def test_frames_after_their_words_in_the_cells_of_one_row(ticked: int) -> None:
    """A tick after its label inside one cell; the next cell's frame is not the one before its words."""
    squares = tuple(
        Square(Box(left, 3.95, left + 0.4, 4.35), 0.3 if number == ticked else 0.0)
        for number, left in enumerate((5.0, 11.0))
    )
    row = [{"text": "Small entity", "at": [2, 4]}, {"text": "Micro entity", "at": [8, 4]}]
    found = cover_sheet(paper({"role": "cover-sheet", "pages": [{"text": [HEAD, *row], "squares": squares}]}))
    assert found is not None
    assert [found.small.tick, found.micro.tick] == [("ticked" if number == ticked else "empty") for number in (0, 1)]


def test_a_typed_mark_between_its_words_and_the_rule_in_parentheses() -> None:
    found = sheet("Small entity [X] (37 CFR 1.27)", "Micro entity [ ] (37 CFR 1.29)")
    assert (found.small.tick, found.micro.tick) == ("ticked", "empty")


def test_a_tick_field_after_its_words() -> None:
    fields = [{"name": "Check Box 3", "kind": "tick", "value": "Yes", "box": [5.0, 3.95, 5.4, 4.35]}]
    found = sheet("x", role="cover-sheet", fields=fields)
    assert found.small.tick == "not there"
    line = [{"text": "Small entity", "at": [2, 4]}]
    after = cover_sheet(paper({"role": "cover-sheet", "pages": [{"text": [HEAD, *line]}], "fields": fields}))
    assert after is not None
    assert after.small.tick == "ticked"


@pytest.mark.parametrize("heads_again", [True, False])
def test_a_table_of_inventors_goes_on_over_the_page(heads_again: bool) -> None:
    def row(top: float, *cells: str) -> list[dict[str, Any]]:
        return [{"text": cell, "at": [left, top]} for cell, left in zip(cells, (2, 6, 10, 14), strict=True)]

    heads = ("Given name", "Family name", "City", "State or country")
    first = [HEAD, *row(5, *heads), *row(5.8, "Ada", "Example", "Portland", "Oregon")]
    second = [*(row(3, *heads) if heads_again else []), *row(3.8, "Bo", "Muster", "Salem", "Oregon")]
    found = inventors(paper({"role": "cover-sheet", "pages": [{"text": first}, {"text": second}]}))
    assert [(one.name, one.city) for one in found] == [("Ada Example", "Portland"), ("Bo Muster", "Salem")]
    assert [one.place.page for one in found if one.place] == [1, 2]
