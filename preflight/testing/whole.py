"""A whole rulebook over a whole filing: for tests that one defect is one finding, and a proper filing none."""

from __future__ import annotations

from collections.abc import Iterable

from preflight.checks import AnyCheck
from preflight.judging import ReadyFor, Verdict, examine, judge
from preflight.papers import Filing, entity_claimed
from preflight.rulebooks import Requirement


def judged(
    filing: Filing, requirements: Iterable[Requirement], checks: Iterable[AnyCheck], *, ready_for: ReadyFor = "filing"
) -> Verdict:
    """What these requirements say of a filing, as the program judges it."""
    named = {check.name: check for check in checks}
    examined = examine(filing, requirements, named, entity_claimed(filing).name, {})
    return judge(examined, {file.name: file.sha256 for file in filing.files}, ready_for)
