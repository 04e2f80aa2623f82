"""Whether two names may name one part, and what is said of characters of whole texts."""

from __future__ import annotations

import textwrap
from pathlib import Path

import pytest

from preflight.checks import Unread
from preflight.checks.api import NoLimits
from preflight.checks.part_names import claims_bracketed, modified_part, named_before_used, one_part_one_character
from preflight.papers.characters.naming import modified_from, near, opposite, same_part, singular
from preflight.papers.characters.next_free import NextFree, next_free
from preflight.testing.building import filing

SPECIFICATIONS = sorted((Path(__file__).parent / "specifications").glob("*.txt"))


@pytest.mark.parametrize(
    ("word", "one"),
    [("latches", "latch"), ("bodies", "body"), ("teeth", "tooth"), ("glass", "glass"), ("lens", "lens"), ("bus", "bus"),
     ("boxes", "box"), ("axis", "axis"), ("axes", "axis"), ("levers", "lever")],
)  # fmt: skip
def test_one_of_several(word, one):
    assert singular(word) == one


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("latch", "sliding latch"),
        ("latch", "latches"),
        ("latch", "latch assembly"),
        ("latch member", "latch"),
        ("cpu", "central processing unit"),
        ("led", "light-emitting diode"),
        ("app", "mobile application"),
        ("door frame", "doorframe"),
        ("lacth plate", "latch plate"),
        ("transmiter", "transmitter"),
    ],
)
def test_names_of_one_part(one, other):
    assert same_part(one, other)
    assert same_part(other, one)


@pytest.mark.parametrize(("one", "other"), [("lever", "arm"), ("fastener", "screw"), ("roller", "roller bracket")])
def test_names_to_look_at(one, other):
    assert not same_part(one, other)
    assert near(one, other)


@pytest.mark.parametrize(("one", "other"), [("lever", "spring"), ("display", "battery"), ("stake", "hose")])
def test_names_of_two_parts(one, other):
    assert not same_part(one, other)
    assert not near(one, other)


def test_words_that_exclude_each_other():
    assert opposite("upper wall", "lower wall")
    assert not opposite("upper wall", "side wall")
    assert modified_from("modified latch", "latch")
    assert not modified_from("modified latch", "lever")


@pytest.mark.parametrize(
    ("used", "free"),
    [
        (["10", "12", "14"], [(0, 16, 11)]),
        (["10", "12", "14", "17"], [(0, 16, 19)]),
        (["10", "12a", "12b"], [(0, 14, 11)]),
        (["1", "2", "3"], [(0, 4, 5)]),
        (["102", "198", "200", "201"], [(100, 202, 103), (200, 202, 203)]),
        (["R1", "S10"], []),
        (["96", "98", "100"], [(0, 102, 97), (100, 102, 101)]),
    ],
)
def test_the_next_free_numbers(used, free):
    """Even and odd by common practice, no source."""
    assert next_free(used) == tuple(NextFree(*one) for one in free)


def test_what_a_range_covers_is_taken():
    assert next_free(["10", "20"], [(10, 30)]) == (NextFree(0, 32, 31),)


def _pages(text: str) -> list[str]:
    lines = [line for part in text.split("\n\n") for line in textwrap.wrap(part, 95)]
    return ["\n".join(lines[at : at + 30]) for at in range(0, len(lines), 30)]


@pytest.mark.parametrize("file", SPECIFICATIONS, ids=lambda file: file.stem)
def test_a_proper_specification_has_no_finding(file):
    """Method steps, chemistry, electronics, biology, machines, data centers, medicine: written for this test."""
    text, _, claims = file.read_text(encoding="utf-8").partition("\nCLAIMS\n")
    papers = [{"pages": _pages(text)}, {"role": "claims", "pages": _pages(f"CLAIMS\n\n{claims}")}]
    outcomes = [
        outcome
        for check in (one_part_one_character, modified_part, named_before_used, claims_bracketed)
        for outcome in check.run(filing({"papers": papers}), NoLimits())
    ]
    assert len(outcomes) >= 3
    assert [one for one in outcomes if isinstance(one, Unread) or not one.held] == []
