"""What a reviewer accepted or answered: it holds for these very files, and never for a refusal."""

from __future__ import annotations

import datetime as dt

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from preflight.checks import Place, Seen, Unread
from preflight.facts import FileFacts, Page
from preflight.facts.declared import Answer, Declared, SignOff
from preflight.judging import Examined, Review, judge, objection, review
from preflight.papers import Filing, Paper
from preflight.rulebooks import Citation, Question, Requirement

DAY = dt.date(2026, 11, 26)
SHA = {"a.pdf": "11", "b.pdf": "22"}


def rule(name: str = "us.demo", **more: object) -> Requirement:
    fields: dict[str, object] = {
        "id": name,
        "title": "Demo",
        "filing": "notice",
        "examination": "notice",
        "why": "because",
        "citations": (Citation("37 CFR 0.0", "read"),),
        "check": "demo",
    }
    return Requirement(**(fields | more))  # type: ignore[arg-type]


def broken(requirement: Requirement, file: str | None = "a.pdf") -> Examined:
    return Examined(requirement, (Seen(what="part", held=False, at=Place(file, 1) if file else Place()),))


def accept(finding: str, **files: str) -> SignOff:
    return SignOff(finding, "AE", DAY, "looked at it", files={f"{name}.pdf": digest for name, digest in files.items()})


def judged(examined: Examined, sha256=SHA, ready_for="filing", **given_):
    return judge([examined], sha256, ready_for, Review(**given_))


def the_id(examined: Examined, sha256=SHA) -> str:
    return judge([examined], sha256, "filing").findings[0].id


def test_an_accepted_notice_fails_no_more_and_stays_in_the_list():
    verdict = judged(broken(rule()), sign_offs=(accept(the_id(broken(rule())), a="11"),))
    assert verdict.passed
    assert [f.signed_off.by for f in verdict.findings] == ["AE"]
    assert verdict.void == ()


def test_only_the_finding_that_it_names_is_accepted():
    both = Examined(rule(), (Seen(what="one", held=False, sort="x", at=Place("a.pdf", 1)),)), broken(rule("us.other"))
    first = judge(both, SHA, "filing").findings[0].id
    verdict = judge(both, SHA, "filing", Review((accept(first),)))
    assert [bool(f.signed_off) for f in verdict.findings] == [f.id == first for f in verdict.findings]
    assert not verdict.passed


@given(st.sampled_from(["a.pdf", "b.pdf"]), st.text("0123456789abcdef", min_size=2, max_size=2))
def test_a_changed_file_voids_the_sign_off_of_a_finding_on_the_whole_folder(name, digest):
    examined = broken(rule(), None)
    after = SHA | {name: digest}
    verdict = judged(examined, after, sign_offs=(accept(the_id(examined), a="11", b="22"),))
    if after == SHA:
        assert verdict.passed
    else:
        assert not verdict.passed
        assert [void.why for void in verdict.void] == [f"{name} has changed since"]


def test_a_sign_off_without_files_is_bound_by_the_number_of_the_finding():
    entry = accept(the_id(broken(rule())))
    assert judged(broken(rule()), sign_offs=(entry,)).passed
    (void,) = judged(broken(rule()), SHA | {"a.pdf": "99"}, sign_offs=(entry,)).void
    assert void.why == "there is no such finding now: it was mended, or is measured otherwise"


def test_a_file_that_is_gone_is_named():
    (void,) = judged(broken(rule(), "b.pdf"), {"b.pdf": "22"}, sign_offs=(accept("0" * 12, a="11"),)).void
    assert void.why == "a.pdf is no longer there"


def test_a_refusal_is_mended_not_accepted():
    examined = broken(rule(filing="refusal", examination="refusal"))
    verdict = judged(examined, sign_offs=(accept(the_id(examined), a="11"),))
    assert not verdict.passed
    assert verdict.findings[0].signed_off is None
    assert [void.why for void in verdict.void] == ["a refusal cannot be signed off, only mended"]


def test_what_is_a_refusal_only_for_the_examination_holds_for_the_filing():
    examined = broken(rule(filing="notice", examination="refusal"))
    entry = accept(the_id(examined), a="11")
    assert judged(examined, sign_offs=(entry,)).passed
    assert not judged(examined, ready_for="examination", sign_offs=(entry,)).passed


def test_what_only_the_later_application_needs_makes_no_sign_off_void():
    examined = broken(rule(filing="none", examination="notice"))
    later = judge([examined], SHA, "filing").for_later[0].id
    assert judged(examined, sign_offs=(accept(later, a="11"),)).void == ()
    assert judged(examined, ready_for="examination", sign_offs=(accept(later, a="11"),)).passed


def test_an_unread_paper_is_read_by_eye_unless_nobody_can_open_it():
    examined = Examined(rule(), (Unread("it is a scan", Place("a.pdf", 1)),))
    entry = accept(the_id(examined), a="11")
    assert judged(examined, sign_offs=(entry,)).passed
    verdict = judged(examined, sign_offs=(entry,), unopened=frozenset({"a.pdf"}))
    assert not verdict.passed
    assert [v.why for v in verdict.void] == ["a.pdf cannot be opened, so it cannot be signed off as read by eye"]
    assert objection(verdict.findings[0], "filing", frozenset({"b.pdf"})) is None


def filing(answers: tuple[Answer, ...] = (), sign_offs: tuple[SignOff, ...] = (), **files: str) -> Filing:
    """Papers whose names are their roles."""
    every = tuple(FileFacts(name=f"{role}.pdf", size=1, sha256=sha) for role, sha in files.items())
    papers = tuple(
        Paper(role, "other", f"{role}.pdf", sha, (Page(1, 21.6, 27.9),), "by hand") for role, sha in files.items()
    )
    return Filing(
        office="us",
        kind="provisional",
        entries=(),
        files=every,
        papers=papers,
        filing_date=DAY,
        payment_date=DAY,
        declared=Declared(answers=answers, signed_off=sign_offs),
    )


DRAWN = Question("views", "Are the views right?", rests_on=("drawings",))
ASKED = Examined(rule(check=None, asked_in="views"))


def answered(value="yes", **files: str) -> Answer:
    return Answer("views", value, "AE", DAY, files={f"{role}.pdf": sha for role, sha in files.items()})


@pytest.mark.parametrize(
    ("rests_on", "given_on", "now", "why"),
    [
        (("drawings",), {"drawings": "11"}, {"drawings": "11", "claims": "22"}, None),
        (("drawings",), {"drawings": "11"}, {"drawings": "11", "claims": "99"}, None),
        (("drawings",), {"drawings": "11"}, {"drawings": "99", "claims": "22"}, "drawings.pdf has changed since"),
        (("drawings",), {"drawings": "11"}, {"claims": "22"}, "drawings.pdf is no longer there"),
        (("drawings",), {"drawings": "11"}, {"drawings": "11", "other": "2"}, "other.pdf has come in since"),
        (("drawings",), {"drawings": "11"}, {"drawings": "11", "unknown": "2"}, "unknown.pdf has come in since"),
        (("drawings",), {}, {"drawings": "11"}, "it does not say on which files it rests"),
        (None, {"drawings": "11"}, {"drawings": "11", "claims": "22"}, "claims.pdf has come in since"),
        ((), {}, {"drawings": "11", "other": "2"}, None),
    ],
)  # fmt: skip
def test_an_answer_holds_as_long_as_the_papers_on_which_it_rests(rests_on, given_on, now, why):
    question = msgspec.structs.replace(DRAWN, rests_on=rests_on)
    seen = review(filing((answered(**given_on),), **now), [question], [ASKED])
    assert [void.why for void in seen.void] == ([why] if why else [])
    assert bool(seen.answers) == (why is None)


def test_an_answer_to_what_is_not_asked_is_void():
    nobody = msgspec.structs.replace(ASKED, applies=False)
    seen = review(filing((answered(drawings="1"),), drawings="1"), [DRAWN], [nobody])
    assert [void.why for void in seen.void] == ["this is not asked of these papers"]


@pytest.mark.parametrize(
    ("value", "consequence", "passes"),
    [("no", "notice", False), ("no", "refusal", False), ("no", "advice", True), ("no", "none", True),
     ("yes", "notice", True), ("does not apply", "notice", True)],
)  # fmt: skip
def test_no_fails_where_a_broken_requirement_would(value, consequence, passes):
    asked = Examined(rule(check=None, asked_in="views", filing=consequence, examination="notice"))
    seen = review(filing((answered(value, drawings="1"),), drawings="1"), [DRAWN], [asked])
    verdict = judge([asked], {"drawings.pdf": "1"}, "filing", seen)
    assert verdict.passed == passes
    assert verdict.states == {"us.demo": "by hand"}


def test_a_file_on_which_only_our_reader_failed_may_have_been_read_by_a_person():
    papers = filing(drawings="1", claims="2", abstract="")
    files = [
        msgspec.structs.replace(papers.files[0], unread="too slow", reader_failed=True),
        msgspec.structs.replace(papers.files[1], unread="it is encrypted"),
        msgspec.structs.replace(papers.files[2], unread="it cannot be read", reader_failed=True),
    ]
    seen = review(msgspec.structs.replace(papers, files=tuple(files)), [], [])
    assert seen.unopened == {"claims.pdf", "abstract.pdf"}


def test_what_a_clock_shows_does_not_void_a_sign_off():
    def at(time: str, *, fleeting: bool = True) -> Examined:
        return Examined(rule(), (Seen(what="time", held=False, measured=time, at=Place(), fleeting=fleeting),))

    entry = accept(the_id(at("23:40")), a="11", b="22")
    assert judged(at("23:41"), sign_offs=(entry,)).passed
    fixed = accept(the_id(at("23:40", fleeting=False)), a="11", b="22")
    assert not judged(at("23:41", fleeting=False), sign_offs=(fixed,)).passed
