"""Part names and reference characters, held against texts whose pairs were written down beforehand."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from preflight.papers.characters.character_table import shown
from preflight.papers.characters.described import by_lines
from preflight.papers.characters.pairing import paired
from preflight.papers.pages.continuous import Continuous, as_read, joined
from preflight.papers.pages.figures_named import figures_in

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


@pytest.mark.parametrize("file", [file for file in FILES if "paragraphs" in file.stem], ids=lambda file: file.stem)
def test_the_figures_of_a_text_are_those_that_a_reader_finds(file):
    for text in texts(file):
        named = {f"{number}{letter}" for _, _, some in figures_in(text["says"]) for number, letter in some}
        assert named == set(text["figures"]), text["says"]


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


PARTS = "The pump 100, the pipe 102, the tank 104, the tap 108 and the hose 110 leak. "


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("In FIG. 3, numeral 12 designates a ski pole whose shaft is bent.", ["ski pole"]),
        ("Here 64 denotes the sealing strip and 66 the solar module.", ["sealing strip", "solar module"]),
        ("R1 denotes an alkyl group, and 1 represents the worst mark.", []),
        ("A lock according to a first embodiment of the invention, generally designated 10, has a bolt.", ["lock"]),
        ("My hose reel, shown in the drawing at 10, is light.", ["hose reel"]),
        ("Two side plates, 12 and 14, are joined.", ["side plates", "side plates"]),
        ("It is made of polyester (75 denier), see the shell (14).", ["shell"]),
        ("In the meantime pitch drives 11 turn the blades 12 towards the wind.", ["pitch drives", "blades"]),
        ("After rinsing 510, soaping 512 and drying 514 the yarn is wound.", ["rinsing", "soaping", "drying"]),
        (
            "Pressing thumb piece 40 frees the hook 42. The thumb piece 40 is bent.",
            ["thumb piece", "hook", "thumb piece"],
        ),
        ("The mower 400 follows guide wire 424 home.", ["mower", "guide wire"]),
        ('All of them ("rider devices 120") and a pipe of 5" width.', ["rider devices"]),
        (PARTS + "Grain 20 falls in zone 3.", ["pump", "pipe", "tank", "tap", "hose"]),
        (PARTS + "It leaves through port 106.", ["pump", "pipe", "tank", "tap", "hose", "port"]),
        (PARTS + "It leaves through port 300.", ["pump", "pipe", "tank", "tap", "hose"]),
        (
            "A tier 3 switch 20 and the level 1 cache 22 work by rules R1-R4.",
            ["tier 3 switch", "level 1 cache", "rules", "rules"],
        ),
        ("A token 18 moves: a die is thrown to advance token 18.", ["token", "token"]),
        ("In Fig. 1, 10 denotes an insole as a whole, 12 its heel cup.", ["insole", "heel cup"]),
        (
            PARTS + "It runs along lines 112, 114 or 116.",
            ["pump", "pipe", "tank", "tap", "hose", "lines", "lines", "lines"],
        ),
        ("It runs in any browser that supports HTML 5 on the CPU 22.", ["cpu"]),
        ("A Pt 100 sensor 18 lies beside an RS-485 bus 26.", ["pt 100 sensor", "rs-485 bus"]),
        ("A sequence number 56 stands beside the serial number 4471.", ["sequence number"]),
        ("The hook 110 is made of flex 110.", ["hook"]),
        (
            PARTS + "The dashboard 112 runs in Firefox 215, see ticket 91423.",
            ["pump", "pipe", "tank", "tap", "hose", "dashboard"],
        ),
        ("In step 104, 180 \u00b5L of a buffer are added.", ["step"]),
        ("A CAN bus 30 leads to an OR gate 26.", ["can bus", "or gate"]),
        ("See Bull. Soc. Tracers 41 (1998); the blade 18 withstands 10 to 20 of them.", ["blade"]),
        ("The speed N of the motor 4 is set by expression (1): N = k \u00d7 dT (1)", ["motor"]),
        ("The upper, middle and lower rolls 12, 14, 16 turn.", ["upper rolls", "middle rolls", "lower rolls"]),
        ("The first and second jaws 21, 22 and 23 open.", ["second jaws"] * 3),
        ("The first and second jaws 21 and 22 open.", ["first jaws", "second jaws"]),
        ("A base and upper walls 12, 14 are cast.", ["upper walls"] * 2),
        ("It is held by M8 screws 62 and a USB 3.0 cable 34.", ["m8 screws", "usb 3.0 cable"]),
        ("In operation 810 up to 500 spare parts 126 are sorted.", ["operation", "spare parts"]),
        ("Boards 54, each of which measures 12 voltages, and a user 2 of it stay.", ["boards", "user"]),
        ("Opaque markers 22a, 22b identify the ends of the balloon 14.", ["opaque markers"] * 2 + ["balloon"]),
        (
            "A first ring of struts (32a) and a second ring of struts (32b) turn.",
            ["first ring of struts", "second ring of struts"],
        ),
        ("An inert gas (N2) fills the flask 14, and the sequence (5' to 3') is read.", ["flask"]),
        ("The flap 34(a) and the second flap 34(b) swing, under Section 112(a).", ["flap", "second flap"]),
        ("A class 150 flange closes the pipe 12, which ends at a type 2 seal.", ["pipe"]),
        ("Three hitch points, collectively 14, are in the usual Category 2 arrangement.", ["hitch points"]),
        ("Crystal planes (110), the additive E 330 and the Si 2p line are seen on the wafer 14.", ["wafer"]),
        ("The pins 126(1) and 126(2) turn, and so do the sensors 120a-120n.", ["pins"] * 2 + ["sensors"] * 2),
    ],
)
def test_how_a_name_is_found(text, names):
    assert [pair.name for pair in paired(text).pairs] == names


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("If so (S104: Yes), the valve opens at S208 and S110 closes it.", ["S104", "S208", "S110"]),
        ("The frame is of S355 steel.", []),
        ("The nitro compound 3 and 4-nitrobenzaldehyde (2) give Compounds 5-7.", ["3", "2", "5", "7"]),
        ("Like parts bear numerals increased by 100, and n is an integer of 2 to 60.", []),
        ("It takes 3 weeks, by a method of 1998 (2), and 4.", []),
    ],
)
def test_a_step_or_a_compound_needs_no_name(text, steps):
    assert [one.character for one in paired(text).bare if one.labels] == steps


@pytest.mark.parametrize(
    ("text", "unclear"),
    [
        ("At mark 70, traffic started.", ("70",)),
        ("Swing it by 85 to 90 degrees, heat it to 92 \u00b1 2 \u00b0C with up to 12.", ()),
        ("It has a factor of 50, and n is an integer of 2 to 60.", ()),
        ("See FIG. 12 and claim 14 of 35 papers, at a pressure of 40 bar and 12 degrees.", ()),
    ],
)
def test_what_english_does_not_decide_is_told(text, unclear):
    assert paired(text).unclear == unclear


def test_what_is_doubted_is_kept_apart():
    assert [pair.character for pair in paired(PARTS + "It ends in zone 3.").doubted] == ["3"]


def test_a_number_that_ends_a_sentence_is_no_number_of_a_paragraph():
    text, _ = joined(
        ["The bag rests on a rocking", "and entirely flat new platform", "704. A filter 706 floats.", "12. It ends."]
    )
    assert text == "The bag rests on a rocking and entirely flat new platform 704. A filter 706 floats. It ends."


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
