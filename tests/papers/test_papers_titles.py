"""The title as each paper gives it, and whether two titles agree.

37 CFR 1.72(a): heading of the first page of the specification, unless given in a data sheet.
"""

from __future__ import annotations

from typing import Any

import pytest

from preflight.papers import Paper, difference, title_candidates, title_of
from preflight.papers.matter.titles import fold
from preflight.testing import paper

PROSE = "The lever turns about the pin and lifts the band of the clamp away from the outer wall of the hose."


def line(text: str, left: float, top: float) -> dict[str, Any]:
    return {"text": text, "at": [left, top]}


def specification(*rows: str) -> Paper:
    return paper({"pages": [{"text": [*rows, PROSE, PROSE]}, {"text": [PROSE, PROSE]}]})


def centred(text: str, top: float) -> dict[str, Any]:
    return line(text, 10.8 - 0.095 * len(text), top)


def value(of: Paper, *people: str) -> str | None:
    said = title_of(of, people)
    return said.value if said else None


@pytest.mark.parametrize(
    "rows",
    [
        ("HOSE CLAMP WITH LEVER", "BACKGROUND"),
        ("SPECIFICATION", "HOSE CLAMP WITH LEVER", "BACKGROUND"),
        ("TITLE", "HOSE CLAMP WITH LEVER", "BACKGROUND"),
        ("TITLE OF THE INVENTION", "HOSE CLAMP WITH LEVER", "BACKGROUND"),
        ("Title: HOSE CLAMP WITH LEVER", "Inventor: Ada Example", "BACKGROUND"),
        ("Attorney Docket No. DEMO-0417", "HOSE CLAMP WITH LEVER", "FIELD"),
        ("DEMO-0417", "HOSE CLAMP WITH LEVER", "FIELD"),
        ("PROVISIONAL PATENT APPLICATION", "for", "HOSE CLAMP WITH LEVER", "by", "Ada Example"),
        ("UNITED STATES PATENT APPLICATION", "FOR", "HOSE CLAMP WITH LEVER", "Inventors: Ada Example", "FIELD"),
        ("HOSE CLAMP", "WITH LEVER", "BACKGROUND"),
        ('"HOSE CLAMP WITH LEVER"', "BACKGROUND"),
    ],
)
def test_the_title_on_the_first_page(rows: tuple[str, ...]) -> None:  # beginnings in common use, no source
    assert value(specification(*rows)) == "HOSE CLAMP WITH LEVER"


def test_a_title_in_mixed_case_over_several_lines() -> None:
    rows = [centred("Self-locking hose clamp with a lever for hoses of", 2.6), centred("different diameters", 3.2)]
    found = paper({"pages": [{"text": [*rows, line("Field", 2.54, 4.4), line(PROSE, 2.54, 5.2)]}]})
    assert value(found) == "Self-locking hose clamp with a lever for hoses of different diameters"


def test_a_name_under_the_title_is_none_of_it() -> None:
    rows = [centred("Hose Clamp with Lever", 2.6), centred("Ada Example and Ben Sample", 3.4)]
    found = paper({"pages": [{"text": [*rows, line("Field", 2.54, 4.4), line(PROSE, 2.54, 5.2)]}]})
    assert value(found) == "Hose Clamp with Lever"


@pytest.mark.parametrize(
    "rows", [("BACKGROUND",), ("[0001] The lever turns about the pin.",), (PROSE,), ("ABSTRACT",), ("CLAIMS",)]
)
def test_no_title(rows: tuple[str, ...]) -> None:
    assert value(specification(*rows)) is None


def test_a_running_header_is_no_title() -> None:
    head = line("Ada Example: papers", 2.54, 1.6)
    pages = [
        {"text": [head, centred("HOSE CLAMP", 2.7), line("FIELD", 2.54, 4)]},
        {"text": [head, line(PROSE, 2.54, 3)]},
    ]
    assert value(paper({"pages": pages})) == "HOSE CLAMP"


def test_a_title_longer_than_the_law_allows_can_still_be_measured() -> None:
    # 1.72(a): at most 500 characters; a check cannot say so unless the whole of it is found
    rows = ["HOSE CLAMP WITH A LEVER AND A SPRING FOR HOSES OF ALL THE MANY DIAMETERS IN USE,"] * 8
    found = specification(*rows, "BACKGROUND")
    assert len(value(found) or "") > 500


def sheet(*texts: str) -> Paper:
    lines = [line(text, 2 + 6 * n, 1.0) for n, text in enumerate(texts)]
    return paper({"role": "drawings", "pages": [{"marks": [[4, 5, 17, 20]], "text": lines}]})


@pytest.mark.parametrize(
    ("texts", "title"),
    [
        (("Title: Hose Clamp",), "Hose Clamp"),
        (("HOSE CLAMP WITH LEVER Ada Example Docket No. DEMO-0417",), "HOSE CLAMP WITH LEVER"),
        (("FOLDING BOOT RACK Ada Example Docket No. DEMO-0388",), "FOLDING BOOT RACK"),
        (("Hose Clamp with Lever | Ada Example | DEMO-0417",), "Hose Clamp with Lever"),
        (("DEMO-0417; Inventor: Ada Example; Hose Clamping Device",), "Hose Clamping Device"),
        (("HOSE CLAMP WITH LEVER Example et al. Docket No. DEMO-0417",), "HOSE CLAMP WITH LEVER"),
        (("HOSE CLAMP WITH LEVER Van Sampleton et al.",), "HOSE CLAMP WITH LEVER"),
        (("HOSE CLAMP WITH LEVER, EXAMPLE ET AL.",), "HOSE CLAMP WITH LEVER"),
        (("Ada Example et al.", "Hose Clamping Device"), "Hose Clamping Device"),
        (("Ada Example",), None),
        (("Example et al.",), None),
        (("Docket No. DEMO-0417",), None),
        (("Replacement Sheet",), None),
    ],
)
def test_the_title_on_drawings(texts: tuple[str, ...], title: str | None) -> None:
    # 1.84(c): title, inventor's name, docket number in the top margin
    assert value(sheet(*texts)) == title


def test_a_known_name_is_no_title() -> None:
    assert value(sheet("ADA MARIA EXAMPLE")) == "ADA MARIA EXAMPLE"
    assert value(sheet("ADA MARIA EXAMPLE"), "Ada Maria Example") is None


def test_candidates_for_holding_against_known_titles() -> None:
    assert [said.value for said in title_candidates(sheet("Hose Clamp | Ada Example"))] == ["Hose Clamp", "Ada Example"]


@pytest.mark.parametrize(
    ("over", "title"),
    [
        (["HOSE CLAMP WITH LEVER"], "HOSE CLAMP WITH LEVER"),
        (["DEMO-0417", "HOSE CLAMP", "WITH LEVER"], "HOSE CLAMP WITH LEVER"),
        (["MAPLE AND ALDER LLP"], None),
        (["PROVISIONAL PATENT APPLICATION"], None),
        (["The clamp of claim 2 with a lever."], None),
        ([], None),
    ],
)
def test_the_title_over_the_heading_of_an_abstract(over: list[str], title: str | None) -> None:  # common practice
    rows = [centred(text, 3 + at) for at, text in enumerate([*over, "ABSTRACT"])]
    assert value(paper({"role": "abstract", "pages": [{"text": [*rows, line(PROSE, 3, 9)]}]})) == title


def test_an_unlabelled_first_line_of_claims_is_no_title() -> None:
    assert value(paper({"role": "claims", "pages": [{"text": ["CLAIMS", "1. A clamp."]}]})) is None


@pytest.mark.parametrize(
    "text",
    [
        'Enclosed is a provisional application entitled "Hose Clamp with Lever" for filing.',
        "Re: Provisional application entitled HOSE CLAMP WITH LEVER; our docket DEMO-0417",
    ],
)
def test_the_title_in_a_letter(text: str) -> None:
    assert fold(value(paper({"role": "letter", "pages": [{"text": [text]}]})) or "") == "hose clamp with lever"


@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [
        ("HOSE CLAMP", "Hose clamp.", "same"),  # 1.72(a) row: case and trailing period are not flagged
        ("Self-locking  clamp", "Self\u2013locking clamp", "same"),
        ("\u201cHose\u201d clamp", '"Hose" clamp', "same"),
        ("Self-locking clamp", "Self locking clamp", "same"),
        ("Valve", "A valve", "small"),  # check value 69 of RULES-us-papers
        ("Valve", "Pump", "other"),  # check value 69
        ("Hose clamp with lever", "Hose clamps with levers", "small"),
        ("Hose clamp", "Hose clamp with quick release lever", "small"),
        ("Hose clmap with lever", "Hose clamp with lever", "small"),
        ("GARDEN HOSE GUIDE WITH TILTING ROLLER", "FOLDING BOOT RACK", "other"),
        ("Method of making soap", "Method of making glass", "other"),
        ("Apparatus for sorting fruit", "System for sorting mail", "other"),
    ],
)
def test_how_two_titles_differ(first: str, second: str, expected: str) -> None:
    assert difference(first, second) == expected
    assert difference(second, first) == expected
