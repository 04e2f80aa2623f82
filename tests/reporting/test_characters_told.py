"""The table of reference characters obeys nothing that stands in a paper, on no screen and in no spreadsheet."""

from __future__ import annotations

import csv
import io
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.console import Console

from preflight.facts import Box
from preflight.papers import CharacterRow, CharacterTable, FigureRow, Mention, NotRead
from preflight.reporting.characters_told import characters_to_csv, characters_to_json, harmless, show_characters
from preflight.reporting.lines import Sheet

HOSTILE = ("=1+1", "+1", "-1", "@SUM(A1)", "\t=1", " =1", "\r=cmd", "\x1b[2J", "\u202e18", "12-1", 'a"b,c')


def table(word: str) -> CharacterTable:
    first = Mention(word, word, word, "specification", 1, Box(1, 1, 2, 2))
    one = CharacterRow(word, ((word, 2),), first, ("FIG. 1",), ("FIG. 1", "sheet 2"), doubtful=True)
    figures = (FigureRow("FIG. 1", described=True, drawn=None, brief=False),)
    return CharacterTable((one,), figures, (), (NotRead(word, 1, "drawings", word),), drawings=True)


@pytest.mark.parametrize("word", HOSTILE)
def test_a_cell_is_no_formula(word):
    """The characters that begin a formula are those that OWASP names under CSV injection (from memory)."""
    for row in list(csv.reader(io.StringIO(characters_to_csv(table(word)).decode("utf-8-sig"))))[1:]:
        assert not any(cell.lstrip().startswith(("=", "+", "-", "@", "\t", "\r")) for cell in row)


@given(st.text(max_size=20))
def test_any_cell_is_harmless(text):
    cell = harmless(text)
    assert not cell.lstrip().startswith(("=", "+", "-", "@"))
    assert not any(unicodedata.category(letter) in {"Cc", "Cf"} for letter in cell)


def test_what_looks_like_a_day_stays_text():
    assert [harmless(cell) for cell in ("12-1", "1/2", "12", "18a", "latch (2)")] == [
        "'12-1",
        "'1/2",
        "12",
        "18a",
        "latch (2)",
    ]


@pytest.mark.parametrize("word", HOSTILE)
def test_the_screen_obeys_nothing(word):
    out = io.StringIO()
    show_characters(table(word), word, Sheet(Console(file=out, width=100, highlight=False, markup=False)))
    assert not any(unicodedata.category(c) in {"Cc", "Cf"} for c in out.getvalue().replace("\n", ""))
    assert b"\x1b" not in characters_to_json(table(word))


def test_doubt_and_what_was_not_read_are_said():
    out = io.StringIO()
    show_characters(table("18"), "papers", Sheet(Console(file=out, width=100, highlight=False, markup=False)))
    assert "not read: 18, page 1: 18" in out.getvalue()
    assert "1, sheet 2?" in out.getvalue()
    assert "FIG. 1: not known whether it is drawn, not in the brief description" in out.getvalue()
