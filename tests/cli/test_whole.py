"""The whole program, nothing stood in for: sample bundles and the real rulebook."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator, FormatChecker

from preflight.cli import catalogue
from preflight.cli.commands import preflight
from preflight.datafiles import schema
from preflight.plugging import built_in, registry_of

ROOT = Path(__file__).parents[2]
BUNDLES = ROOT / "sample_bundles"


def _checked(bundle: str, *options: str) -> subprocess.CompletedProcess[bytes]:
    command = [sys.executable, "-P", "-m", "preflight", "check", str(BUNDLES / bundle), *options]
    environment = os.environ | {"PYTHONPATH": os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])}
    return subprocess.run(command, env=environment, capture_output=True, timeout=100, check=False)


@pytest.mark.slow
def test_a_sample_bundle_gives_its_verdict_and_a_report_as_the_schema_says(tmp_path):
    result = _checked("hurried", "--json", str(tmp_path / "report.json"))
    report = json.loads((tmp_path / "report.json").read_bytes())
    errors = Draft202012Validator(schema("report"), format_checker=FormatChecker()).iter_errors(report)
    assert [f"{error.json_path}: {error.message}" for error in errors] == []
    assert (report["verdict"], result.returncode) == ("fail", 1)
    text = result.stdout.decode()
    assert text.splitlines()[0] == report["headline"]
    assert all(finding["id"] in text for finding in report["findings"])


def test_a_folder_that_is_not_there_is_2(tmp_path):
    result = CliRunner().invoke(preflight, ["check", str(tmp_path / "missing")])
    assert (result.exit_code, result.stdout) == (2, "")
    assert "missing" in result.stderr


def test_every_requirement_of_every_rulebook_can_be_listed_and_explained(monkeypatch):
    registry = registry_of(built_in())
    monkeypatch.setattr(catalogue, "built_in_and_installed", lambda: registry)
    names = [r.id for book in registry.rulebooks.values() for r in book.requirements]
    listed = CliRunner().invoke(preflight, ["requirements"]).stdout
    assert names
    for name in names:
        assert f"\n{name}  " in listed
        explained = CliRunner().invoke(preflight, ["explain", name])
        assert explained.exit_code == 0, explained.stderr
        assert name in explained.stdout
