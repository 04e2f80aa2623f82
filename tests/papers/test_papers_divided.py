"""Words divided at the ends of lines."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from preflight.papers.words.divided import together


@pytest.mark.parametrize(
    ("lines", "text"),
    [
        (["the hous-", "ing 12 of a com-", "puter"], "the housing 12 of a computer"),
        (["an analog-to-", "digital converter"], "an analog-to-digital converter"),
        (["spiked with cel-", "miR-39 and IL-6-", "dependent"], "spiked with cel-miR-39 and IL-6-dependent"),
        (["a DNA-", "based probe and a 3-", "way valve"], "a DNA-based probe and a 3-way valve"),
        (["a cross-", "section of forty-", "eight cells"], "a cross-section of forty-eight cells"),
        (["parts 12-", "14 and miR-", "39"], "parts 12-14 and miR-39"),
        (["the left-", "and right-hand ends"], "the left- and right-hand ends"),
        (["a hook -", "the latch", "18-", "The end"], "a hook - the latch 18- The end"),
    ],
)
def test_a_hyphen_goes_where_it_only_divides(lines, text):
    """Common practice, no source."""
    assert together(lines)[0] == text


@given(st.lists(st.text("ab-C1 ,", max_size=8)))
def test_every_line_is_found_where_it_is_said_to_begin(lines):
    text, starts = together(lines)
    assert len(starts) == len(lines)
    assert all(text[at : at + len(line)].startswith(line[:-1]) for line, at in zip(lines, starts, strict=True))
