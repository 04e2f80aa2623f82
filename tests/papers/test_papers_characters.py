"""Reference characters: as named in a text, as drawn on a sheet, and how likely one stands for another."""

from __future__ import annotations

import math

import pytest

from preflight.facts import Box, Reading
from preflight.papers import characters_on, described, labels_on, named_figures
from preflight.papers.characters.likeness import log_chance
from preflight.testing.building import page, paper


def _named(*lines: str) -> dict[str, str]:
    found = described([paper({"pages": ["\n".join(lines)]})])
    return {one.text: one.name for one in found.mentions}


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("The sliding latch 18 closes.", {"18": "sliding latch"}),
        ("Latches 18a, 18b and 18c close.", {"18a": "latches", "18b": "latches", "18c": "latches"}),
        ("The walls 20-26 and steps S10 and S12.", {"20": "walls", "26": "walls", "S10": "steps", "S12": "steps"}),
        ("A pin (16) of the lever 12' turns.", {"16": "pin", "12'": "lever"}),
        ("The valve A 12 opens.", {"12": "valve a"}),
        ("Eine Sitzfl\u00e4che 5 aus Stoff", {"5": "eine Sitzfl\u00e4che".casefold()}),
        ("The cover sheet 104 is lifted.", {"104": "cover sheet"}),
        ("FIG. 3 and claim 4 of US 9,123,456; about 12 pins; 40 mm; at 20 to 30 \u00b0C; in May 2024; 12.5; 3/4.", {}),
        ("37 CFR 1.84 and ISO 9001; RS-232; version 2; Example 7 and embodiments 1 to 9; 50 %.", {}),
    ],
)
def test_a_name_and_its_number(text, found):
    assert _named(text) == found


def test_words_divided_at_the_end_of_a_line_are_joined():
    assert _named("The frame holds the latch-", "ing lever 14.") == {"14": "latching lever"}


def test_a_range_holds_its_members():
    found = described([paper({"pages": ["The steps 102-110 follow."]})])
    assert found.holds("106")
    assert not found.holds("112")


def test_once_without_an_article_and_single_digits_are_weak():
    found = described([paper({"pages": ["See bus 24. The valve 3 and the lid 30 close. Tried in summer 2024."]})])
    assert [text for text in ("24", "3", "30") if found.names_for_sure(text)] == ["30"]


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("FIG. 2A is a view.", ["2A"]),
        ("FIGS. 1, 3 and 4", ["1", "3", "4"]),
        ("FIGS. 2A-2C", ["2A", "2B", "2C"]),
        ("Figures 1 to 3", ["1", "2", "3"]),
        ("see FIG. 7 of that document", []),
        ("US 9,999,999, whose FIG. 2 shows a tube", []),
        ("FIG. 2 of US 9,999,999", []),
    ],
)
def test_figures_that_a_text_names(text, names):
    assert sorted(one.name for one in named_figures([paper({"pages": [text]})])) == names


@pytest.mark.parametrize(
    ("drawn", "found"),
    [
        ("22 FOCUS CONTROL", ["22"]),
        ("CONVERGENCE46", ["46"]),
        ("-26", ["26"]),
        ("10g", ["109"]),
        ("22 & 26", ["22", "26"]),
        ("30 MPH", []),
        ("07/25/95", []),
        ("2:37:33", []),
        ("Z1", []),
        ("8x", []),
        ("007", []),
        ("1/2", []),
        ("5,231,876", []),
        ("Sheet 3 of 9", []),
        ("STAGE 2", []),
        ("RS170", []),
        ("a=1/8", []),
    ],
)
def test_characters_of_a_sheet(drawn, found):
    assert [one.text for one in characters_on(page({"text": [drawn]}, kind="drawing"))] == found


def test_the_number_of_a_label_is_no_reference_character():
    sheet = page({"text": [{"text": "FIG.", "at": [9, 20]}, {"text": "4", "at": [10.0, 20]}, "12"]}, kind="drawing")
    assert [label.name for label in labels_on(sheet)] == ["4"]
    assert [one.text for one in characters_on(sheet)] == ["12"]


def _seen(*columns: dict[str, float]) -> Reading:
    logs = tuple(tuple((letter, math.log(chance)) for letter, chance in column.items()) for column in columns)
    return Reading("10", Box(1, 1, 2, 2), 0, 0.9, 0.9, columns=logs)


def test_the_probability_of_a_string_sums_over_its_alignments():
    """Graves and others, Connectionist Temporal Classification (2006), worked by hand for two columns."""
    seen = _seen({"1": 0.6, "": 0.4}, {"1": 0.5, "": 0.5})
    # "1" is 1-1, 1-blank, blank-1
    assert math.exp(log_chance(seen, "1")) == pytest.approx(0.6 * 0.5 + 0.6 * 0.5 + 0.4 * 0.5)
    assert math.exp(log_chance(seen, "11")) < 0.001


def test_a_doubled_letter_needs_something_between():
    seen = _seen({"1": 1.0}, {"": 1.0}, {"1": 1.0})
    assert math.exp(log_chance(seen, "11")) == pytest.approx(1.0)
    assert math.exp(log_chance(seen, "1")) < 0.001
