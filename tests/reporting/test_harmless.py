"""Whatever stands in any string of a report: the terminal shows it and obeys none of it, and JSON stays JSON."""

from __future__ import annotations

import io
import json
import re
import time
import unicodedata
from itertools import count

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from markup import Markup
from rich.console import Console

from preflight.reporting import wording
from preflight.reporting.comparing import compare
from preflight.reporting.comparison_told import comparison_to_json, show_comparison
from preflight.reporting.lines import Sheet
from preflight.reporting.machine import to_json
from preflight.reporting.page import to_page
from preflight.reporting.report import Report
from preflight.reporting.terminal import show_report

pytestmark = pytest.mark.hostile

UNSEEN = {0x034F, 0x115F, 0x1160, 0x17B4, 0x17B5, *range(0x180B, 0x1810), 0x3164, *range(0xFE00, 0xFE10), 0xFFA0}
UNSEEN |= set(range(0xE0100, 0xE01F0))
"""Characters that show nothing though Unicode counts them among letters and marks (Default_Ignorable_Code_Point)."""
STEERS = [
    "\x1b[2J",
    "\x1b]0;x\x07",
    "\x9b31m",
    "\u202e",
    "\u2066",
    "\u200f",
    "\u200b",
    "\ufeff",
    "\u2028",
    "\r\n",
    "\0",
]
STEERS += ["\ud800", "\udcff", "\u3164", "\ufe0f", "\u115f", "\x7f", "\t", "[bold red]", "<script>", "{measured}", "\\"]
ANY_TEXT = st.lists(st.one_of(st.sampled_from(STEERS), st.text(st.characters(exclude_categories=()), max_size=8)))
ANY_TEXT = ANY_TEXT.map("".join)


def steering(text: str) -> set[str]:
    """What in it moves the cursor, turns the direction, or is not seen."""
    return {
        c
        for c in text
        if c != "\n" and (unicodedata.category(c) in {"Cc", "Cf", "Cs", "Zl", "Zp", "Co", "Cn"} or ord(c) in UNSEEN)
    }


def shown(report: Report, width: int = 80) -> str:
    page = io.StringIO()
    show_report(report, Console(file=page, width=width, color_system=None, force_terminal=False, _environ={}))
    return page.getvalue()


@settings(deadline=None, max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(ANY_TEXT, min_size=1, max_size=12), st.sampled_from([40, 80, 120]))
def test_no_string_of_a_report_steers_the_terminal_or_breaks_json(report, poisoned, words, width):
    whole = poisoned(report("everything"), (words[n % len(words)] for n in count()))
    assert steering(shown(whole, width)) == set()
    data = to_json(whole)
    assert data.decode("utf-8")
    assert json.loads(data)["headline"] == whole.headline.encode("utf-8", "backslashreplace").decode()


@settings(deadline=None, max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(ANY_TEXT, min_size=1, max_size=12))
def test_no_string_of_a_report_becomes_markup_of_the_page_or_steers_it(report, poisoned, words):
    whole = report("everything")
    made = to_page(poisoned(whole, (words[n % len(words)] for n in count())))
    assert steering(made) == set()
    page, plain = Markup(made), Markup(to_page(whole))
    assert page.unbalanced == []
    assert set(page.tags) <= set(plain.tags)
    assert {(tag, name) for tag, name, _ in page.attributes} <= {(tag, name) for tag, name, _ in plain.attributes}


@settings(deadline=None, max_examples=20, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(ANY_TEXT, min_size=1, max_size=12))
def test_no_string_of_two_reports_steers_their_comparison_or_breaks_its_json(report, poisoned, words):
    old = poisoned(report("everything"), (words[n % len(words)] for n in count()))
    new = poisoned(report("everything"), (words[n % len(words)] for n in count(1)))
    found = compare(old, new)
    page = io.StringIO()
    show_comparison(old, new, found, Sheet(Console(file=page, width=80, color_system=None, _environ={})))
    assert steering(page.getvalue()) == set()
    assert json.loads(comparison_to_json([(old, new, found)]))["schema"] == "preflight-comparison/1"


@given(ANY_TEXT)
def test_what_can_be_read_stays_and_what_steers_becomes_a_sign_that_can_be_read(text):
    made = wording.clean(text)
    assert steering(made) == set()
    assert "\n" not in made
    assert len(made) >= len(text)
    kept = [c for c in text if not steering(c) and c != "\n"]
    rest = iter(made)
    assert all(c in rest for c in kept), "letters stay, in their order"


@given(st.text(st.characters(categories=["L", "M", "N", "P", "S"], exclude_characters=[chr(c) for c in UNSEEN])))
def test_words_of_every_script_stay_as_they_are(text):
    assert wording.clean(text) == text


def test_words_of_a_megabyte_do_not_hold_up_the_report(report):
    whole = report("everything")
    long = msgspec.structs.replace(whole.findings[0], message="long \x1b[31m " * 100_000)
    began = time.monotonic()
    made = shown(msgspec.structs.replace(whole, findings=(long,)))
    assert re.search(r"long ␛\[31m", made)
    assert time.monotonic() - began < 90, "it grows with the square"
