"""`preflight compare OLD.json NEW.json`: exit codes, and what is no report."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from preflight.cli.commands import preflight

REPORTS = Path(__file__).parents[1] / "reporting" / "reports"
ALL, CLEAN = REPORTS / "everything.json", REPORTS / "clean_pass.json"


def run(*arguments: object) -> Result:
    return CliRunner(env={"COLUMNS": "100"}).invoke(preflight, ["compare", *map(str, arguments)])


def test_nothing_new_is_0(tmp_path):
    same = run(ALL, ALL, "--json", tmp_path / "out.json")
    assert same.exit_code == 0, same.stderr
    assert same.stdout.startswith("0 mended, 0 new, 9 still there; now FAIL: ")
    assert len(json.loads((tmp_path / "out.json").read_bytes())["offices"][0]["same"]) == 9


def test_something_new_is_1():
    assert run(CLEAN, ALL).exit_code == 1


def test_json_in_place_of_the_text():
    assert json.loads(run(ALL, ALL, "--json", "-").stdout)["schema"] == "preflight-comparison/1"


@pytest.mark.parametrize(
    "content", [b"", b"{", b"\x00\xff", b"{}", b"[" * 100_000, b'{"schema": "preflight-set/1", "reports": []}', b"null"]
)
def test_what_is_no_report_is_one_clear_line(tmp_path, content):
    (tmp_path / "old.json").write_bytes(content)
    result = run(tmp_path / "old.json", CLEAN)
    assert (result.exit_code, result.stdout) == (2, "")
    assert len(result.stderr.splitlines()) == 1
    assert "old.json" in result.stderr


def test_a_file_that_is_not_there_is_told(tmp_path):
    result = run(tmp_path / "none.json", CLEAN)
    assert result.exit_code == 2
    assert "none.json cannot be read (No such file or directory)" in result.stderr


def test_a_file_that_is_no_comparison_is_not_written_over(tmp_path):
    (tmp_path / "letter.txt").write_text("dear client")
    assert run(ALL, ALL, "--json", tmp_path / "letter.txt").exit_code == 2
    assert (tmp_path / "letter.txt").read_text() == "dear client"
