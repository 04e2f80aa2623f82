"""The rules as they stand in rules/house.toml, each with its cases; and that preflight takes the package."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

import msgspec
import pytest

import house_rules
from house_rules import plugin
from house_rules.dockets import Names, Pages
from house_rules.footers import Footer
from house_rules.wording import numbers_in, phrases_in
from preflight.plugging import Plugin, Registry, built_in, registry_of
from preflight.testing import Case, assert_case, load_cases

CASES = load_cases(Path(__file__).parent / "cases")
HOUSE = "house-rules"


@cache
def registry() -> Registry:
    """The program with this plug-in and no other, installed or not."""
    return registry_of([*built_in(), Plugin(HOUSE, house_rules.__version__, plugin)])


def test_preflight_takes_it_whole() -> None:
    assert [p.trouble for p in registry().plugins if p.trouble] == []
    (extension,) = registry().rulebooks["us", "provisional"].extensions
    assert (extension.id, extension.plugin) == (HOUSE, f"{HOUSE} {house_rules.__version__}")


@pytest.mark.parametrize("case", CASES, ids=str)
def test_case(case: Case) -> None:
    (requirement,) = [r for r in registry().rulebooks["us", "provisional"].requirements if r.id == case.requirement]
    assert_case(case, requirement, registry().checks.values())


def test_every_rule_has_cases_that_hold_and_cases_that_do_not() -> None:
    (extension,) = registry().rulebooks["us", "provisional"].extensions
    for rule in extension.requirements:
        kinds = {case.kind for case in CASES if case.requirement == rule.id}
        assert {"met", "broken"} <= kinds


@pytest.mark.parametrize(
    ("limits", "record"),
    [
        ({"docket": "(DEMO", "files": "pdf$"}, Names),
        ({"docket": "DEMO", "files": "*"}, Names),
        ({"docket": "[", "stands_in": "footer"}, Pages),
        ({"docket": "DEMO", "stands_in": "margin"}, Pages),
        ({"pattern": "(", "called": "x"}, Footer),
        ({"pattern": "x", "called": "x", "color": "red"}, Footer),
    ],
)
def test_what_is_no_pattern_is_refused_when_the_rules_are_loaded(
    limits: Mapping[str, str], record: type[msgspec.Struct]
) -> None:
    with pytest.raises(msgspec.ValidationError):
        msgspec.convert(limits, record)


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("DEMO-0417", ("DEMO-0417",)),
        ("demo \u2013 0417, DEMO/0418", ("DEMO-0417", "DEMO-0418")),
        ("DEMO-0417-DEMO-0417", ("DEMO-0417",)),
        ("DEMO-041", ()),
        ("DEMO-04177", ()),
        ("\u00c4DEMO-0417", ()),
    ],
)
def test_docket_numbers_in_text(text: str, numbers: tuple[str, ...]) -> None:
    assert numbers_in(text, r"DEMO-\d{4}") == numbers


def test_phrases_are_whole_words() -> None:
    assert phrases_in("New-born, NEW\u00a0YORK new", ["new", "new york"], ["New York"]) == ("new",)
    assert phrases_in("Newer", ["new"]) == ()
