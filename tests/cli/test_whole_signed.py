"""Signing off, sealing and verifying with nothing stood in for: scanned papers pass at last."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.mark.slow
@pytest.mark.timeout(600)
def test_scanned_papers_pass_once_somebody_has_read_them_and_are_sealed(tmp_path):
    folder = tmp_path / "DEMO"
    folder.mkdir()
    for name in ("micro.pdf", "cover.pdf", "specification.pdf"):  # reading its drawings takes longest, and adds nothing
        shutil.copy(ROOT / "sample_bundles" / "scanned" / name, folder)

    def preflight(*arguments: str) -> subprocess.CompletedProcess[str]:
        command = [sys.executable, "-P", "-m", "preflight", *arguments]
        kept = os.environ | {"PREFLIGHT_CACHE": str(tmp_path / "kept"), "PYTHONPATH": str(ROOT)}
        return subprocess.run(command, env=kept, cwd=tmp_path, capture_output=True, text=True, timeout=300, check=False)

    assert preflight("check", "DEMO", "--json", "report.json").returncode == 1
    findings = json.loads((tmp_path / "report.json").read_bytes())["findings"]
    unread = [finding["id"] for finding in findings if finding["state"] == "unread"]
    assert len(unread) == 3
    for finding in unread:
        signed = preflight("sign", "DEMO", finding, "--by", "AE", "--reason", "read by eye")
        assert signed.returncode == 0, signed.stderr
    sealed = preflight("seal", "DEMO")
    assert sealed.stdout.startswith("PASS, 3 signed off"), sealed.stderr
    assert preflight("verify", "DEMO").returncode == 0
    with (folder / "micro.pdf").open("ab") as paper:
        paper.write(b" ")
    changed = preflight("verify", "DEMO")
    assert (changed.returncode, changed.stdout.strip().endswith(": changed: micro.pdf")) == (1, True)
