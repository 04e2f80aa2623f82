"""`preflight characters FOLDER`: the table for drafter and reviewer."""

from __future__ import annotations

import csv
import io
import json
import os
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator

from preflight.cli.commands import preflight
from preflight.datafiles import schema

KEEP = {"PREFLIGHT_CACHE": os.environ["PREFLIGHT_TESTS_KEEP"]}
BUNDLES = Path(__file__).parents[2] / "sample_bundles"
PROPER = BUNDLES / "proper"


def characters(*arguments: str | Path):
    return CliRunner(env=KEEP).invoke(preflight, ["characters", *map(str, arguments)])


@pytest.fixture(scope="module")
def told():
    return characters(PROPER)


def test_the_table(told):
    lines = [" ".join(line.split()) for line in told.stdout.splitlines()]
    assert told.exit_code == 0
    assert lines[0] == "proper: 16 reference characters, 4 figures"
    assert "30 latch (13) page 2 1, 4 1, 2, 4" in lines
    assert "17 x d . ." in lines
    assert lines[-1] == "next free: 40 (even) or 19 (odd)"


@pytest.mark.parametrize("bundle", ["proper", "last-minute"])
def test_json_as_its_schema_says(bundle):
    data = json.loads(characters(BUNDLES / bundle, "--json", "-").stdout)
    assert [error.message for error in Draft202012Validator(schema("characters")).iter_errors(data)] == []


def test_json_and_table_say_the_same(told):
    data = json.loads(characters(PROPER, "--json", "-").stdout)
    latch = next(one for one in data["characters"] if one["character"] == "30")
    assert latch["names"] == [{"name": "latch", "times": 13}]
    assert latch["first"] == {"file": "specification.pdf", "page": 2}
    assert latch["figures_drawn"] == ["FIG. 1", "FIG. 2", "FIG. 4"]
    assert all(f"  {one['character']}  " in told.stdout for one in data["characters"])
    assert data["next_free"] == [{"hundred": 0, "even": 40, "odd": 19}]


def test_a_spreadsheet_reads_it_back():
    rows = list(csv.DictReader(io.StringIO(characters(PROPER, "--csv", "-").stdout_bytes.decode("utf-8-sig"))))
    assert list(rows[0])[:5] == ["character", "names", "first file", "first page", "doubtful"]
    assert rows[0] == {
        "character": "10",
        "names": "hose guide (8); hose guides (1)",
        "first file": "specification.pdf",
        "first page": "2",
        "doubtful": "",
        "FIG. 1": "both",
        "FIG. 2": "both",
        "FIG. 3": "",
        "FIG. 4": "text",
    }


def test_a_scanned_text_is_told_on_standard_error_beside_the_spreadsheet(tmp_path):
    result = characters(BUNDLES / "scanned", "--csv", "-", "--json", tmp_path / "table.json")
    assert "not read: specification.pdf, page 1" in result.stderr
    data = json.loads((tmp_path / "table.json").read_bytes())
    assert [error.message for error in Draft202012Validator(schema("characters")).iter_errors(data)] == []


def test_files_are_written_beside_the_table(tmp_path):
    result = characters(PROPER, "--json", tmp_path / "a.json", "--csv", tmp_path / "a.csv")
    assert result.exit_code == 0
    assert "CHARACTERS" in result.stdout
    assert json.loads((tmp_path / "a.json").read_bytes())["schema"] == "preflight-characters/1"
    assert (tmp_path / "a.csv").read_bytes().startswith("\ufeffcharacter,".encode())


def test_papers_are_never_overwritten_and_an_earlier_table_is(tmp_path):
    folder = tmp_path / "papers"
    shutil.copytree(PROPER, folder)
    refused = characters(folder, "--csv", folder / "specification.pdf")
    assert refused.exit_code == 2
    assert (folder / "specification.pdf").read_bytes() == (PROPER / "specification.pdf").read_bytes()
    for _ in range(2):
        assert characters(folder, "--csv", folder / "characters.csv").exit_code == 0


@pytest.mark.parametrize(
    ("options", "why"),
    [(["--json", "-", "--csv", "-"], "only one"), (["--json", "same", "--csv", "same"], "the same file")],
)
def test_what_cannot_be_written_is_refused_before_the_work(options, why, tmp_path):
    result = characters(PROPER, *[str(tmp_path / one) if one == "same" else one for one in options])
    assert (result.exit_code, why in result.stderr) == (2, True)


def test_no_such_folder(tmp_path):
    assert characters(tmp_path / "none").exit_code == 2


def test_an_empty_folder(tmp_path):
    result = characters(tmp_path)
    assert result.exit_code == 0
    assert "no drawings are in the folder" in result.stdout
