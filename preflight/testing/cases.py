"""Examples of a requirement as data: what must be met, broken, unread, or nothing to look at.

A file holds the examples of one requirement (or of several, as a list, where each of them must see the same):

    requirement = "us.drawing.margins"

    [[met]]
    name = "ink ends exactly on all four limits"
    source = "37 CFR 1.84(g)"
    pages = [{ sheet = "A4", ink = [2.5, 2.5, 19.5, 28.7] }]

    [[broken]]
    name = "ink begins 1.9 cm from the left edge"
    pages = [{ sheet = "A4", ink = [1.9, 2.5, 19.5, 28.7] }]
    expect = [{ page = 1, what = "left margin", value = 1.9, least = 2.5 }]

`[all]` holds words for every case of the file. Apart from `name`, `source` and `expect` a case says what the
check looks at, in the words of `preflight.testing.building`: of a file, a paper (those of a list `papers` one by
one) or a filing. `expect` has one entry for each outcome that does not hold or is unread, with as much of it as
matters: page, file, role, also, shown, on (a part of the words of the line at its place), what, measured, required,
value (to two decimals), least, most, sort, words, why (a part of it); and of the finding that becomes of it: filing,
examination, message (a part of it), fix (a part of it).
"""

from __future__ import annotations

import datetime as dt
import tomllib
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import msgspec

from preflight.checks import AnyCheck, Outcome, Unread
from preflight.facts import FileFacts
from preflight.facts.money import Fee
from preflight.judging import Examined, judge
from preflight.papers import Filing, Paper
from preflight.reporting.findings_told import tell_finding, tell_later
from preflight.rulebooks import Requirement, as_struct
from preflight.testing.building import file_facts, filing, paper

KINDS = ("met", "broken", "unread", "nothing")
"""What a case may show. nothing: the check has nothing to look at, so the requirement is not applicable."""
ALMOST = 0.005
"""How far a measured value may be from the expected one: two decimals."""


class Case(msgspec.Struct, frozen=True):
    """One example."""

    requirement: str
    kind: str
    name: str
    file: str
    """The name of the file that it stands in."""
    shows: dict[str, Any]
    expect: tuple[dict[str, Any], ...] | None = None
    source: str = ""

    def __str__(self) -> str:
        """Its name in the list of a test run."""
        return f"{self.requirement}: {self.kind}: {self.name}"


class Wrong(AssertionError):
    """A case that did not come out as it says."""


def load_cases(path: Path) -> tuple[Case, ...]:
    """The cases of a file, or of every file in a folder, in order."""
    if path.is_dir():
        return tuple(case for one in sorted(path.rglob("*.toml")) for case in load_cases(one))
    data = tomllib.loads(path.read_text("utf-8"))
    common = data.get("all", {})
    known = ("requirement", "all", *KINDS)
    if strange := set(data) - set(known):
        raise ValueError(f"{path.name}: {', '.join(sorted(strange))} is unknown; known are {', '.join(known)}")
    named = data["requirement"]
    return tuple(
        _case(requirement, kind, {**common, **said}, path)
        for requirement in ([named] if isinstance(named, str) else named)
        for kind in KINDS
        for said in data.get(kind, ())
    )


def run_case(
    case: Case, requirement: Requirement, checks: Iterable[AnyCheck], *, fees: Iterable[Fee] = ()
) -> tuple[Outcome, ...]:
    """The outcomes of the requirement's check on what the case shows."""
    return _run(case, requirement, checks, fees)[1]


def _run(
    case: Case, requirement: Requirement, checks: Iterable[AnyCheck], fees: Iterable[Fee]
) -> tuple[list[Any], tuple[Outcome, ...]]:
    """What the check looks at, and its outcomes."""
    check = next(c for c in checks if c.name == requirement.check)
    limits = as_struct(requirement, check)
    subjects = _subjects(case, requirement, check, fees)
    return subjects, tuple(o for subject in subjects for o in check.run(subject, limits))


def assert_case(
    case: Case, requirement: Requirement, checks: Iterable[AnyCheck], *, fees: Iterable[Fee] = ()
) -> tuple[Outcome, ...]:
    """Runs the case and raises `Wrong`, with expected and got in full, if it does not come out as it says."""
    subjects, outcomes = _run(case, requirement, checks, fees)
    seen = [_seen(one) | {"on": _on(one, subjects)} for one in outcomes]
    if trouble := _trouble(case, requirement, outcomes, seen):
        raise Wrong(_told(case, requirement, outcomes, seen, trouble))
    return outcomes


def _case(requirement: str, kind: str, said: dict[str, Any], path: Path) -> Case:
    words = dict(said)
    name, source, expect = words.pop("name"), words.pop("source", ""), words.pop("expect", None)
    if kind == "broken" and not expect:
        raise ValueError(f'{path.name}: "{name}": a broken case needs expect')
    return Case(requirement, kind, name, path.name, words, None if expect is None else tuple(expect), source)


def _subjects(case: Case, requirement: Requirement, check: AnyCheck, fees: Iterable[Fee]) -> list[Any]:
    shows = case.shows
    if check.of is FileFacts:
        every = shows["files"] if "files" in shows else [shows.get("file", shows)]
        return [file_facts(one) for one in every]
    if check.of is Paper:
        role = requirement.applies_to[0] if requirement.applies_to else "specification"
        papers = [paper(one, role=role) for one in shows.get("papers", [shows])]
        return [p for p in papers if not requirement.applies_to or p.role in requirement.applies_to]
    return [filing(shows, fees=fees)]


def _trouble(case: Case, requirement: Requirement, outcomes: tuple[Outcome, ...], seen: list[dict[str, Any]]) -> str:
    """What is wrong in a word, or nothing. `seen` are the outcomes as plain data."""
    open_ones = [o for o in outcomes if isinstance(o, Unread) or not o.held]
    unread = any(isinstance(o, Unread) for o in outcomes)
    if case.kind == "nothing":
        return "nothing to look at was expected" if outcomes else ""
    if not outcomes:
        return "the check saw nothing to look at"
    if case.kind == "met":
        return "it must be met, and is not" if open_ones else ""
    if case.kind == "broken" and all(isinstance(o, Unread) for o in open_ones):
        return "it must be broken, and is not"
    if case.kind == "unread" and (not unread or any(not isinstance(o, Unread) for o in open_ones)):
        return "it must be unread, and nothing else"
    told = [data | _finding(requirement, o) for o, data in zip(outcomes, seen, strict=True) if o in open_ones]
    if case.expect is not None and not _matched(case.expect, told):
        return "other outcomes were expected"
    return ""


def _matched(expect: tuple[dict[str, Any], ...], told: list[dict[str, Any]]) -> bool:
    """Whether each expected entry has an outcome of its own, and none is left over."""
    if len(expect) != len(told):
        return False
    fits = [
        [all(_same(name, value, one.get(name)) for name, value in wanted.items()) for one in told] for wanted in expect
    ]
    return _assignable(fits, 0, frozenset())


def _assignable(fits: list[list[bool]], at: int, used: frozenset[int]) -> bool:
    if at == len(fits):
        return True
    return any(_assignable(fits, at + 1, used | {n}) for n, fit in enumerate(fits[at]) if fit and n not in used)


def _same(name: str, wanted: Any, got: Any) -> bool:
    if isinstance(wanted, int | float) and isinstance(got, int | float):
        return abs(wanted - got) < ALMOST
    if name in ("on", "why", "message", "fix"):
        return str(wanted) in str(got)
    if isinstance(wanted, Mapping) and isinstance(got, Mapping):
        return all(got.get(key) == value for key, value in wanted.items())
    return bool(wanted == got)


def _seen(outcome: Outcome) -> dict[str, Any]:
    """An outcome as plain data, its place unfolded."""
    fields = {name: getattr(outcome, name) for name in outcome.__struct_fields__ if name not in ("at", "also", "shown")}
    places = {"file": outcome.at.file, "page": outcome.at.page, "role": outcome.at.role}
    also = {name: [place.page or place.file for place in getattr(outcome, name, ())] for name in ("also", "shown")}
    return {**places, **fields, **also}


def _on(outcome: Outcome, subjects: Iterable[Any]) -> str:
    """The words of the lines at its place, empty where it has no box."""
    at = outcome.at
    holders = [one for subject in subjects for one in (subject.papers if isinstance(subject, Filing) else (subject,))]
    pages = [page for one in holders if at.file in (None, _name(one)) for page in one.pages if page.number == at.page]
    lines = [line for page in pages for line in page.lines]
    return " ".join(line.text for line in lines if line.box.touches(at.box)) if at.box else ""


def _name(holder: FileFacts | Paper) -> str:
    return holder.name if isinstance(holder, FileFacts) else holder.file


def _finding(requirement: Requirement, outcome: Outcome) -> dict[str, Any]:
    """What becomes of the outcome: its consequences, message and fix."""
    verdict = judge([Examined(requirement, (outcome,))], {}, "filing")
    if verdict.findings:
        told = tell_finding(verdict.findings[0], {}, "filing")
        levels = {"filing": told.consequences.filing, "examination": told.consequences.examination}
        return {**levels, "message": told.message, "fix": told.fix}
    if verdict.for_later:
        later = verdict.for_later[0]
        return {"filing": later.filing, "examination": later.examination, "message": tell_later(later, {}).message}
    return {"filing": "none", "examination": "none"}


def _told(
    case: Case, requirement: Requirement, outcomes: tuple[Outcome, ...], seen: list[dict[str, Any]], trouble: str
) -> str:
    wanted = [_words(entry) for entry in case.expect or ()] or [f"({case.kind})"]
    each = zip(outcomes, seen, strict=True)
    got = [f"{_state(o)}: {_words(data)}{_became(requirement, o)}" for o, data in each] or ["(no outcome)"]
    lines = [f'{case.file}, {case.requirement}, {case.kind} case "{case.name}": {trouble}']
    lines += ["expected:", *(f"    {line}" for line in wanted), "got:", *(f"    {line}" for line in got)]
    return "\n".join(lines)


def _state(outcome: Outcome) -> str:
    return "unread" if isinstance(outcome, Unread) else "held" if outcome.held else "not held"


def _became(requirement: Requirement, outcome: Outcome) -> str:
    if not isinstance(outcome, Unread) and outcome.held:
        return ""
    return f"; finding: {_words(_finding(requirement, outcome))}"


def _words(entry: Mapping[str, Any]) -> str:
    shown = {name: value for name, value in entry.items() if value not in (None, "", (), [], {})}
    return ", ".join(f"{name} = {_value(value)}" for name, value in shown.items())


def _value(value: Any) -> str:
    if isinstance(value, float):
        return f"{value:.4g}"
    return value.isoformat() if isinstance(value, dt.date) else repr(value)
