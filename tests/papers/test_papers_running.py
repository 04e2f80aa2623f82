"""The body of a page, without what runs along.

37 CFR 1.52(a)(1)(ii) is measured on the body; what is left out: RULES-us-papers, us.text.margins ("must NOT be
flagged").
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from preflight.papers import Paper, body, line_numbers, running_lines, running_text
from preflight.testing import filing, paper

WORDS = "The lever turns about the pin and moves the spring of the clamp away from it and lifts the band"
LEFT, TOP, PITCH = 2.54, 2.6, 0.8


def text(top: float = TOP, count: int = 25, left: float = LEFT) -> list[dict[str, Any]]:
    return [{"text": WORDS, "at": [left, top + n * PITCH]} for n in range(count)]


def pages(*extra: list[dict[str, Any]], **of: Any) -> Paper:
    return paper({"pages": [{"text": [*text(**of), *more]} for more in extra]})


def line(words: str, left: float, top: float) -> dict[str, Any]:
    return {"text": words, "at": [left, top]}


@pytest.mark.parametrize(
    "more",
    [
        [[line(str(n), 10.7, 26.6)] for n in (1, 2, 3)],
        [[line(f"Page {n} of 3", 10, 1.2)] for n in (1, 2, 3)],
        [[line("HOSE CLAMP", 2.0, 1.4), line(str(n), 19, 1.4)] for n in (1, 2, 3)],
        [[line("Attorney Docket No. DEMO-0417", 1.5, 1.2)]],
        [[line("DEMO-0417", 1.5, 26.8)]],
    ],
    ids=["number", "number of total", "repeated header", "docket on a single page", "bare docket"],
)
def test_headers_and_footers_are_no_body(more: list[list[dict[str, Any]]]) -> None:
    found = pages(*more)
    for page in found.pages:
        box = body(page, found)
        assert box is not None
        assert (box.left, box.top) == pytest.approx((LEFT, TOP))
        assert box.bottom == pytest.approx(TOP + 24 * PITCH + 12 * 2.54 / 72)


def test_a_title_close_to_the_edge_is_body() -> None:
    # only what runs along is left out: a heading in the margin is what the rule is about
    found = pages([line("HOSE CLAMP", 9, 1.2)])
    box = body(found.pages[0], found)
    assert box is not None
    assert box.top == pytest.approx(1.2)


def test_text_that_runs_down_into_the_margin_is_body() -> None:
    found = pages([], [], count=31)
    box = body(found.pages[0], found)
    assert box is not None
    assert box.bottom > 26.5


def test_line_numbers_in_the_margin_are_no_body() -> None:
    numbers = [line(str(n + 1), 1.5, TOP + n * PITCH) for n in range(4, 25, 5)]
    found = pages(numbers, numbers)
    box = body(found.pages[0], found)
    assert box is not None
    assert box.left == pytest.approx(LEFT)
    assert len(line_numbers(found.pages[0])) == 5


def test_line_numbers_read_as_one_with_their_lines() -> None:
    # a narrow gap joins them: "5 The lever turns"
    joined = [
        {**ln, "text": f"{n + 1} {WORDS}", "at": [1.6, ln["at"][1]]} if n % 5 == 4 else ln
        for n, ln in enumerate(text())
    ]
    short = [
        {**ln, "text": f"{n + 1} {WORDS}", "at": [1.6, ln["at"][1]]} if n == 4 else ln
        for n, ln in enumerate(text(count=6))
    ]
    found = paper({"pages": [{"text": joined}, {"text": short}]})
    for page in found.pages:
        box = body(page, found)
        assert box is not None
        assert box.left == pytest.approx(LEFT)


def test_numbered_claims_are_no_line_numbers() -> None:
    claims = [line(f"{n}. A clamp with a lever and a spring and so on", 2.0, 3 + n) for n in range(1, 9)]
    found = paper({"role": "claims", "pages": [{"text": claims}]})
    box = body(found.pages[0], found)
    assert box is not None
    assert box.left == pytest.approx(2.0)


def test_on_a_scan_a_lone_short_cluster_at_an_edge_is_no_body() -> None:
    marks = [[2.5, 3.0, 19.0, 24.0], [10.5, 26.5, 11.0, 26.9]]
    found = paper({"pages": [{"marks": marks}]})
    box = body(found.pages[0], found)
    assert box is not None
    assert box.bottom == pytest.approx(24.0)


@pytest.mark.parametrize("mark", [[2.5, 24.2, 9.5, 24.6], [2.5, 25.0, 19.0, 25.4]], ids=["close", "wide"])
def test_on_a_scan_a_last_line_of_text_is_body(mark: list[float]) -> None:
    found = paper({"pages": [{"marks": [[2.5, 3.0, 19.0, 24.0], mark]}]})
    box = body(found.pages[0], found)
    assert box is not None
    assert box.bottom == pytest.approx(mark[3])


def test_a_blank_page_has_no_body() -> None:
    found = paper({"pages": [{"blank": True}, {"text": [line("7", 10.7, 26.6)]}]})
    assert [body(page, found) for page in found.pages] == [None, None]


@settings(max_examples=40, deadline=None)
@given(left=st.floats(0.5, 4.0), top=st.floats(1.0, 4.0))
def test_the_body_is_where_the_text_is(left: float, top: float) -> None:
    found = paper({"pages": [{"text": text(top, 20, left), "foot": str(n)} for n in (1, 2, 3)]})
    box = body(found.pages[1], found)
    assert box is not None
    assert (box.left, box.top) == pytest.approx((left, top))


@pytest.mark.parametrize(
    ("more", "header", "footer"),
    [
        ([[line("Docket DEMO-0417", 15, 1.4), line("Page 1", 10, 26.4)]], "Docket DEMO-0417", "Page 1"),
        ([[line("demo.0417", 15, 1.2)]], "demo.0417", ""),
        ([[line("HOSE CLAMP", 2, 1.4), line(str(n), 19, 1.4)] for n in (1, 2)], "HOSE CLAMP 1", ""),
        ([[line("Left \u2013 half", 2, 26.6), line("right half", 12, 26.6)]], "", "Left - half right half"),
        ([[line("over", 2, 25.9), line("DEMO-0417", 2, 26.5)]], "", "over DEMO-0417"),
        ([[]], "", ""),
        ([[line(str(n), 1.6, TOP + n * PITCH) for n in range(25)]], "", ""),
    ],
    ids=["both", "odd spelling at the edge", "repeated", "cells", "two rows", "neither", "line numbers"],
)
def test_the_text_of_header_and_footer(more: list[list[dict[str, Any]]], header: str, footer: str) -> None:
    first = running_text(pages(*more, count=28))[0]
    assert (first.header, first.footer, first.unread) == (header, footer, None)


def test_a_footer_well_below_a_short_text_is_one_though_nothing_repeats_it() -> None:
    found = running_text(paper({"pages": [{"text": [*text(count=4), line("Example & Sample", 9, 25.3)]}]}))
    assert found[0].footer == "Example & Sample"


def test_numbered_paragraphs_that_begin_alike_at_the_top_of_their_pages_are_body() -> None:
    first = [
        [line(f"[00{number}] In one embodiment, the latch holds", LEFT, TOP), *text(TOP + 1)] for number in (12, 15)
    ]
    found = running_text(paper({"pages": [{"text": lines} for lines in first]}))
    assert [page.header for page in found] == ["", ""]


def test_running_text_of_a_scan_is_unread_but_its_stamp_is_there() -> None:
    whole = {"box": [0, 0, 21.59, 27.94]}
    (found,) = running_text(paper({"pages": [{"pictures": [whole], "text": [line("DEMO-0417", 15, 1.2)]}]}))
    assert found.unread is not None
    assert found.header == "DEMO-0417"


def test_a_header_runs_on_over_the_one_page_of_claims() -> None:
    """37 CFR 1.75(h): claims begin a sheet of their own; a header is the same on it."""
    header = line("Method and apparatus for drying fibre bundles", 5.0, 1.8)
    described = {"role": "specification", "file": "all.pdf", "pages": [{"text": [header, *text()]} for _ in range(3)]}
    claims = {"role": "claims", "file": "all.pdf", "pages": [{"text": [header, *text()]}]}
    of_claims = next(one for one in filing({"papers": [described, claims]}).papers if one.role == "claims")
    assert running_text(of_claims)[0].header == "Method and apparatus for drying fibre bundles"
    assert body(of_claims.pages[0], of_claims).top == pytest.approx(TOP, abs=0.1)  # type: ignore[union-attr]


def test_a_title_that_stands_on_one_other_page_does_not_run_along() -> None:
    title = line("METHOD AND APPARATUS FOR DRYING FIBRE BUNDLES", 5.0, 2.0)
    described = {"role": "specification", "file": "all.pdf", "pages": [{"text": [title, *text()]}, {"text": text()}]}
    abstract = {"role": "abstract", "file": "all.pdf", "pages": [{"text": [title, *text()]}]}
    papers = filing({"papers": [described, abstract]}).papers
    assert all(title["text"] in body_words(one) for one in papers)


def body_words(one: Paper) -> str:
    along = running_lines(one.pages[0], one)
    return " ".join(line.text for line in one.pages[0].lines if line not in along)


def test_printed_line_numbers_need_not_stand_level_with_the_lines() -> None:
    numbers = [line(str(n), 1.9, 3.15 + 0.85 * n) for n in range(5, 30, 5)]
    (one,) = pages(numbers).pages
    assert [found.text for found in line_numbers(one)] == ["5", "10", "15", "20", "25"]
