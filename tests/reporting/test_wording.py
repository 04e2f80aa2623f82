"""Numbers, days and places in words: true, short, and rounded so that a fault shows."""

from __future__ import annotations

import datetime as dt
import re
import unicodedata
from itertools import pairwise

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from preflight.reporting import wording

LIMITS = st.sampled_from([0.3175, 0.32, 0.9525, 0.95, 1.5, 2.5, 12.0, 21.59, 27.94, 100.0, 500.0, 2083.0])


@pytest.mark.parametrize(
    ("value", "unit", "least", "most", "said"),
    [
        (1.9, "cm", 2.5, None, ("1.9 cm", "at least 2.5 cm")),
        (2.4812, "cm", 2.5, None, ("2.48 cm", "at least 2.5 cm")),
        (2.4999999, "cm", 2.5, None, ("just under 2.5 cm", "at least 2.5 cm")),
        (2.5000001, "cm", None, 2.5, ("just over 2.5 cm", "at most 2.5 cm")),
        (0.93, "cm", 0.95, None, ("0.93 cm", "at least 0.95 cm")),
        (0.0346, "cm", 0.04, None, ("0.035 cm", "at least 0.04 cm")),
        (3.33, "cm", 1.0, 3.0, ("3.3 cm", "between 1 and 3 cm")),
        (0.0, "cm", 1.0, None, ("0 cm", "at least 1 cm")),
        (11.46, "pt", 12.0, None, ("11.5 pt", "at least 12 pt")),
        (101.0, "characters", None, 100.0, ("101 characters", "at most 100 characters")),
        (1.0, "pages", 2.0, 2.0, ("1 page", "2 pages")),
        (23.0, "sheets", None, 1.0, ("23 sheets", "at most 1 sheet")),
        (26_400_000.0, "bytes", None, 25_000_000.0, ("26.4 MB", "at most 25 MB")),
        (25_000_001.0, "bytes", None, 25_000_000.0, ("25,000,001 bytes", "at most 25,000,000 bytes")),
        (26_214_401.0, "bytes", None, 26_214_400.0, ("26,214,401 bytes", "at most 26,214,400 bytes")),
        (65.0, "USD", 130.0, 130.0, ("USD 65", "USD 130")),
        (0.996, "%", 1.0, None, ("0.996%", "at least 1%")),
        (3.0, "", 1.0, None, ("3", "at least 1")),
        (7.0, "cm", None, None, ("7 cm", "")),
    ],
)
def test_a_measured_value_and_what_is_asked_for(value, unit, least, most, said):
    assert wording.figures(value, unit, least, most) == said


@given(value=st.floats(0.001, 5000), limit=LIMITS)
@example(value=2.49999, limit=2.5)
@example(value=2.95, limit=3.0)
def test_a_value_beyond_its_limit_never_reads_like_the_limit(value, limit):
    assume(value != limit)
    shown = wording.length(value, limit)
    figure = float(re.search(r"[\d,.]+", shown).group().replace(",", ""))
    if shown.startswith("just"):
        assert ("under" in shown) == (value < limit)
        assert figure == limit
    else:
        assert (figure < limit) == (value < limit)
        assert figure == pytest.approx(value, rel=0.05, abs=0.05)


@given(value=st.integers(1, 10**9), limit=st.sampled_from([10_000_000, 25_000_000, 26_214_400]))
def test_bytes_over_a_limit_are_seen_to_be_over_it(value, limit):
    measured, required = wording.figures(float(value), "bytes", most=float(limit))
    sizes = [float(re.search(r"[\d,.]+", text).group().replace(",", "")) for text in (measured, required)]
    assert measured.split()[-1].rstrip("s") == required.split()[-1].rstrip("s")
    assert (sizes[0] > sizes[1]) == (value > limit)


def test_a_limit_is_needed_to_ask_for_something():
    with pytest.raises(ValueError, match="limit"):
        wording.between(None, None, "cm")


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_what_is_no_number_is_said_to_be_unknown(value):
    assert wording.quantity(value, "cm") == "unknown cm"


@pytest.mark.parametrize(
    ("number", "noun", "said"),
    [
        (1, "paper", "1 paper"),
        (0, "paper", "0 papers"),
        (1, "copies", "1 copy"),
        (2, "copy", "2 copies"),
        (1, "inches", "1 inch"),
        (2, "box", "2 boxes"),
        (1, "classes", "1 class"),
        (2, "class", "2 classes"),
        (2, "day", "2 days"),
        (1, "bytes", "1 byte"),
        (1234, "bytes", "1,234 bytes"),
        (2, "reference characters", "2 reference characters"),
        (2, "refusal", "2 refusals"),
    ],
)
def test_counts_take_the_right_plural(number, noun, said):
    assert wording.counted(number, noun) == said


@pytest.mark.parametrize(
    ("made", "said"),
    [
        (wording.money(65), "USD 65"),
        (wording.money(1820, "EUR"), "EUR 1,820"),
        (wording.money(7.5), "USD 7.50"),
        (wording.day(dt.date(2026, 11, 25)), "25 November 2026"),
        (wording.day_if_one("2026-03-01"), "1 March 2026"),
        (wording.day_if_one("2026-13-01"), "2026-13-01"),
        (wording.day_if_one("soon"), "soon"),
        (wording.moment("2026-11-25T23:40:12-05:00"), "25 November 2026, 23:40 (UTC-05:00)"),
        (wording.moment("2026-11-25T23:40:12"), "25 November 2026, 23:40"),
        (wording.moment("just now"), "just now"),
        (wording.file_name("claims.pdf"), "claims.pdf"),
        (wording.file_name(" claims.pdf"), '" claims.pdf"'),
        (wording.file_name("two  blanks.pdf"), '"two  blanks.pdf"'),
        (wording.file_name(""), '""'),
        (wording.role("cover-sheet"), "cover sheet"),
        (wording.share(0.1234), "12%"),
        (wording.share(0.0996, 0.1), "9.96%"),
        (wording.sheet(21.59, 27.94), "21.59 x 27.94 cm"),
        (wording.listed([]), ""),
        (wording.listed(["a"]), "a"),
        (wording.listed(["a", "b", "c"]), "a, b and c"),
        (wording.listed(["a", "b"], "or"), "a or b"),
        (wording.pages([]), ""),
        (wording.pages([3]), "page 3"),
        (wording.pages([7, 2, 3, 4, 5, 5]), "pages 2 to 5 and 7"),
        (wording.pages([1, 2]), "pages 1 to 2"),
        (wording.pages([1, 3, 5, 6, 9], most=2), "pages 1, 3 and 3 more"),
        (wording.pages([1, 3], most=1), "pages 1 and 1 more"),
    ],
)
def test_the_words_for(made, said):
    assert made == said


@given(st.sets(st.integers(1, 60)))
def test_runs_hold_exactly_the_numbers(numbers):
    gathered = wording.runs(numbers)
    assert {n for first, last in gathered for n in range(first, last + 1)} == numbers
    assert all(b[0] - a[1] > 1 for a, b in pairwise(gathered))


@pytest.mark.parametrize(
    ("text", "harmless"),
    [
        ("a\nb\r\n", "a␊b␍␊"),
        ("\x1b[31mred\x1b]0;title\x07", "␛[31mred␛]0;title␇"),
        ("drawings\u202efdp.exe", r"drawings\u202efdp.exe"),
        ("one\u2028two\u200b", r"one\u2028two\u200b"),
        ("\x9b31m\x7f", r"\u009b31m␡"),
        ("bad\udcff.pdf", r"bad\udcff.pdf"),
        ("\U000e0041", r"\U000e0041"),
        ("Zeichnung für Ada, 図面.pdf", "Zeichnung für Ada, 図面.pdf"),
    ],
)
def test_what_steers_a_terminal_is_made_visible(text, harmless):
    assert wording.clean(text) == harmless


ANY_TEXT = st.text(st.characters(exclude_categories=()))


@given(ANY_TEXT)
def test_clean_text_is_one_line_that_steers_nothing(text):
    made = wording.clean(text)
    assert all(unicodedata.category(c) not in {"Cc", "Cf", "Cs", "Zl", "Zp"} for c in made)
    assert len(made.splitlines()) <= 1
    assert wording.clean(made) == made
    made.encode("utf-8")


@given(st.text(st.characters(codec="ascii", exclude_categories=["Cc"])))
def test_plain_text_stays_as_it_is(text):
    assert wording.clean(text) == text
