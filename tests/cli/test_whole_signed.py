"""Signing off, sealing and verifying with nothing stood in for: scanned papers pass at last."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from preflight.cli.commands import preflight

BUNDLES = Path(__file__).parents[2] / "sample_bundles"


@pytest.fixture
def run(tmp_path) -> Callable[..., Result]:
    """The command line inside this process; what is read is kept, so that each paper is read once."""
    runner = CliRunner(env={"PREFLIGHT_CACHE": str(tmp_path / "kept"), "COLUMNS": "100"})
    return lambda *arguments: runner.invoke(preflight, [str(a) for a in arguments])


@pytest.mark.slow
@pytest.mark.timeout(300)
def test_scanned_papers_pass_once_somebody_has_read_them_and_are_sealed(run, tmp_path):
    folder, report = tmp_path / "DEMO", tmp_path / "report.json"
    shutil.copytree(BUNDLES / "proper", folder)
    (folder / "drawings.pdf").unlink()  # two forms as scans are enough, and read quickly
    for name in ("micro.pdf", "cover.pdf"):
        shutil.copy(BUNDLES / "scanned" / name, folder)

    run("check", folder, "--json", report)
    findings = json.loads(report.read_bytes())["findings"]
    assert {f["file"] for f in findings if f["state"] == "unread"} == {"micro.pdf", "cover.pdf"}
    grave = [f["id"] for f in findings if f["consequence"] != "advice"]
    for finding in grave:
        signed = run("sign", folder, finding, "--by", "AE", "--reason", "read by eye")
        assert signed.exit_code == 0, signed.stderr
    sealed = run("seal", folder)
    assert sealed.stdout.startswith(f"PASS, {len(grave)} signed off"), sealed.output
    assert run("verify", folder).exit_code == 0
    with (folder / "micro.pdf").open("ab") as paper:
        paper.write(b" ")
    changed = run("verify", folder)
    assert changed.exit_code == 1
    assert changed.stdout.endswith(": changed: micro.pdf\n")
