"""Sheets that count, units of the size fee, the worksheet.

K55-K69: RULES-us-filing 9b, with the source named there beside each. The fee rows are those of RULES-us-filing 4,
as far as these values need them.
"""

from __future__ import annotations

import datetime as dt
import math

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from preflight.facts.money import ENTITIES, Fee
from preflight.papers import sheet_count, size_units, total, worksheet
from preflight.testing import filing

DAY = dt.date


def fee(kind: str, since: DAY, undiscounted: int, small: int, micro: int, code: str = "") -> Fee:
    size = {"sheets_free": 100, "sheets_each": 50, "sheet_weight": 0.75} if kind == "size" else {}
    return Fee(
        id=kind,
        since=since,
        undiscounted=undiscounted,
        small=small,
        micro=micro,
        citation="37 CFR 1.16(d)" if kind == "basic" else "37 CFR 1.16(s)",
        known="read",
        codes=tuple(f"{entity}{code}" for entity in "123"),
        **size,  # type: ignore[arg-type]
    )


FEES = (
    fee("basic", DAY(2025, 1, 19), 325, 130, 65, "005"),
    fee("size", DAY(2025, 1, 19), 450, 180, 90, "085"),
    fee("basic", DAY(2022, 12, 29), 300, 120, 60, "005"),
    fee("size", DAY(2022, 12, 29), 420, 168, 84, "085"),
    fee("basic", DAY(2020, 10, 2), 300, 150, 75, "005"),
)
SIZE = FEES[1]
PAPER = msgspec.structs.replace(SIZE, sheet_weight=1.0)
TODAY = DAY(2026, 11, 25)


@pytest.mark.parametrize(
    ("sheets", "units"),
    [
        (100, 0),  # K55, practitioner note 2010 on 1.52(f)(2), MPEP 607
        (133, 0),  # K56, same note: "up to 133 pages"
        (134, 1),  # K57, derived
        *((200, 1), (201, 2)),  # K58, derived
        *((266, 2), (267, 3)),  # K59, derived
        *((333, 3), (334, 4)),  # K60, derived
        (0, 0),
    ],
)
def test_units_of_an_electronic_filing(sheets: int, units: int) -> None:
    assert size_units(sheets, SIZE) == units


@pytest.mark.parametrize(
    ("sheets", "units"),
    # K61, note 2010 (100: derived); K62, derived
    [(100, 0), (101, 1), (150, 1), (151, 2), (200, 2), (201, 3), (250, 3), (251, 4)],
)
def test_units_of_a_filing_on_paper(sheets: int, units: int) -> None:
    assert size_units(sheets, PAPER) == units


@given(st.integers(0, 5000))
def test_the_integer_formula_of_the_rules_sheet(sheets: int) -> None:
    # RULES-us-filing 4a, integers only
    assert size_units(sheets, SIZE) == (0 if 3 * sheets <= 400 else math.ceil((3 * sheets - 400) / 200))


@given(st.integers(0, 3000))
def test_a_further_sheet_never_lowers_the_fee(sheets: int) -> None:
    assert 0 <= size_units(sheets + 1, SIZE) - size_units(sheets, SIZE) <= 1


@pytest.mark.parametrize(
    ("entity", "sheets", "day", "amount"),
    [
        ("micro", 201, TODAY, 245),  # K63, derived: 65 + 2 x 90
        ("undiscounted", 334, TODAY, 2125),  # K64, derived: 325 + 4 x 450
        ("micro", 60, DAY(2023, 1, 5), 60),  # K65, form PTO/SB/16 (12-22)
        ("micro", 12, DAY(2026, 6, 15), 65),  # K66, filing note
        ("micro", 12, DAY(2025, 1, 18), 60),  # K67, fee table
        ("micro", 12, DAY(2025, 1, 19), 65),  # K67
        ("small", 12, DAY(2022, 12, 28), 150),  # K68, fee table
        ("small", 12, DAY(2022, 12, 29), 120),  # K68
        ("small", 134, TODAY, 310),  # K57: 130 + 180
        ("small", 201, TODAY, 490),  # K58: 130 + 360
    ],
)
def test_what_a_payment_comes_to(entity: str, sheets: int, day: dt.date, amount: int) -> None:
    assert total(worksheet(FEES, entity, sheets, day)) == amount


def test_one_line_and_its_code() -> None:
    (line,) = worksheet(FEES, "micro", 12, DAY(2026, 6, 15))
    assert (line.code, line.quantity, line.amount) == ("3005", 1, 65)  # K66: fee code 3005, 65.00, no other line
    assert line.since == DAY(2025, 1, 19)


def test_ratios_of_the_rows() -> None:
    # K69, rule 88 FR 17147: small 40 %, micro 20 % from 29 Dec 2022; before that 50 % and 25 %
    for row in FEES:
        small, micro = (40, 20) if row.since >= DAY(2022, 12, 29) else (50, 25)
        assert (100 * (row.small or 0), 100 * (row.micro or 0)) == (small * row.undiscounted, micro * row.undiscounted)


def test_a_day_before_the_table() -> None:
    assert worksheet(FEES, "small", 12, DAY(2010, 1, 1)) == ()
    assert total(()) is None


def test_a_rate_that_did_not_exist() -> None:
    old = msgspec.structs.replace(FEES[0], since=DAY(2011, 9, 1), micro=None, small=125, undiscounted=250)
    lines = worksheet((old,), "micro", 12, DAY(2012, 1, 1))
    assert lines[0].amount is None
    assert total(lines) is None


@pytest.mark.parametrize("entity", ENTITIES)
def test_no_size_line_below_the_limit(entity: str) -> None:
    assert [line.id for line in worksheet(FEES, entity, 133, TODAY)] == ["basic"]
    assert [line.id for line in worksheet(FEES, entity, 134, TODAY)] == ["basic", "size"]


def test_forms_do_not_count_as_sheets() -> None:
    # us.fee.size.count: description, claims, abstract, drawings; us.fee.size.no-forms
    papers = [
        {"role": "specification", "pages": 10},
        {"role": "claims", "pages": 2},
        {"role": "abstract", "pages": 1},
        {"role": "drawings", "pages": 3},
        {"role": "cover-sheet", "pages": 2},
        {"role": "entity-certification", "pages": 1},
        {"role": "letter", "pages": 1},
    ]
    assert sheet_count(filing({"papers": papers})) == 16
