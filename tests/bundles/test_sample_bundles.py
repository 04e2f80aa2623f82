"""The main job on whole bundles: exactly the planted faults, the same report every time."""

from __future__ import annotations

import difflib
import json
import os
import subprocess
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from preflight.datafiles import schema

DAY = "2026-11-25"
GOLDEN = Path(__file__).parent / "golden"
NAMES = ("proper", "hurried", "mixed-up")
STRICTNESSES = ("filing", "examination")
MOST_QUESTIONS = 15
"""More than so many are ticked, not answered."""


@pytest.mark.parametrize("ready_for", STRICTNESSES)
def test_the_proper_bundle_passes_without_refusal_or_notice(ready_for: str, checked: Any) -> None:
    code, report = checked("proper", ready_for)
    assert [f["message"] for f in report["findings"] if f["consequence"] != "advice"] == []
    assert (code, report["verdict"]) == (0, "pass")
    assert report["reasons"]["unread"] == 0


@pytest.mark.parametrize("bundle", ["hurried", "mixed-up"])
def test_a_faulty_bundle_fails_with_exactly_its_planted_faults(bundle: str, checked: Any, planted: Any) -> None:
    code, report = checked(bundle, "filing")
    assert (code, report["verdict"]) == (1, "fail")
    found = {
        (f["requirement"], f["file"], tuple(sorted({p["page"] for p in f["places"] if p["page"]})))
        for f in report["findings"]
    }
    wanted = {(f["requirement"], f.get("file"), tuple(f.get("pages", ()))) for f in planted(bundle)}
    assert found == wanted


@pytest.mark.parametrize("bundle", ["hurried", "mixed-up"])
def test_each_planted_fault_shows_its_measured_value_fix_and_citation(bundle: str, checked: Any, planted: Any) -> None:
    _, report = checked(bundle, "filing")
    by_place = {(f["requirement"], f["file"]): f for f in report["findings"]}
    for fault in planted(bundle):
        finding = by_place[fault["requirement"], fault.get("file")]
        assert finding["fix"]
        assert finding["citations"]
        for words in fault["shows"]:
            assert words in finding["message"], fault


@pytest.mark.parametrize("bundle", NAMES)
@pytest.mark.parametrize("ready_for", STRICTNESSES)
def test_the_report_keeps_the_contract(bundle: str, ready_for: str, checked: Any) -> None:
    _, report = checked(bundle, ready_for)
    Draft202012Validator(schema("report")).validate(report)
    assert report["bundle"]["folder"] == bundle
    states = {r["state"] for r in report["requirements"]}
    assert states <= {"met", "broken", "unread", "not applicable", "by hand", "not measured"}


@pytest.mark.parametrize("bundle", NAMES)
def test_a_reviewer_is_asked_each_question_once_and_never_too_many(bundle: str, checked: Any) -> None:
    _, report = checked(bundle, "filing")
    questions = report["by_hand"]
    assert 0 < len(questions) <= MOST_QUESTIONS
    assert report["reasons"]["questions"] == len(questions)
    covered = [requirement for question in questions for requirement in question["covers"]]
    by_hand = [row["id"] for row in report["requirements"] if row["state"] == "by hand"]
    assert sorted(covered) == sorted(by_hand)
    assert all(question["requirement"] in question["covers"] for question in questions)


@pytest.mark.parametrize("bundle", NAMES)
def test_what_is_not_measured_is_counted_by_kind(bundle: str, checked: Any, bundles: Path) -> None:
    _, report = checked(bundle, "filing")
    kinds = Counter(row["waits_for"] for row in report["requirements"] if row["state"] == "not measured")
    assert sum(kinds.values()) == report["reasons"]["not_measured"] > 0
    command = [sys.executable, "-P", "-m", "preflight", "check", str(bundles / bundle), "--filing-date", DAY]
    shown = " ".join(subprocess.run(command, capture_output=True, check=False).stdout.decode().split())
    assert "not measured by this version:" in shown
    assert all(f"{number} for {kind}" in shown for kind, number in kinds.items())


def test_the_same_bytes_give_the_same_report(checked: Any) -> None:
    _, first = checked("mixed-up", "filing")
    checked.cache_clear()
    _, second = checked("mixed-up", "filing")
    assert {**first, "created": ""} == {**second, "created": ""}


@pytest.mark.parametrize("bundle", NAMES)
def test_the_golden_report(bundle: str, checked: Any) -> None:
    _, report = checked(bundle, "filing")
    text = json.dumps(masked(report), indent=1, ensure_ascii=False) + "\n"
    path = GOLDEN / f"{bundle}.json"
    if os.environ.get("REFRESH_GOLDEN"):
        path.write_text(text, encoding="utf-8")
    kept = path.read_text(encoding="utf-8")
    difference = "\n".join(
        difflib.unified_diff(kept.splitlines(), text.splitlines(), "golden", "now", lineterm="", n=2)
    )
    assert not difference, f"{difference}\n\nif this is right: REFRESH_GOLDEN=1 pytest tests/bundles"


@pytest.mark.parametrize("bundle", NAMES)
def test_the_folder_is_left_as_it_was(bundle: str, bundles: Path) -> None:
    before = {p.name: (p.stat().st_mtime_ns, p.stat().st_size) for p in (bundles / bundle).iterdir()}
    command = [sys.executable, "-P", "-m", "preflight", "check", str(bundles / bundle), "--filing-date", DAY]
    done = subprocess.run(command, capture_output=True, check=False)
    assert done.stdout.decode().splitlines()[0].startswith(("PASS", "FAIL"))
    assert {p.name: (p.stat().st_mtime_ns, p.stat().st_size) for p in (bundles / bundle).iterdir()} == before


def masked(report: dict[str, Any]) -> dict[str, Any]:
    """The report without what changes with the clock, our own version and the versions of libraries."""
    rulebook = {**report["rulebook"], "sha256": "..."}
    plugins = [{**p, "version": "..."} for p in report["plugins"]]
    tool = {**report["tool"], "version": "..."}
    return {**report, "created": "...", "readers": {}, "tool": tool, "plugins": plugins, "rulebook": rulebook}
