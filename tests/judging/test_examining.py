"""What a requirement is held against."""

from __future__ import annotations

from preflight.checks import Unread
from preflight.checks.built_in import CHECKS
from preflight.judging import Examined, examine, judge
from preflight.judging.judgement import state
from preflight.papers import SCAN
from preflight.testing import filing, requirements

KNOWN = {check.name: check for check in CHECKS}


def test_a_requirement_for_papers_that_names_no_role_is_held_against_every_paper() -> None:
    (privacy,) = [one for one in requirements(office="us") if one.id == "us.upload.privacy"]
    assert privacy.applies_to == ()
    papers = [{"role": role} for role in ("specification", "letter", "cover-sheet", "fee-sheet")]
    (examined,) = examine(filing({"papers": papers}), [privacy], KNOWN, None, {})
    assert {outcome.at.role for outcome in examined.outcomes} == {one["role"] for one in papers}


FIGURES = [f"FIG. {number} is a side view of the guide." for number in (1, 2)]
LATCH = "The latch 18 of FIG. 1 holds the roller 24, and the latch 18 of FIG. 2 lets the roller 24 go."


def _examined(text: list[object], *ids: str, key: str = "writing") -> dict[str, Examined]:
    """Some requirements held against a text, by default a scan, and drawings with characters of their own."""
    labels = [
        {
            "text": [
                {"text": f"FIG. {n}", "at": [10.0, 20.0]},
                {"text": "18", "at": [6, 6]},
                {"text": "24", "at": [9, 9]},
            ]
        }
        for n in (1, 2)
    ]
    made = filing(
        {"papers": [{"role": "specification", "pages": [{key: text}]}, {"role": "drawings", "pages": labels}]}
    )
    some = [one for one in requirements(office="us") if one.id in ids]
    return {one.requirement.id: one for one in examine(made, some, KNOWN, None, {})}


def _unread(examined: Examined) -> list[Unread]:
    return [outcome for outcome in examined.outcomes if isinstance(outcome, Unread)]


def test_a_scan_that_agrees_with_the_drawings_acquits() -> None:
    ids = ("us.drawing.figures-described", "us.drawing.figures-present", "us.drawing.orphan-in-drawing")
    for examined in _examined([*FIGURES, LATCH], *ids).values():
        assert state(examined) == "met"


def test_what_a_scan_seems_to_lack_is_asked_with_its_place_where_a_text_is_found_at_fault() -> None:
    lacking = [FIGURES[0], "The latch 18 holds the roller 24, and the latch 18 lets the roller 24 go."]
    (of_scan,) = _examined(lacking, "us.drawing.figures-described").values()
    (of_text,) = _examined(lacking, "us.drawing.figures-described", key="text").values()
    assert (state(of_scan), state(of_text)) == ("unread", "broken")
    (asked,) = _unread(of_scan)
    assert asked.doubt
    assert asked.why.startswith("as far as the scan can be read, FIG. 2 is drawn")
    assert (asked.at.role, asked.at.page) == ("drawings", 2)
    assert asked.at.box is not None


def test_what_is_wrong_without_the_scan_stays_wrong() -> None:
    """A text with one scanned page: "latch 28" stands on a page of text, and on no sheet whatever the scan says."""
    pages = [{"text": [*FIGURES, LATCH, "The latch 28 is a spare, and the latch 28 is small."]}, {"writing": [LATCH]}]
    sheets = [{"text": [{"text": "FIG. 1", "at": [10.0, 20.0]}, *({"text": c, "at": [6, 6]} for c in ("18", "24"))]}]
    made = filing({"papers": [{"role": "specification", "pages": pages}, {"role": "drawings", "pages": sheets}]})
    (rule,) = (one for one in requirements(office="us") if one.id == "us.drawing.orphan-in-text")
    (examined,) = examine(made, [rule], KNOWN, None, {})
    assert state(examined) == "broken"


def test_what_holds_where_nothing_is_found_is_not_met_by_a_scan() -> None:
    """A reader of pictures may overlook a placeholder."""
    (examined,) = _examined([*FIGURES, LATCH], "us.practice.placeholders").values()
    assert state(examined) == "unread"
    assert [one.why for one in _unread(examined)] == [SCAN]


def test_a_doubt_about_good_practice_weighs_no_more_than_advice() -> None:
    twice = [FIGURES[1], FIGURES[0], LATCH]
    (examined,) = _examined(twice, "us.practice.one-figure-paragraph").values()
    verdict = judge([examined], {}, "filing")
    assert [(one.state, one.filing) for one in verdict.findings] == [("unread", "advice")]
    assert verdict.passed


def test_a_doubt_about_what_costs_rights_fails_until_a_person_has_looked() -> None:
    (lacking,) = _examined([FIGURES[0], "The latch 18 and the latch 18."], "us.drawing.orphan-in-drawing").values()
    verdict = judge([lacking], {}, "filing")
    assert {one.state for one in verdict.findings} == {"unread"}
    assert not verdict.passed
