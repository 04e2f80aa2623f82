"""Two texts word by word: what is left out and put in gives the one from the other."""

from __future__ import annotations

import random

from hypothesis import given
from hypothesis import strategies as st

from preflight.papers.sources.aligning import Stretch, differing

WORDS = st.lists(st.sampled_from(["the", "a", "lever", "spring", "turns", "14", "18", "and"]), max_size=60)


@given(WORDS, WORDS)
def test_the_stretches_between_equal_words_lead_from_one_text_to_the_other(first, second):
    made, at, there = [], 0, 0
    for stretch in differing(first, second):
        assert first[at : stretch.i] == second[there : stretch.j]
        made += [*first[at : stretch.i], *second[stretch.j : stretch.j_end]]
        at, there = stretch.i_end, stretch.j_end
    assert [*made, *first[at:]] == second


def test_equal_texts_do_not_differ():
    assert differing(["a"] * 3000, ["a"] * 3000) == []
    assert differing([], []) == []


def test_edits_far_apart_are_found_one_by_one_in_a_long_text():
    pick = random.Random(7)
    known = ["lever", "spring", "valve", "seat", "body", "turns", "holds", "the", "a", "of", "and", "in", "10", "12"]
    first = [pick.choice(known) for _ in range(9000)]
    second = [*first[:1000], "new", *first[1000:5000], *first[5003:8000], "other", *first[8001:]]
    assert [(s.i_end - s.i, s.j_end - s.j) for s in differing(first, second)] == [(0, 1), (3, 0), (1, 1)]


def test_neighbours_are_one_stretch():
    assert differing(["a", "b", "c"], ["a", "x", "y", "c"]) == [Stretch(1, 2, 1, 3)]
