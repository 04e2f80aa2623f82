"""Part names and reference characters, held against texts whose pairs were written down beforehand."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from preflight.papers.characters.character_table import shown
from preflight.papers.characters.pairing import paired
from preflight.papers.characters.described import by_lines
from preflight.papers.pages.continuous import Continuous, as_read, joined

CORPUS = Path(__file__).parent / "corpus"
FILES = sorted(CORPUS.glob("*.toml"))
PIECES = (
    "the",
    "latch",
    "18",
    ",",
    "and",
    "(",
    ")",
    "18a",
    "20-26",
    "S10",
    "of",
    "mm",
    ".",
    "opens",
    "12'",
    "R1",
    "\n",
)
LEAST = 0.98
"""The harmonic mean of precision and recall that is asked for."""


def texts(file: Path) -> list[dict]:
    return tomllib.loads(file.read_text(encoding="utf-8"))["text"]


def found_in(text: str) -> set[str]:
    words = Continuous(*joined(text.strip("\n").split("\n")), places=())
    return {f"{pair.name} {shown(pair.character).casefold()}" for pair in paired(by_lines(words)).pairs}


def f1(right: int, too_many: int, missing: int) -> float:
    return 2 * right / (2 * right + too_many + missing)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_the_pairs_of_a_text_are_those_that_a_reader_finds(file, capsys):
    right = too_many = missing = 0
    wrong = []
    for text in texts(file):
        wanted, got = set(text["pairs"]), found_in(text["says"])
        right += len(wanted & got)
        too_many += len(got - wanted)
        missing += len(wanted - got)
        if wanted != got:
            wrong.append(f"{text['says']}\n    missing {sorted(wanted - got)}, too many {sorted(got - wanted)}")
    measured = f1(right, too_many, missing)
    with capsys.disabled():
        print(f"\n{file.stem}: F1 {measured:.3f} ({right} right, {too_many} too many, {missing} missing)")  # noqa: T201
    assert measured >= LEAST, "\n".join(wrong)


def test_the_corpus_is_large_and_no_text_stands_twice():
    every = [text["says"] for file in FILES for text in texts(file)]
    assert len(every) >= 80
    assert len(set(every)) == len(every)


def test_a_wrong_reader_would_be_seen():
    """The measure falls when names lose a word: it can fail."""
    pairs = [(pair, found_in(text["says"])) for text in texts(FILES[0]) for pair in text["pairs"]]
    cut = [pair.split(" ", 1)[-1] in got for pair, got in pairs]
    assert sum(cut) < len(cut) / 2


@pytest.mark.parametrize(
    ("text", "characters"),
    [
        ("The walls 20-26 stand.", ["20", "26"]),
        ("The walls 20 to 26 stand.", ["20", "26"]),
        ("The steps S10-S16 follow.", ["S10", "S16"]),
    ],
)
def test_a_range_is_its_ends_and_a_span(text, characters):
    read = paired(text)
    assert [pair.character for pair in read.pairs] == characters
    assert read.ranges == ((int(characters[0].strip("S")), int(characters[1].strip("S"))),)


def test_where_each_character_stands():
    text = "A pin (16) connects the latches 18, 20."
    assert [text[pair.at : pair.at + 2] for pair in paired(text).pairs] == ["16", "18", "20"]


def test_how_a_name_is_given():
    pin, *latches = paired("A pin (16) connects the latches 18, 20.").pairs
    assert (pin.article, pin.bracketed, pin.listed) == ("a", True, False)
    assert [(one.article, one.bracketed, one.listed) for one in latches] == [("the", False, True)] * 2


def test_a_step_by_its_number_alone():
    assert [one.character for one in paired("At 302, a request is received.").bare if one.labels] == ["302"]
    assert not paired("It runs at 302 rpm. In 2024, 302 persons came.").bare


@given(st.text(max_size=200))
def test_any_text_is_read(text):
    read = paired(as_read(text))
    assert all(pair.name and pair.character for pair in read.pairs)


@given(st.lists(st.sampled_from(PIECES), max_size=40))
def test_places_lie_in_the_text_and_rise(words):
    text = " ".join(words)
    places = [pair.at for pair in paired(text).pairs]
    assert places == sorted(places)
    assert all(text[at].isalnum() for at in places)
