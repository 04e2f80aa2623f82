"""Page numbers of text papers, told from everything else that is a number.

Shapes: RULES-us-papers, us.text.page-numbers (37 CFR 1.52(b)(5)): `1`, `- 1 -`, `Page 1`, `1 of 20`, `1/20`.
"""

from __future__ import annotations

from typing import Any

import pytest

from preflight.papers import Paper, page_numbers
from preflight.testing import paper

TEXT = [
    {"text": "The lever turns about the pin and moves the spring of the clamp.", "at": [2.54, 4 + n]} for n in range(18)
]


def numbered(*said: str | list[Any], at: tuple[float, float] | None = None) -> Paper:
    """A page each: a footer in the middle, or lines of one's own."""
    pages = []
    for one in said:
        extra = [{"text": one, "at": list(at or (10.6, 26.6))}] if isinstance(one, str) and one else one or []
        pages.append({"text": [*TEXT, *extra]})
    return paper({"pages": pages})


def values(of: Paper) -> list[int | None]:
    return [number.value for number in page_numbers(of)]


@pytest.mark.parametrize(
    "shape",
    [
        "{}",
        "- {} -",
        "\u2013 {} \u2013",
        "Page {}",
        "page {}",
        "{} of 3",
        "{}/3",
        "Page {} of 3",
        "p. {}",
        "[{}]",
        "| {} |",
    ],
)
def test_each_usual_shape(shape: str) -> None:
    found = page_numbers(numbered(*(shape.format(n) for n in (1, 2, 3))))
    assert [number.value for number in found] == [1, 2, 3]
    assert {number.edge for number in found} == {"bottom"}
    assert {number.side for number in found} == {"centre"}
    assert {number.total for number in found} == ({3} if "3" in shape else {None})


@pytest.mark.parametrize(("left", "side"), [(2.54, "left"), (18.9, "right"), (10.5, "centre")])
def test_where_it_stands(left: float, side: str) -> None:
    found = page_numbers(numbered("1", "2", "3", at=(left, 1.2)))
    assert {(number.edge, number.side) for number in found} == {("top", side)}


@pytest.mark.parametrize("turned", [90, 270])
def test_on_a_page_that_lies_on_its_side(turned: int) -> None:
    # text that runs down has its foot at the left of the page as displayed, text that runs up at the right
    foot, shift = (1.3, 1) if turned == 90 else (26.6, -1)
    lines = [
        {"text": line["text"], "at": [13.9 - shift * (9 - 0.7 * n), 2.6], "turned": turned}
        for n, line in enumerate(TEXT)
    ]
    number = {"text": "2", "at": [foot, 10.6], "turned": turned}
    upright = [{"text": [*TEXT, {"text": said, "at": [10.6, 26.6]}]} for said in ("1", "3")]
    sideways = {"width": 27.94, "height": 21.59, "text": [*lines, number]}
    found = page_numbers(paper({"pages": [upright[0], sideways, upright[1]]}))
    assert [one.value for one in found] == [1, 2, 3]
    assert found[1].edge == "bottom"


def test_a_gap_and_a_repeat_are_told() -> None:
    # 1.52(b)(5): consecutively from 1; check value 60 of the papers sheet: text 1, 2, 4
    assert values(numbered("1", "2", "4", "5")) == [1, 2, 4, 5]
    assert values(numbered("1", "2", "2", "3")) == [1, 2, 2, 3]


def test_a_first_page_without_number() -> None:
    # RULES-us-papers: first page without number if 2 follows
    assert values(numbered("", "2", "3")) == [None, 2, 3]


@pytest.mark.parametrize(
    "head", ["DEMO-0417 {}", "Attorney Docket DEMO-0417   Page {}", "Hose Clamp | {}", "{} DEMO-0417"]
)
def test_a_number_within_a_header_line(head: str) -> None:
    assert values(numbered(*(head.format(n) for n in (1, 2, 3)), at=(2.54, 1.3))) == [1, 2, 3]


@pytest.mark.parametrize("head", ["Docket No. 1001", "DEMO-417", "November 25, 2026", "US 2026", "Docket 17", "FIG. 3"])
def test_what_stays_the_same_on_each_page_is_no_page_number(head: str) -> None:
    assert values(numbered(head, head, head, at=(2.54, 1.3))) == [None, None, None]


def test_the_number_and_not_the_docket_beside_it() -> None:
    pages = [[{"text": "1001", "at": [2.54, 1.3]}, {"text": str(n), "at": [18.8, 1.3]}] for n in (1, 2, 3)]
    assert values(numbered(*pages)) == [1, 2, 3]


def test_a_footer_beside_a_docket() -> None:
    pages = [[{"text": "DEMO-0417", "at": [2.54, 26.6]}, {"text": str(n), "at": [10.6, 26.6]}] for n in (4, 5)]
    assert values(numbered(*pages)) == [4, 5]


def test_claim_and_paragraph_numbers_at_the_top_are_none() -> None:
    first = [{"text": "1. A clamp.", "at": [2.54, 2.6]}]
    second = [{"text": "[0002] The lever turns.", "at": [2.54, 2.6]}]
    assert values(numbered(first, second)) == [None, None]


def test_line_numbers_are_none() -> None:
    lines = [{"text": str(n), "at": [1.6, 2.6 + n]} for n in (5, 10, 15, 20, 23)]
    assert values(numbered(lines, lines)) == [None, None]


def test_a_year_alone_on_a_single_page_is_none() -> None:
    assert values(numbered("2026")) == [None]
    assert values(numbered("21")) == [21]


def test_left_and_right_pages_in_turn() -> None:
    pages = [[{"text": str(n), "at": [2.54 if n % 2 else 18.8, 26.6]}] for n in (1, 2, 3, 4)]
    assert values(numbered(*pages)) == [1, 2, 3, 4]


def test_a_picture_is_unread_and_not_unnumbered() -> None:
    (scan,) = page_numbers(paper({"pages": [{"ink": [2, 2, 19, 26]}]}))
    assert scan.value is None
    assert scan.unread
    (blank,) = page_numbers(paper({"pages": [{"blank": True}]}))
    assert (blank.value, blank.unread) == (None, None)
    (broken,) = page_numbers(paper({"pages": [{"unread": "it could not be drawn"}]}))
    assert broken.unread == "it could not be drawn"


@pytest.mark.parametrize("top", [24.4, 24.9])
def test_a_deep_footer_alone_in_its_row_is_a_page_number(top: float) -> None:
    pages = [{"text": ["The lever turns.", {"text": str(n), "at": [10.7, top]}]} for n in (1, 2, 3)]
    assert [one.value for one in page_numbers(paper({"pages": pages}))] == [1, 2, 3]


def test_a_number_close_under_the_text_is_none() -> None:
    lines = [{"text": "The lever turns about", "at": [2.54, 24.0]}, {"text": "12", "at": [10.7, 24.5]}]
    assert [one.value for one in page_numbers(paper({"pages": [{"text": lines}] * 3}))] == [None, None, None]
