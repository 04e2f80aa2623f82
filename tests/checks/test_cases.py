"""Every requirement that is measured, held to its examples in tests/cases."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from preflight.checks import Measured, Seen, Unread
from preflight.checks.built_in import CHECKS
from preflight.judging import Examined, judge
from preflight.reporting.findings_told import tell_finding, tell_later
from preflight.rulebooks import Requirement
from preflight.testing import Case, assert_case, load_cases, requirements, rulebook, run_case

US = Path(__file__).parent.parent / "cases" / "us"
CASES = load_cases(US)
BY_ID = {requirement.id: requirement for requirement in requirements(office="us")}
MEASURED = [requirement for requirement in BY_ID.values() if requirement.check]
FEES = rulebook("us").fees

NEVER_UNREAD = {
    "us.name.start": "a file always has a name",
    "us.name.characters": "a file always has a name",
    "us.name.spaces": "a file always has a name",
    "us.name.extension": "a file always has a name",
    "us.name.length": "a file always has a name",
    "us.name.reserved": "a file always has a name",
    "us.pdf.valid": "what does not open is what it looks for",
    "us.pdf.version": "a file that does not open is reported by us.pdf.valid",
    "us.pdf.bytes": "a file always has a size",
    "us.pdf.count": "files can always be counted",
    "us.date.eastern": "the filer's clock always says something",
    "us.upload.day": "the filer's clock always says something",
    "us.practice.scan": "what cannot be read is what it looks for",
    "us.prov.cover.title": "where no title can be read there is none to count",
    "us.text.title.length": "where no title can be read there is none to count",
    "us.prov.cover.docket": "where no docket number can be read there is none to count",
    "us.text.title": "compares the titles that can be read",
    "us.practice.wrong-client": "compares what can be read",
    "us.practice.one-version": "compares what can be read",
    "us.practice.identical-files": "bytes that could not be read are reported by us.pdf.valid",
    "us.folder.other-files": "a file always has a name",
    "us.folder.left-out": "looks at names only",
    "us.folder.unknown-paper": "what cannot be read is unread elsewhere",
    "us.folder.declared-role": "a page that shows nothing does not contradict",
}
"""Requirements whose check cannot yield unread, each with the reason."""


NOT_SO = re.compile(r"[{}]|^\s|\s$|  |\.$|^[A-Z][a-z]|\bNone\b|\(\)|: ?$|: ?[,;)]")
"""What no message may show: an empty or open placeholder, a capital in front, a full stop at the end."""


@pytest.mark.parametrize("case", CASES, ids=str)
def test_case(case: Case) -> None:
    assert case.requirement in BY_ID, f"{case.file}: no requirement {case.requirement}"
    assert_case(case, BY_ID[case.requirement], CHECKS, fees=FEES)


@pytest.mark.parametrize("requirement", MEASURED, ids=lambda r: r.id)
def test_each_measured_requirement_has_its_examples(requirement: Requirement) -> None:
    kinds = {case.kind for case in CASES if case.requirement == requirement.id}
    wanted = {"met", "broken"} | (set() if requirement.id in NEVER_UNREAD else {"unread"})
    assert wanted <= kinds, f"{requirement.id} lacks {', '.join(sorted(wanted - kinds))}"


def test_each_case_file_is_named_for_its_requirement() -> None:
    """A file for several requirements has a name of its own."""
    for file in sorted({case.file for case in CASES}):
        ids = {case.requirement for case in CASES if case.file == file}
        assert len(ids) > 1 or file == f"{ids.pop().replace('.', '-')}.toml"


def test_no_two_cases_of_a_requirement_have_one_name() -> None:
    names = [str(case) for case in CASES]
    assert sorted(set(names)) == sorted(names)


def test_each_sort_with_consequences_of_its_own_has_a_case() -> None:
    """A consequence that no example reaches may be anything."""
    reached = {
        (case.requirement, outcome.sort)
        for case in CASES
        if case.kind == "broken"
        for outcome in run_case(case, BY_ID[case.requirement], CHECKS, fees=FEES)
        if not isinstance(outcome, Unread) and not outcome.held
    }
    wanted = {(r.id, grade.sort) for r in MEASURED for grade in r.levels if grade.sort}
    assert sorted(wanted - reached) == []


@pytest.mark.parametrize("case", [case for case in CASES if case.kind == "broken"], ids=str)
def test_messages_keep_their_form(case: Case) -> None:
    """The problem in lower case without a full stop, every placeholder filled; the fix an imperative."""
    requirement = BY_ID[case.requirement]
    for outcome in run_case(case, requirement, CHECKS, fees=FEES):
        if isinstance(outcome, Unread) or outcome.held:
            continue
        verdict = judge([Examined(requirement, (outcome,))], {}, "filing")
        message = tell_finding(verdict.findings[0], {}, "filing").message if verdict.findings else ""
        fix = tell_finding(verdict.findings[0], {}, "filing").fix if verdict.findings else ""
        if verdict.for_later:
            message = tell_later(verdict.for_later[0], {}).message
        assert message, "a broken outcome must say something"
        assert not NOT_SO.search(_without_quotations(message, outcome)), message
        if fix:
            assert re.match(r"[a-z]+ ", fix), fix
            assert not fix.endswith("."), fix


def _without_quotations(message: str, outcome: Measured | Seen) -> str:
    """The message without what it quotes from papers and file names, which keep their own form."""
    quoted = [*outcome.words.values(), *([outcome.measured] if isinstance(outcome, Seen) else [])]
    for text in sorted((q for q in quoted if q.strip()), key=len, reverse=True):
        message = message.replace(text, "so")
    return message
