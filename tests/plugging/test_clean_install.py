"""Core and example plug-in as a stranger installs them: wheels in an environment of their own, no network.

The libraries are borrowed from the environment that runs the tests.
"""

from __future__ import annotations

import importlib.metadata
import json
import os
import subprocess
import sys
import sysconfig
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from preflight.datafiles import schema

ROOT = Path(__file__).resolve().parents[2]
PLUGIN = ROOT / "plugins" / "house_rules"
PROPER = ROOT / "sample_bundles" / "proper"
CORE_NAME, PLUGIN_NAME = "filing-bundle-preflight", "preflight-house-rules"
NO_NETWORK = ("--quiet", "--disable-pip-version-check", "--no-index", "--no-deps")


def _installed_here(name: str) -> bool:
    return any(found.name == name for found in importlib.metadata.distributions())


pytestmark = [
    pytest.mark.slow,
    pytest.mark.plugin,
    pytest.mark.skipif(_installed_here(PLUGIN_NAME), reason="it is installed here, and would be borrowed as well"),
]


def run(*command: object, cwd: Path) -> subprocess.CompletedProcess[str]:
    outside = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "PIP_", "COV_"))}
    return subprocess.run(
        [str(part) for part in command], cwd=cwd, env=outside, capture_output=True, text=True, check=False, timeout=60
    )


def done(*command: object, cwd: Path) -> str:
    finished = run(*command, cwd=cwd)
    assert finished.returncode == 0, finished.stderr
    return finished.stdout


@pytest.fixture(scope="module")
def wheels(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Both wheels, built from this checkout."""
    folder = tmp_path_factory.mktemp("wheels")
    for source in (ROOT, PLUGIN):
        done(sys.executable, "-m", "pip", "wheel", *NO_NETWORK, "--no-build-isolation", "-w", ".", source, cwd=folder)
    found = {path.name.split("-")[0].replace("_", "-"): path for path in folder.glob("*.whl")}
    assert set(found) == {CORE_NAME, PLUGIN_NAME}
    return found


@pytest.fixture(scope="module")
def python(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A Python of its own, which sees the libraries of this one behind its own."""
    home = tmp_path_factory.mktemp("clean") / "environment"
    done(sys.executable, "-m", "venv", "--without-pip", home, cwd=home.parent)
    program = home / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    where = Path(done(program, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))", cwd=home).strip())
    (where / "borrowed.pth").write_text("\n".join({sysconfig.get_path("purelib"), sysconfig.get_path("platlib")}))
    return program


def test_the_plug_in_comes_and_goes_without_a_trace(wheels: dict[str, Path], python: Path, tmp_path: Path) -> None:
    def pip(*arguments: object) -> None:
        done(sys.executable, "-m", "pip", "--python", python, *arguments, cwd=tmp_path)

    pip("install", "--ignore-installed", *NO_NETWORK, wheels[CORE_NAME])  # a borrowed one must not stand for it
    core = Path(done(python, "-P", "-c", "import preflight; print(preflight.__file__)", cwd=tmp_path).strip())
    assert core.is_relative_to(python.parents[1])
    before = report(python, tmp_path)

    pip("install", "--ignore-installed", *NO_NETWORK, wheels[PLUGIN_NAME])
    with_house = report(python, tmp_path)
    house = [f for f in with_house["findings"] if f["requirement"].startswith("house.")]
    assert {f["requirement"] for f in house} == {"house.docket.name", "house.footer"}
    assert [e["id"] for e in with_house["rulebook"]["extensions"]] == ["house-rules"]
    assert [p["trouble"] for p in with_house["plugins"] if p["name"] == "house-rules"] == [None]
    listed = done(python, "-P", "-m", "preflight", "requirements", cwd=tmp_path)
    assert "house.docket.pages  measured, notice / notice (added by house-rules)" in listed
    assert unchanged(with_house) == unchanged(before)

    pip("uninstall", "--quiet", "--yes", PLUGIN_NAME)
    assert {**report(python, tmp_path), "created": ""} == {**before, "created": ""}


def report(python: Path, cwd: Path) -> dict[str, Any]:
    options = ("--filing-date", "2026-11-25", "--json", "-")
    finished = run(python, "-P", "-m", "preflight", "check", PROPER, *options, cwd=cwd)
    assert finished.returncode in (0, 1), finished.stderr
    told: dict[str, Any] = json.loads(finished.stdout)
    Draft202012Validator(schema("report")).validate(told)
    return told


def unchanged(told: dict[str, Any]) -> dict[str, Any]:
    """What house rules that give advice leave as it is: the verdict, and everything that the law says."""
    rows = {name: [row for row in told[name] if _law(row)] for name in ("findings", "requirements", "for_later")}
    same = {name: told[name] for name in ("verdict", "documents", "by_hand", "fees", "dates", "cautions")}
    return {**rows, **same, "law": told["rulebook"]["sha256"]}


def _law(row: dict[str, Any]) -> bool:
    name: str = row["requirement"] if "requirement" in row else row["id"]
    return not name.startswith(("house.", "preflight."))  # of ours, one counts plug-ins
