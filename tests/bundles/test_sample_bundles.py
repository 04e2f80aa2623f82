"""The main job on whole bundles: exactly the planted faults, the same report every time."""

from __future__ import annotations

import copy
import difflib
import json
import os
import re
import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from markup import Markup

from preflight.datafiles import schema
from preflight.reporting.wording import clean

GOLDEN = Path(__file__).parent / "golden"
PLANTED = Path(__file__).resolve().parents[2] / "sample_bundles" / "planted.toml"
BUNDLES = {k: v for k, v in tomllib.loads(PLANTED.read_text(encoding="utf-8")).items() if k != "schema"}
NAMES = tuple(BUNDLES)
FAULTY = tuple(name for name, known in BUNDLES.items() if known["faults"])
UNREAD = tuple(name for name, known in BUNDLES.items() if known.get("unread"))
PROPER = tuple(name for name in NAMES if name not in FAULTY and name not in UNREAD)
STRICTNESSES = ("filing", "examination")
MOST_QUESTIONS = 15
"""More than so many are ticked, not answered."""


pytestmark = [
    pytest.mark.xdist_group("bundles"),  # each is checked once
    pytest.mark.timeout(300),  # the scanned one takes a minute of processor time, beside other tests
]


@pytest.mark.parametrize("bundle", PROPER)
@pytest.mark.parametrize("ready_for", STRICTNESSES)
def test_a_proper_bundle_passes_without_a_finding(bundle: str, ready_for: str, checked: Any) -> None:
    done = checked(bundle, ready_for)
    assert [f["message"] for f in done.report["findings"]] == []
    assert (done.code, done.report["verdict"]) == (0, "pass")
    assert done.report["reasons"]["unread"] == 0


@pytest.mark.parametrize("bundle", NAMES)
def test_exactly_what_is_planted_is_found(bundle: str, checked: Any) -> None:
    report = checked(bundle, "filing").report
    found = {where(f) for f in report["findings"] if f["state"] == "broken"}
    assert found == {planted_at(fault) for fault in measured(bundle, report)}


@pytest.mark.parametrize("bundle", FAULTY)
def test_a_faulty_bundle_fails(bundle: str, checked: Any) -> None:
    done = checked(bundle, "filing")
    assert (done.code, done.report["verdict"]) == (1, "fail")


@pytest.mark.parametrize("bundle", FAULTY)
def test_each_planted_fault_shows_its_measured_value_fix_and_citation(bundle: str, checked: Any) -> None:
    report = checked(bundle, "filing").report
    for fault in measured(bundle, report):
        (finding,) = (f for f in report["findings"] if where(f) == planted_at(fault))
        assert finding["fix"]
        assert {place["file"] for place in finding["places"]} >= set(fault.get("files", ()))
        assert finding["citations"]
        for words in fault["shows"]:
            assert words in finding["message"], fault


@pytest.mark.parametrize("bundle", NAMES)
def test_traces_of_programs_are_passed_over_in_silence(bundle: str, checked: Any, bundles: Path) -> None:
    silent = BUNDLES[bundle].get("silent", [])
    assert all((bundles / bundle / name).is_file() for name in silent)
    findings = checked(bundle, "examination").report["findings"]
    assert not {place["file"] for f in findings for place in f["places"]} & set(silent)


@pytest.mark.parametrize("bundle", NAMES)
def test_what_cannot_be_read_is_named_file_by_file_and_never_passes(bundle: str, checked: Any) -> None:
    done = checked(bundle, "filing")
    said = [(f["file"], f["message"]) for f in done.report["findings"] if f["state"] == "unread"]
    wanted = BUNDLES[bundle].get("unread", [])
    assert {file for file, _ in said} == {paper["file"] for paper in wanted}
    for paper in wanted:
        told = [message for file, message in said if file == paper["file"]]
        assert all(any(words in message for message in told) for words in paper["shows"])
    assert not wanted or done.report["verdict"] == "fail"


@pytest.mark.parametrize("bundle", NAMES)
def test_every_broken_requirement_has_a_finding_or_names_the_one_that_reports_it(bundle: str, checked: Any) -> None:
    report = checked(bundle, "examination").report
    found = {f["requirement"] for f in report["findings"] if f["state"] == "broken"}
    for row in report["requirements"]:
        if row["state"] == "broken" and row["id"] not in found:
            _, _, speaker = row["why"].partition("reported by the finding of ")
            assert speaker in found, row


def measured(bundle: str, report: dict[str, Any]) -> list[dict[str, Any]]:
    """The planted faults and true remarks whose requirement this version measures."""
    waiting = {row["id"] for row in report["requirements"] if row["state"] == "not measured"}
    every = [*BUNDLES[bundle]["faults"], *BUNDLES[bundle].get("remarks", [])]
    assert {fault["requirement"] for fault in every} <= {row["id"] for row in report["requirements"]}
    return [fault for fault in every if fault["requirement"] not in waiting]


def where(finding: dict[str, Any]) -> tuple[str, str | None, tuple[int, ...]]:
    """Requirement, file and pages of a finding."""
    return finding["requirement"], finding["file"], tuple(sorted({p["page"] for p in finding["places"] if p["page"]}))


def planted_at(fault: dict[str, Any]) -> tuple[str, str | None, tuple[int, ...]]:
    """The same of a planted fault."""
    return fault["requirement"], fault.get("file", fault.get("files", [None])[0]), tuple(fault.get("pages", ()))


@pytest.mark.parametrize("bundle", NAMES)
@pytest.mark.parametrize("ready_for", STRICTNESSES)
def test_the_report_keeps_the_contract(bundle: str, ready_for: str, checked: Any) -> None:
    report = checked(bundle, ready_for).report
    Draft202012Validator(schema("report")).validate(report)
    assert report["bundle"]["folder"] == bundle
    states = {r["state"] for r in report["requirements"]}
    assert states <= {"met", "broken", "unread", "not applicable", "by hand", "not measured"}


@pytest.mark.parametrize("bundle", NAMES)
def test_a_reviewer_is_asked_each_question_once_and_never_too_many(bundle: str, checked: Any) -> None:
    report = checked(bundle, "filing").report
    questions = report["by_hand"]
    assert 0 < len(questions) <= MOST_QUESTIONS
    assert report["reasons"]["questions"] == len(questions)
    covered = [requirement for question in questions for requirement in question["covers"]]
    by_hand = [row["id"] for row in report["requirements"] if row["state"] == "by hand"]
    assert sorted(covered) == sorted(by_hand)
    assert all(question["requirement"] in question["covers"] for question in questions)


@pytest.mark.parametrize("bundle", NAMES)
def test_what_is_not_measured_is_counted_by_kind(bundle: str, checked: Any) -> None:
    report = checked(bundle, "filing").report
    kinds = Counter(row["waits_for"] for row in report["requirements"] if row["state"] == "not measured")
    assert sum(kinds.values()) == report["reasons"]["not_measured"] > 0
    shown = " ".join(checked(bundle, "filing").shown.split())
    assert "not measured by this version:" in shown
    assert all(f"{number} for {kind}" in shown for kind, number in kinds.items())


def test_the_same_bytes_give_the_same_report(checked: Any) -> None:
    first = checked("mixed-up", "filing").report
    again = checked.__wrapped__("mixed-up", "filing").report
    assert {**first, "created": ""} == {**again, "created": ""}


@pytest.mark.parametrize("bundle", NAMES)
def test_the_golden_report(bundle: str, checked: Any) -> None:
    report = checked(bundle, "filing").report
    held_against(f"{bundle}.json", json.dumps(masked(report), indent=1, ensure_ascii=False) + "\n")


@pytest.mark.parametrize("bundle", NAMES)
def test_the_golden_text_of_the_page(bundle: str, checked: Any) -> None:
    text = Markup(checked(bundle, "filing").page).text
    held_against(f"{bundle}-page.txt", CHANGES.sub(r"\1 ...", text))


CHANGES = re.compile(r"^(checked|program|read with|rulebook us-provisional|plug-ins) .*$", re.MULTILINE)
"""Lines of the page with what changes with the clock, our own version, the rulebook and the versions of libraries."""


def held_against(name: str, text: str) -> None:
    """Compares text with a golden file, line by line."""
    path = GOLDEN / name
    if os.environ.get("REFRESH_GOLDEN"):
        path.write_text(text, encoding="utf-8")
    kept = path.read_text(encoding="utf-8")
    difference = "\n".join(
        difflib.unified_diff(kept.splitlines(), text.splitlines(), "golden", "now", lineterm="", n=2)
    )
    assert not difference, f"{difference}\n\nif this is right: REFRESH_GOLDEN=1 pytest tests/bundles"


@pytest.mark.parametrize("bundle", NAMES)
def test_the_folder_is_left_as_it_was(bundle: str, checked: Any) -> None:
    done = checked(bundle, "filing")
    assert done.shown.splitlines()[0].startswith(("PASS", "FAIL"))
    assert done.untouched


@pytest.mark.parametrize("bundle", NAMES)
def test_the_page_shows_every_finding_with_its_pages_and_stays_small(bundle: str, checked: Any) -> None:
    done = checked(bundle, "filing")
    page = Markup(done.page)
    said = " ".join(page.text.split())
    shown = " ".join(page.values("aria-label"))
    for finding in done.report["findings"]:
        assert all(part in said for part in (finding["id"], clean(finding["message"]), clean(finding["fix"])))
        assert all(citation in said for citation in finding["citations"])
        paged = [place for place in finding["places"][:1] if place["page"]]
        assert all(f"{clean(place['file'])}, page {place['page']}" in shown for place in paged)
    assert all(question["question"] in said for question in done.report["by_hand"])
    assert len(done.page) < 3_000_000


def masked(report: dict[str, Any]) -> dict[str, Any]:
    """The report without what changes with the clock, our own version and the versions of libraries, and pictures."""
    rulebook = {**report["rulebook"], "sha256": "..."}
    plugins = [{**p, "version": "..."} for p in report["plugins"]]
    tool = {**report["tool"], "version": "..."}
    report = copy.deepcopy(report)
    for place in (*(p for f in report["findings"] for p in f["places"]), *report["by_hand"]):
        place["picture"] = place["picture"] and {**place["picture"], "png": "..."}
    return {**report, "created": "...", "readers": {}, "tool": tool, "plugins": plugins, "rulebook": rulebook}
