"""What a requirement is held against."""

from __future__ import annotations

from preflight.checks.built_in import CHECKS
from preflight.judging import examine
from preflight.testing import filing, requirements

KNOWN = {check.name: check for check in CHECKS}


def test_a_requirement_for_papers_that_names_no_role_is_held_against_every_paper() -> None:
    (privacy,) = [one for one in requirements(office="us") if one.id == "us.upload.privacy"]
    assert privacy.applies_to == ()
    papers = [{"role": role} for role in ("specification", "letter", "cover-sheet", "fee-sheet")]
    (examined,) = examine(filing({"papers": papers}), [privacy], KNOWN, None, {})
    assert {outcome.at.role for outcome in examined.outcomes} == {one["role"] for one in papers}
