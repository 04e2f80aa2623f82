"""The one line that says the verdict and why."""

from __future__ import annotations

import msgspec
import pytest

from preflight.reporting.build import fails, headline
from preflight.reporting.report import Reasons


@pytest.fixture
def findings(report):
    """A notice, a piece of advice, one unread and one that is signed off."""
    whole = report("everything").findings
    off = next(f.signed_off for f in whole if f.signed_off)
    still = [msgspec.structs.replace(f, signed_off=None) for f in whole]
    notice = next(f for f in still if f.consequence == "notice" and f.state == "broken")
    advice = next(f for f in still if f.consequence == "advice" and f.state == "broken")
    unread = next(f for f in still if f.state == "unread")
    return notice, advice, msgspec.structs.replace(unread, consequence="notice"), off


def test_a_pass_counts_what_was_accepted_and_what_is_open(findings):
    notice, advice, _, off = findings
    accepted = msgspec.structs.replace(notice, signed_off=off)
    said = headline([accepted, advice], Reasons(signed_off=1, questions=4), passed=True)
    assert said == "PASS, 1 signed off, 1 piece of advice, 4 questions for you"
    assert headline([], Reasons(), passed=True) == "PASS"


def test_a_fail_counts_only_what_is_not_accepted(findings):
    notice, _, unread, off = findings
    accepted = msgspec.structs.replace(notice, signed_off=off)
    said = headline([accepted, notice, unread], Reasons(broken=1, unread=1, signed_off=1), passed=False)
    assert said == "FAIL: 1 notice; 1 paper not read; 1 signed off"


def test_an_answer_alone_can_fail():
    assert headline([], Reasons(answered_no=1), passed=False) == "FAIL: nothing broken; 1 question answered no"


@pytest.mark.parametrize(
    ("value", "consequence", "failing"), [("no", "notice", True), ("no", "advice", False), ("yes", "refusal", False)]
)
def test_no_fails_only_where_it_matters(report, value, consequence, failing):
    answered = next(q for q in report("everything").by_hand if q.answer)
    answer = msgspec.structs.replace(answered.answer, value=value)
    assert fails(msgspec.structs.replace(answered, answer=answer, consequence=consequence)) == failing
