"""Outcomes joined with law: findings, states, verdict."""

import datetime as dt

from hypothesis import given
from hypothesis import strategies as st

from preflight.checks import Measured, Place, Seen, Unread
from preflight.facts import Box
from preflight.facts.declared import SignOff
from preflight.judging import Examined, judge
from preflight.judging.reviewing import Review
from preflight.rulebooks import Citation, Grade, Requirement

SHA = {"a.pdf": "11", "b.pdf": "22"}


def rule(name: str = "us.demo", **more: object) -> Requirement:
    given_: dict[str, object] = {
        "id": name,
        "title": "Demo",
        "filing": "notice",
        "examination": "notice",
        "why": "because",
        "citations": (Citation("37 CFR 0.0", "read"),),
        "check": "demo",
        "message": "{what} is {measured}, must be {required}",
        "fix": "mend it",
    }
    return Requirement(**(given_ | more))  # type: ignore[arg-type]


def margin(value: float, page: int = 1, file: str = "a.pdf") -> Measured:
    box = Box(value, 2, 10, 20)
    return Measured(what="left margin", value=value, unit="cm", least=2.5, slack=0.05, at=Place(file, page, box))


def test_nothing_looked_at_is_not_applicable_and_never_met() -> None:
    assert judge([Examined(rule())], SHA, "filing").states == {"us.demo": "not applicable"}


def test_met_needs_something_that_held() -> None:
    verdict = judge([Examined(rule(), (margin(2.5),))], SHA, "filing")
    assert verdict.states == {"us.demo": "met"}
    assert verdict.passed


def test_pages_with_the_same_fault_are_one_finding_the_worst_first() -> None:
    (finding,) = judge([Examined(rule(), (margin(2.2, 1), margin(1.9, 3), margin(2.6, 4)))], SHA, "filing").findings
    assert [p.page for p in finding.places] == [3, 1]
    assert isinstance(finding.outcome, Measured)
    assert finding.outcome.value == 1.9


def test_files_are_told_apart() -> None:
    findings = judge([Examined(rule(), (margin(1, 1, "b.pdf"), margin(1, 1, "a.pdf")))], SHA, "filing").findings
    assert [f.places[0].file for f in findings] == ["a.pdf", "b.pdf"]


def test_a_changed_file_changes_the_id() -> None:
    before = judge([Examined(rule(), (margin(1),))], SHA, "filing").findings[0].id
    again = judge([Examined(rule(), (margin(1),))], SHA, "filing").findings[0].id
    after = judge([Examined(rule(), (margin(1),))], SHA | {"a.pdf": "33"}, "filing").findings[0].id
    assert before == again != after


def test_a_finding_on_the_whole_bundle_hangs_on_every_file() -> None:
    missing = Examined(rule(), (Seen(what="drawings", held=False),))
    one = judge([missing], SHA, "filing").findings[0].id
    other = judge([missing], SHA | {"b.pdf": "99"}, "filing").findings[0].id
    assert one != other


def test_a_finding_yields_to_the_one_that_speaks_for_it_on_the_same_page() -> None:
    size = Examined(rule("us.size"), (Seen(what="page", held=False, at=Place("a.pdf", 1)),))
    margins = Examined(rule(yields_to=("us.size",)), (margin(1, 1), margin(1, 2)))
    findings = judge([margins, size], SHA, "filing").findings
    assert {f.requirement.id for f in findings} == {"us.size", "us.demo"}, "page 2 is spoken for by nobody"
    alone = Examined(rule(yields_to=("us.size",)), (margin(1, 1),))
    verdict = judge([alone, size], SHA, "filing")
    assert [f.requirement.id for f in verdict.findings] == ["us.size"]
    assert verdict.told_by == {"us.demo": "us.size"}


def test_what_is_shown_beside_a_defect_has_no_say_in_who_tells_it() -> None:
    numbers = Examined(rule("us.numbers"), (Seen(what="number", held=False, at=Place("a.pdf", 2)),))
    stated = Seen(what="pages", held=False, at=Place("a.pdf"), shown=(Place("cover.pdf", 1),))
    verdict = judge([Examined(rule(yields_to=("us.numbers",)), (stated,)), numbers], SHA, "filing")
    assert [f.requirement.id for f in verdict.findings] == ["us.numbers"]
    (alone,) = judge([Examined(rule(yields_to=("us.numbers",)), (stated,))], SHA, "filing").findings
    assert [place.file for place in alone.places] == ["a.pdf", "cover.pdf"]


def test_advice_never_speaks_for_a_notice() -> None:
    frame = Examined(rule("us.frame", filing="advice", examination="advice"), (margin(1),))
    margins = Examined(rule(yields_to=("us.frame",)), (margin(1),))
    unread = Examined(rule("us.read", yields_to=("us.frame",)), (Unread("dark", Place("a.pdf", 1)),))
    verdict = judge([margins, frame, unread], SHA, "filing")
    assert {f.requirement.id for f in verdict.findings} == {"us.frame", "us.demo", "us.read"}
    assert not verdict.passed


def test_what_yielded_speaks_for_itself_once_its_speaker_is_signed_off() -> None:
    numbers = Examined(rule("us.numbers"), (Seen(what="number", held=False, at=Place("a.pdf")),))
    counts = Examined(rule("us.counts", yields_to=("us.numbers",)), (margin(1),))
    last = Examined(rule("us.last", yields_to=("us.counts",)), (Unread("dark", Place("a.pdf", 1)),))
    examined = [counts, last, numbers]
    signed = []
    for shows in (["us.numbers"], ["us.counts", "us.numbers"], ["us.counts", "us.last", "us.numbers"]):
        review = Review(sign_offs=tuple(signed))
        verdict = judge(examined, SHA, "filing", review)
        assert sorted(f.requirement.id for f in verdict.findings) == shows
        assert not verdict.passed
        open_ones = [f for f in verdict.findings if f.signed_off is None]
        signed += [SignOff(f.id, "RK", dt.date(2026, 11, 25), "seen", files=SHA) for f in open_ones]
    assert judge(examined, SHA, "filing", Review(sign_offs=tuple(signed))).passed


def test_unread_outcomes_are_one_finding_a_file_and_reason_and_never_met() -> None:
    scan = Unread("it is a scan", Place("a.pdf", 1))
    verdict = judge([Examined(rule("us.one"), (scan,)), Examined(rule("us.two"), (scan,))], SHA, "filing")
    (finding,) = verdict.findings
    assert finding.covers == ("us.one", "us.two")
    assert finding.state == "unread"
    assert set(verdict.states.values()) == {"unread"}
    assert not verdict.passed


def test_what_could_not_be_read_is_a_notice_at_most() -> None:
    verdict = judge([Examined(rule(filing="refusal"), (Unread("dark", Place("a.pdf")),))], SHA, "filing")
    assert verdict.findings[0].consequence("filing") == "notice"


def test_unread_is_silent_where_a_broken_requirement_says_why() -> None:
    broken = Examined(rule("us.valid", filing="refusal"), (Seen(what="file", held=False, at=Place("a.pdf")),))
    fonts = Examined(rule(yields_to=("us.valid",)), (Unread("it does not open", Place("a.pdf")),))
    verdict = judge([broken, fonts], SHA, "filing")
    assert [f.requirement.id for f in verdict.findings] == ["us.valid"]
    assert verdict.states["us.demo"] == "unread", "silent, but not met"


def test_what_was_read_is_reported_beside_the_requirement_that_says_why_the_rest_was_not() -> None:
    broken = Examined(rule("us.valid", filing="refusal"), (Seen(what="file", held=False, at=Place("a.pdf")),))
    seen = Seen(what="script", held=False, at=Place("a.pdf"))
    scripts = Examined(rule(unread_yields_to=("us.valid",)), (seen, Unread("it loops", Place("a.pdf"))))
    verdict = judge([broken, scripts], SHA, "filing")
    assert {(f.requirement.id, f.state) for f in verdict.findings} == {("us.valid", "broken"), ("us.demo", "broken")}


def test_a_check_that_failed_makes_its_requirement_unread_by_name() -> None:
    verdict = judge([Examined(rule(), (margin(3),), trouble='check "demo" of x failed (ValueError)')], SHA, "filing")
    assert verdict.states == {"us.demo": "unread"}
    assert not verdict.passed
    assert 'check "demo" of x failed' in getattr(verdict.findings[0].outcome, "why", "")


def test_none_for_the_filing_waits_for_the_examination() -> None:
    examined = [Examined(rule(filing="none", examination="notice"), (margin(1),))]
    now, then = judge(examined, SHA, "filing"), judge(examined, SHA, "examination")
    assert (now.findings, now.passed, len(now.for_later)) == ((), True, 1)
    assert (len(then.findings), then.passed) == (1, False)


def test_for_the_examination_the_graver_of_the_two_counts() -> None:
    examined = [Examined(rule(filing="notice", examination="none"), (margin(1),))]
    assert not judge(examined, SHA, "examination").passed


def test_grades_by_sort_and_by_limit_the_first_that_fits() -> None:
    graded = rule(
        filing="advice",
        levels=(
            Grade(filing="notice", examination="notice", below=0.5, message="cut off"),
            Grade("none", "none", "odd"),
        ),
    )
    findings = judge([Examined(graded, (margin(0.4), margin(2.0)))], SHA, "filing").findings
    assert [(f.filing, f.message) for f in findings] == [
        ("notice", "cut off"),
        ("advice", "{what} is {measured}, must be {required}"),
    ]


def test_advice_alone_passes() -> None:
    assert judge([Examined(rule(filing="advice"), (margin(1),))], SHA, "filing").passed


@given(st.permutations([("us.a", 1, 1.0), ("us.b", 2, 1.2), ("us.c", 1, 0.2), ("us.a", 3, 2.0)]))
def test_the_order_of_what_was_examined_does_not_matter(order: list[tuple[str, int, float]]) -> None:
    examined = [Examined(rule(name), (margin(value, page),)) for name, page, value in order]
    ids = [f.id for f in judge(examined, SHA, "filing").findings]
    straight = [
        Examined(rule(name), (margin(value, page),))
        for name, page, value in [("us.a", 1, 1.0), ("us.b", 2, 1.2), ("us.c", 1, 0.2), ("us.a", 3, 2.0)]
    ]
    assert ids == [f.id for f in judge(straight, SHA, "filing").findings]


@given(st.floats(0, 5), st.floats(0, 1), st.floats(0, 1))
def test_more_white_never_breaks_a_margin(value: float, more: float, slack: float) -> None:
    one = Measured("m", value, "cm", least=2.5, slack=slack)
    wider = Measured("m", value + more, "cm", least=2.5, slack=slack)
    assert not one.held or wider.held
