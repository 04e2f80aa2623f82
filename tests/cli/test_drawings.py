"""`preflight drawings FILE`: the list for the drafter."""

from __future__ import annotations

import json
from pathlib import Path

from click.testing import CliRunner
from jsonschema import Draft202012Validator

from preflight.cli.commands import preflight
from preflight.datafiles import schema

DRAWINGS = Path(__file__).parents[2] / "sample_bundles" / "proper" / "drawings.pdf"


def drawings(*arguments: str | Path):
    return CliRunner().invoke(preflight, ["drawings", *map(str, arguments)])


def test_a_table_of_each_sheet():
    result = drawings(DRAWINGS)
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    assert lines[0] == "drawings.pdf, 3 sheets"
    assert "PAGE 3: sheet 3/3; read from characters of the file" in lines
    assert "  figures     FIG. 3, FIG. 4" in lines


def test_json_in_the_form_of_its_schema():
    result = drawings(DRAWINGS, "--json", "-")
    data = json.loads(result.stdout)
    assert [e.message for e in Draft202012Validator(schema("drawings")).iter_errors(data)] == []
    first = data["sheets"][0]
    assert first["sheet_number"] == {"number": 1, "of": 3}
    assert [figure["label"] for figure in first["figures"]] == ["FIG. 1"]
    assert [one["text"] for one in first["characters"] if one["sure"]][:1] != []
    assert first["from"] == "text"


def test_json_to_a_file_beside_the_table(tmp_path):
    target = tmp_path / "read.json"
    assert drawings(DRAWINGS, "--json", target).exit_code == 0
    assert json.loads(target.read_bytes())["schema"] == "preflight-drawings/1"


def test_what_cannot_be_read_is_told(tmp_path):
    (tmp_path / "notes.pdf").write_text("no PDF", encoding="ascii")
    for file, why in (
        (tmp_path / "none.pdf", "no such file"),
        (tmp_path, "this is no file"),
        (tmp_path / "notes.pdf", "no PDF"),
    ):
        result = drawings(file)
        assert result.exit_code == 2
        assert why in result.stderr


def test_the_drawing_itself_is_never_overwritten(tmp_path):
    copy = tmp_path / "drawings.pdf"
    copy.write_bytes(DRAWINGS.read_bytes())
    result = drawings(copy, "--json", copy)
    assert result.exit_code == 2
    assert copy.read_bytes() == DRAWINGS.read_bytes()
