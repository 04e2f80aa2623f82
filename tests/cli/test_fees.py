"""`preflight fees`: for a number of sheets and for the sample folders."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from jsonschema import Draft202012Validator

from preflight.cli.commands import preflight
from preflight.datafiles import schema

KEEP = {"PREFLIGHT_CACHE": os.environ["PREFLIGHT_TESTS_KEEP"], "COLUMNS": "160"}
BUNDLES = Path(__file__).parents[2] / "sample_bundles"


def fees(*arguments: str | Path) -> Result:
    return CliRunner(env=KEEP).invoke(preflight, ["fees", *map(str, arguments)])


def as_json(*arguments: str | Path) -> dict:
    result = fees(*arguments, "--json", "-")
    assert result.exit_code == 0, result.output
    data = json.loads(result.stdout)
    assert [e.message for e in Draft202012Validator(schema("fees")).iter_errors(data)] == []
    return data


@pytest.mark.parametrize(
    ("sheets", "entity", "on", "total"),
    # K numbers and sources: RULES-us-filing 9b
    [
        (133, "small", "2026-06-15", 130),  # K56, practitioner note 2010 on 1.52(f)(2): no size fee
        (134, "undiscounted", "2026-06-15", 775),  # K57, derived: 325 + 450
        (134, "micro", "2026-06-15", 155),  # K57, derived: 65 + 90
        (200, "micro", "2026-06-15", 155),  # K58, derived: 150.0 is one unit
        (201, "micro", "2026-06-15", 245),  # K63, derived
        (334, "undiscounted", "2026-06-15", 2125),  # K64, derived
        (60, "micro", "2023-01-05", 60),  # K65, form PTO/SB/16 (12-22)
        (12, "micro", "2026-06-15", 65),  # K66, filing note
        (12, "micro", "2025-01-18", 60),  # K67, fee table
        (12, "micro", "2025-01-19", 65),  # K67
        (12, "small", "2022-12-28", 150),  # K68, fee table
        (12, "small", "2022-12-29", 120),  # K68
        (12, "undiscounted", "2020-10-01", 280),  # fee table of RULES-us-filing 4
        (12, "undiscounted", "2020-10-02", 300),
        (12, "small", "2018-01-15", 130),
        (12, "small", "2018-01-16", 140),
        (12, "micro", "2013-03-18", None),  # no micro rate before 19 March 2013
        (12, "micro", "2013-03-19", 65),
        (0, "micro", "2026-06-15", 65),
    ],
)
def test_totals(sheets: int, entity: str, on: str, total: int | None) -> None:
    (rate,) = as_json("--sheets", str(sheets), "--entity", entity, "--on", on)["rates"]
    assert (rate["entity"], rate["total"]) == (entity, total)


def test_one_line_with_its_code() -> None:
    (rate,) = as_json("--sheets", "12", "--entity", "micro", "--on", "2026-06-15")["rates"]
    (line,) = rate["lines"]
    assert (line["code"], line["amount"]) == ("3005", 65)  # K66: fee code 3005, 65.00, no other line
    assert (line["citation"], line["since"]) == ("37 CFR 1.16(d)", "2025-01-19")


def test_the_surcharge_is_shown_apart_unless_late() -> None:
    (rate,) = as_json("--sheets", "12", "--entity", "micro", "--on", "2026-06-15")["rates"]
    assert (rate["total"], rate["surcharge_if_late"]["amount"]) == (65, 13)
    (late,) = as_json("--sheets", "12", "--entity", "micro", "--on", "2026-06-15", "--late")["rates"]
    assert ([line["id"] for line in late["lines"]], late["total"]) == (["basic", "surcharge"], 78)
    assert late["surcharge_if_late"] is None


def test_an_entity_that_nobody_says_is_not_guessed() -> None:
    data = as_json("--sheets", "12", "--on", "2026-06-15")
    assert data["entity"] is None
    assert {rate["entity"]: rate["total"] for rate in data["rates"]} == {"undiscounted": 325, "small": 130, "micro": 65}
    assert "not known: every rate is shown" in fees("--sheets", "12", "--on", "2026-06-15").stdout


def test_the_sum_of_the_sheets_is_shown() -> None:
    text = " ".join(fees("--sheets", "134", "--entity", "small", "--on", "2026-06-15").stdout.split())
    assert "134 x 75% = 100.5 when filed electronically; 0.5 more than the 100 that are free" in text
    text = " ".join(fees("--sheets", "133", "--entity", "small", "--on", "2026-06-15").stdout.split())
    assert "133 x 75% = 99.75 when filed electronically; up to 100 are free: no size fee" in text


def test_the_age_of_the_table() -> None:
    fresh, old = (
        fees("--sheets", "9", "--entity", "small", "--on", day).stdout for day in ("2026-12-01", "2027-06-01")
    )
    assert "THE TABLE IS OLD" not in fresh
    assert "The table was last compared on 25 November 2026" in fresh
    assert "THE TABLE IS OLD" in old
    assert "look there before you pay" in " ".join(fresh.split())


def test_a_day_before_the_table() -> None:
    data = as_json("--sheets", "12", "--entity", "small", "--on", "2008-12-31")
    assert (data["rates"][0]["lines"], data["rates"][0]["total"], data["size"]) == ([], None, None)
    assert "nothing is known of that day" in data["notes"][0]


@pytest.mark.parametrize(
    ("on", "said", "superseded"),
    [("2026-06-15", "USD 251,190 since about September 2025", False), ("2026-11-26", "USD 251,190", True)],
)
def test_the_income_limit_is_last_known_with_its_date(on: str, said: str, *, superseded: bool) -> None:
    notes = as_json("--sheets", "12", "--entity", "micro", "--on", on)["notes"]
    (limit,) = [note for note in notes if note.startswith("Micro income limit, last known")]
    assert said in limit
    assert ("superseded since about September 2026" in limit) == superseded


@pytest.mark.parametrize(
    ("entity", "said"),
    [
        # K70, K71: 37 CFR 1.29(k) with the amounts of 19 January 2025, derived; the fine is in the cautions
        ("micro", "USD 65 if small is right and USD 260 if undiscounted is right"),
        ("small", "USD 195 if undiscounted is right"),
        ("undiscounted", None),
    ],
)
def test_what_is_owed_if_a_discount_was_not_due(entity: str, said: str | None) -> None:
    notes = as_json("--sheets", "12", "--entity", entity, "--on", "2025-06-15")["notes"]
    owed = [note for note in notes if "still owed" in note]
    assert [said in note for note in owed] == ([True] if said else [])
    assert any("at least 3 times what was not paid" in note for note in notes)  # 35 USC 123(f)


def test_no_income_limit_beside_other_rates() -> None:
    notes = as_json("--sheets", "12", "--entity", "small", "--on", "2026-11-26")["notes"]
    assert not [note for note in notes if "income limit" in note]


def test_a_folder() -> None:
    data = as_json(BUNDLES / "hurried", "--on", "2026-11-25")
    assert (data["entity"], data["entity_how"]) == ("micro", "stated in cover.pdf")
    assert {(p["role"], p["pages"]) for p in data["papers"]} == {
        *(("drawings", 3), ("specification", 3)),
        *(("claims", 1), ("abstract", 1)),
    }
    assert data["sheets"] == 8
    assert [s["said"] for s in data["stated"]] == ["USD 65: agrees with the total for micro"]
    text = " ".join(fees(BUNDLES / "hurried", "--on", "2026-11-25").stdout.split())
    assert "3 drawings + 3 specification + 1 claims + 1 abstract = 8 sheets" in text


def test_a_stated_amount_of_an_older_schedule() -> None:
    (stated,) = as_json(BUNDLES / "mixed-up", "--on", "2026-11-25")["stated"]
    assert stated["said"] == "USD 120: the small amount of the older schedule since 29 December 2022"


def test_a_stated_amount_of_another_rate() -> None:
    (stated,) = as_json(BUNDLES / "hurried", "--on", "2026-11-25", "--entity", "small")["stated"]
    assert stated["said"] == "USD 65: USD 65 too little (it is the micro amount)"


def test_what_cannot_be_counted_makes_the_total_a_least_one(tmp_path) -> None:
    (tmp_path / "broken.pdf").write_bytes(b"%PDF-1.7 nothing more")
    (tmp_path / "drawings.pdf").write_bytes((BUNDLES / "proper" / "drawings.pdf").read_bytes())
    data = as_json(tmp_path, "--entity", "micro", "--on", "2026-11-25")
    assert [(u["file"], u["pages"]) for u in data["uncounted"]] == [("broken.pdf", None)]
    text = fees(tmp_path, "--entity", "micro", "--on", "2026-11-25").stdout
    assert "total, at least" in text
    assert "Not counted: pages of broken.pdf" in text


def test_a_folder_without_text_and_drawings(tmp_path) -> None:
    (tmp_path / "cover.pdf").write_bytes((BUNDLES / "hurried" / "cover.pdf").read_bytes())
    assert "No specification and no drawings were found" in fees(tmp_path, "--on", "2026-11-25").stdout


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([], "name either a FOLDER or --sheets N"),
        ([BUNDLES, "--sheets", "3"], "name either a FOLDER or --sheets N"),
        (["--sheets", "-1"], "--sheets"),
        (["--sheets", "many"], "--sheets"),
        (["--sheets", "3", "--on", "1/19/2025"], "write 2025-01-19"),
        (["--sheets", "3", "--entity", "large"], "'undiscounted', 'small', 'micro'"),
        (["no such folder"], "no such folder"),
    ],
)
def test_what_cannot_be_used_is_told(arguments: list[str | Path], said: str) -> None:
    result = fees(*arguments)
    assert result.exit_code == 2
    assert said in " ".join(result.stderr.split())


def test_no_paper_is_overwritten(tmp_path) -> None:
    paper = tmp_path / "cover.pdf"
    paper.write_bytes((BUNDLES / "hurried" / "cover.pdf").read_bytes())
    before = paper.read_bytes()
    assert fees(tmp_path, "--json", paper).exit_code == 2
    assert fees("--sheets", "3", "--json", paper).exit_code == 2
    assert paper.read_bytes() == before
    assert fees("--sheets", "3", "--json", tmp_path / "fees.json").exit_code == 0
    assert fees("--sheets", "4", "--json", tmp_path / "fees.json").exit_code == 0
