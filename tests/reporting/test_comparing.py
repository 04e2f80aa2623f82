"""Two reports side by side: every finding of both is accounted for once, and nothing is called mended unseen."""

from __future__ import annotations

import io
import json

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from rich.console import Console

from preflight.datafiles import schema
from preflight.reporting.comparing import Comparison, compare, summary
from preflight.reporting.comparison_told import comparison_to_json, show_comparison
from preflight.reporting.lines import Sheet
from preflight.reporting.machine import reports_from_json, set_to_json, to_json
from preflight.reporting.report import Finding, Place, Report, RequirementRow


def finding(whole: Report, message: str, file: str = "a.pdf", *, page: int = 1, requirement: str = "us.x", **more):
    """A broken one, whose number depends on all of it, as a real one's does."""
    place = Place(file, "0" * 64, "drawings", page)
    name = f"{abs(hash((message, file, page, requirement, str(more)))):012x}"[:12]
    return msgspec.structs.replace(
        whole.findings[2],
        **({"id": name, "requirement": requirement, "state": "broken", "covers": (), "message": message, "file": file,
            "page": page, "places": (place,), "signed_off": None} | more),
    )  # fmt: skip


def with_findings(whole: Report, *findings: Finding, **states: str) -> Report:
    rows = tuple(
        RequirementRow(f"us.{name}", name, state, ("37 CFR 0.0",), 1, "")
        for name, state in ({"x": "met"} | states).items()
    )
    return msgspec.structs.replace(whole, findings=findings, requirements=rows)


@pytest.fixture
def whole(report) -> Report:
    return report("everything")


def test_a_report_beside_itself_is_all_the_same(report, every_report):
    one = report(every_report)
    assert compare(one, one) == Comparison(same=tuple((f, f) for f in one.findings))


@settings(deadline=None, max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
def test_every_finding_then_and_now_is_accounted_for_once(whole, data):
    some = st.lists(
        st.builds(
            lambda *given: finding(whole, *given[:2], page=given[2], requirement=given[3]),
            st.sampled_from(["left margin is 1.9 cm", "left margin is 2.2 cm", "top margin is 1 cm"]),
            st.sampled_from(["a.pdf", "b.pdf"]),
            st.integers(1, 2),
            st.sampled_from(["us.x", "us.y"]),
        ),
        max_size=6,
        unique_by=lambda f: f.id,
    )
    old = with_findings(whole, *data.draw(some), y="unread")
    new = with_findings(whole, *data.draw(some), y="unread")
    found, back = compare(old, new), compare(new, old)
    then = [*found.mended, *found.unknown, *(a for a, _ in found.same)]
    now = [*found.new, *(b for _, b in found.same)]
    assert sorted(f.id for f in then) == sorted(f.id for f in old.findings)
    assert sorted(f.id for f in now) == sorted(f.id for f in new.findings)
    assert all(f.requirement == "us.x" for f in found.mended)
    assert len(back.same) == len(found.same)
    assert {f.id for f in back.new} == {f.id for f in (*found.mended, *found.unknown)}


@pytest.mark.parametrize(
    "now",
    [
        pytest.param({"id": "0" * 12}, id="the file was written again"),
        pytest.param({"message": "left margin is 2.2 cm", "page": 3}, id="nearer, on another page"),
        pytest.param({"file": "drawings-2.pdf"}, id="renamed"),
    ],
)
def test_the_same_fault_is_known_again(whole, now):
    then = finding(whole, "left margin is 1.9 cm")
    after = finding(whole, **({"message": "left margin is 1.9 cm"} | now))
    found = compare(with_findings(whole, then), with_findings(whole, after, x="broken"))
    assert found.same == ((then, after),)
    assert summary(found) == "0 mended, 0 new, 1 still there"


def test_another_fault_of_the_same_rule_is_new(whole):
    then, after = finding(whole, "left margin is 1.9 cm"), finding(whole, "top margin is 1.9 cm")
    found = compare(with_findings(whole, then), with_findings(whole, after, x="broken"))
    assert (found.mended, found.new) == ((then,), (after,))


@pytest.mark.parametrize("state", ["unread", "not applicable", "not measured", "by hand"])
def test_what_could_not_be_looked_at_again_is_not_called_mended(whole, state):
    then = finding(whole, "left margin is 1.9 cm")
    assert compare(with_findings(whole, then), with_findings(whole, x=state)).unknown == (then,)
    assert compare(with_findings(whole, then), with_findings(whole)).mended == (then,)


def test_a_file_that_cannot_be_read_now_leaves_its_faults_unknown(whole):
    then = finding(whole, "left margin is 1.9 cm")
    scan = finding(whole, "not read: a scan", state="unread", requirement="us.y", covers=("us.x", "us.y"))
    assert compare(with_findings(whole, then), with_findings(whole, scan, x="broken")).unknown == (then,)


def test_runs_that_are_not_alike_are_told(whole):
    head = msgspec.structs.replace(whole.bundle, ready_for="examination", folder="other")
    other = msgspec.structs.replace(whole, bundle=head, created="2020-01-01T00:00:00+00:00")
    doubts = compare(whole, other).doubts
    assert [doubt.split(":")[0] for doubt in doubts] == ["folder", "ready for", "the first report is the younger one"]


def test_told_and_as_json(whole):
    gone, stays = finding(whole, "a fault that goes"), finding(whole, "left margin is 1.9 cm")
    after = finding(
        whole, "left margin is 2.2 cm", signed_off=next(f.signed_off for f in whole.findings if f.signed_off)
    )
    old, new = with_findings(whole, gone, stays), with_findings(whole, after, finding(whole, "new\x1b[31m"), x="broken")
    found = compare(old, new)
    page = io.StringIO()
    show_comparison(old, new, found, Sheet(Console(file=page, width=100, color_system=None)))
    flat = " ".join(page.getvalue().split())
    assert flat.startswith("1 mended, 1 new, 1 still there; now FAIL")
    assert "1 MENDED: what was broken was looked at again, and holds" in flat
    assert "new␛[31m a.pdf, page 1 [us.x]" in flat
    assert "before: left margin is 1.9 cm signed off since by" in flat
    data = json.loads(comparison_to_json([(old, new, found)]))
    Draft202012Validator(schema("comparison")).validate(data)
    (office,) = data["offices"]
    assert [len(office[name]) for name in ("mended", "added", "same", "unknown")] == [1, 1, 1, 0]


def test_reports_come_back_from_json(report):
    one, two = report("everything"), report("clean_pass")
    assert reports_from_json(to_json(one)) == (one,)
    assert reports_from_json(set_to_json([one, two])) == (one, two)


def test_a_report_of_an_earlier_version_still_comes_back(report):
    data = json.loads(to_json(report("everything")))
    del data["void"], data["reasons"]["answered_no"]
    for question in data["by_hand"]:
        del question["consequence"]
    assert reports_from_json(json.dumps(data).encode())[0].void == ()


@pytest.mark.parametrize("raw", [b"", b"{", b"[]", b"{}", b'{"schema": "preflight-report/2"}', b"\xff", b"null"])
def test_what_is_no_report_is_refused(raw):
    with pytest.raises((msgspec.DecodeError, UnicodeDecodeError)):
        reports_from_json(raw)
