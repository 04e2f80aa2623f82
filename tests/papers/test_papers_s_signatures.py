"""The form of a typed signature, as a pure function.

S1-S13: the office's leaflet "S-signature examples", rules effective 21 Sept 2004, with an invented name; the rest
follows from 37 CFR 1.4(d)(2)(i) and (ii) (RULES-us-filing 2a, "derived"). That a name must stand by it is tested with
papers.
"""

from __future__ import annotations

import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from preflight.papers import s_signature
from preflight.papers.forms.s_signatures import typed_signatures


@pytest.mark.parametrize(
    "text",
    [
        "/Ada Example/",  # S1, S3, S4, S5, S6
        "/ Ada Example /",  # S2
        "/Ada Exampel/",  # S7
        "/Dr. Ada M. Example, III/",  # S13
        "/a.e./",  # derived
        "/1234/",  # derived
        "/D'Example-Muster/",  # derived
        "/7/",  # one numeral is enough
        "  /Ada Example/  ",  # after trimming
    ],
)
def test_good(text: str) -> None:
    assert s_signature(text).flaw is None


@pytest.mark.parametrize(
    ("text", "flaw"),
    [
        ("Ada Example", "slashes"),  # S8, S9
        ("//Ada Example//", "slashes"),  # S10
        ("/\u263a/", "characters"),  # S12
        ("/A_1/", "characters"),  # derived
        ("/A@x/", "characters"),  # derived
        ("\\Ada Example\\", "slashes"),  # derived
        ("/Ada Example", "slashes"),  # derived
        ("Ada Example/", "slashes"),
        ("//", "empty"),  # derived
        ("/ /", "empty"),
        ("/.-,/", "empty"),
        ("/Ada Example (agent)/", "characters"),  # derived
        ("/Ada*/", "characters"),  # derived
        ("/$/", "characters"),  # derived
        ("/Ada Example #12,345/", "characters"),  # derived: only with a practitioner's number
        ("/Ada/Example/", "slashes"),
        ("", "slashes"),
    ],
)
def test_bad(text: str, flaw: str) -> None:
    assert s_signature(text).flaw == flaw


def test_a_practitioner_may_write_the_sign_before_the_number() -> None:
    assert s_signature("/Cleo Sampleton #99,999/", practitioner=True).flaw is None
    assert s_signature("/Cleo Sampleton # agent/", practitioner=True).flaw == "characters"


@given(st.text(string.ascii_letters + string.digits + " ,.'-", min_size=1).filter(lambda s: any(map(str.isalnum, s))))
def test_whatever_the_rule_allows_is_good(content: str) -> None:
    assert s_signature(f"/{content}/").flaw is None


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("Signature /Ada Example/ Date 11/20/2026", ["/Ada Example/"]),
        ("/Ada Example/ Reg. No. 99,999", ["/Ada Example/"]),
        ("/Ada Example/ /Bo Muster/", ["/Ada Example/", "/Bo Muster/"]),
        ("and/or, PTO/SB/16, 12/345, https://example.org/a/b", []),
        ("11/20/2026", []),
    ],
)
def test_signatures_in_a_line(line: str, found: list[str]) -> None:
    assert [one.written for one in typed_signatures(line)] == found
