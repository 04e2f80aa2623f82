"""Sheet numbers, figure labels, identification and the sight of drawings.

37 CFR 1.84(t) and (u)(1), (c), (g), as in RULES-us-papers 3a.
"""

from __future__ import annotations

from typing import Any

import pytest

from preflight.papers import Paper, figure_labels, identification, sheet_numbers, sight_ink
from preflight.testing import paper

FIGURE = [4.0, 5.0, 17.0, 20.0]


def sheets(*said: list[Any], **more: Any) -> Paper:
    return paper({"role": "drawings", "pages": [{"marks": [FIGURE], "text": one, **more} for one in said]})


def at(text: str, left: float = 10.5, top: float = 2.7, **more: Any) -> dict[str, Any]:
    return {"text": text, "at": [left, top], **more}


def numbers(of: Paper) -> list[tuple[int | None, int | None]]:
    return [(one.n, one.of) for one in sheet_numbers(of)]


@pytest.mark.parametrize(
    ("shape", "style"), [("{}/3", "n/m"), ("{} / 3", "n/m"), ("Sheet {} of 3", "Sheet n of m"), ("{} of 3", "n of m")]
)
def test_the_usual_shapes(shape: str, style: str) -> None:
    found = sheet_numbers(sheets(*([at(shape.format(n))] for n in (1, 2, 3))))
    assert [(one.n, one.of, one.style) for one in found] == [(n, 3, style) for n in (1, 2, 3)]


def test_a_fraction_in_the_figure_is_none() -> None:
    half = at("1/2", 6, 6)
    assert numbers(sheets([half, at("1/3")], [half, at("2/3")], [half, at("3/3")])) == [(1, 3), (2, 3), (3, 3)]
    assert numbers(sheets([at("1/2", 6, 14)])) == [(None, None)]


def test_a_wrong_total_and_a_missing_sheet_are_told_as_printed() -> None:
    # check value 45 of RULES-us-papers (1.84(t)): 1/4, 2/4, 3/4 on three sheets; 1/3, 3/3
    assert numbers(sheets([at("1/4")], [at("2/4")], [at("3/4")])) == [(1, 4), (2, 4), (3, 4)]
    assert numbers(sheets([at("1/3")], [at("3/3")])) == [(1, 3), (3, 3)]


def test_a_sheet_turned_with_its_top_at_the_right() -> None:
    # 1.84(i): a landscape figure has the top of the sheet at the right side
    found = sheets([at("1/1", 18.2, 13, turned=90)])
    assert numbers(found) == [(1, 1)]
    assert numbers(sheets([at("1/1", 3, 13, turned=90)])) == [(None, None)]


def test_within_the_identification_line() -> None:
    assert numbers(sheets([at("HOSE CLAMP Docket DEMO-0417 Sheet 2 of 5", 3, 1)])) == [(2, 5)]


@pytest.mark.parametrize("text", ["1/3/2026", "61/000,000", "0/3"])
def test_what_is_no_sheet_number(text: str) -> None:
    assert numbers(sheets([at(text)])) == [(None, None)]


def test_a_picture_is_unread() -> None:
    (one,) = sheet_numbers(sheets([]))
    assert (one.n, one.unread) == (None, "no text on the sheet can be read")


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("FIG. 1", ["1"]),
        ("Fig. 2A", ["2A"]),
        ("FIG. 2a", ["2A"]),
        ("FIGURE 3", ["3"]),
        ("Figure 4B", ["4B"]),
        ("FIG 5", ["5"]),
        ("FIG.6", ["6"]),
        ("FIG. 7(b)", ["7B"]),
        ("FIG. 1 (PRIOR ART)", ["1"]),
        ("FIG. 1 (cont.)", ["1"]),
        ("FIGS. 3A and 3B", ["3A", "3B"]),
        ("FIG. 2 - Side view of the clamp", ["2"]),
        ("FIG. 2 shows the clamp", []),
        ("See FIG. 2", []),
        ("CONFIG. 2", []),
        ("12", []),
    ],
)
def test_labels_of_views(text: str, names: list[str]) -> None:  # shapes seen in practice, no source but 1.84(u)(1)
    assert [label.name for label in figure_labels(sheets([at(text, 9, 22)]))] == names


def test_a_lower_case_letter_is_kept_as_printed() -> None:
    (label,) = figure_labels(sheets([at("FIG. 2a", 9, 22)]))
    assert (label.number, label.letter, label.name) == (2, "a", "2A")


def test_a_label_and_its_number_set_wide_apart() -> None:
    (label,) = figure_labels(sheets([at("FIG.", 9, 22), at("3", 10.6, 22), at("14", 16, 22)]))
    assert label.name == "3"


def test_a_label_and_its_number_read_with_room_round_them() -> None:
    """On a scan that lies askew the boxes of both reach into each other, for what is read has room round it."""
    sheet = paper(
        {
            "role": "drawings",
            "pages": [
                {
                    "readings": [
                        {"text": "FIG.", "box": [4.0, 13.9, 4.8, 15.6], "turned": 90, "mean": 1.0, "lowest": 1.0},
                        {"text": ".5", "box": [4.1, 15.4, 4.8, 16.1], "turned": 90, "mean": 1.0, "lowest": 1.0},
                    ]
                }
            ],
        }
    )
    assert [label.name for label in figure_labels(sheet)] == ["5"]


def test_a_label_in_any_direction() -> None:
    assert [label.name for label in figure_labels(sheets([at("FIG. 1", 18, 12, turned=270)]))] == ["1"]


def test_invisible_text_gives_no_values() -> None:
    found = sheets([at("FIG. 1", 9, 22, visible=False), at("1/3", visible=False)])
    assert figure_labels(found) == ()
    assert sheet_numbers(found)[0].unread


IDENT = at("HOSE CLAMP Ada Example Docket No. DEMO-0417", 3, 1.0)


def test_identification_in_the_top_margin() -> None:
    # 1.84(c): within the top margin; sheet numbers, labels and reference characters are none
    found = sheets([IDENT, at("1/3", 10, 1.8), at("FIG. 1", 15, 1.8), at("12", 17, 1.8), at("10", 10, 8)])
    assert [line.text for line in identification(found.pages[0])] == [IDENT["text"]]


def test_the_sight_leaves_identification_out() -> None:
    # RULES-us-papers: identification may stand in the top margin (1.84(c)), the figure may not (1.84(g))
    box = sight_ink(sheets([IDENT]).pages[0])
    assert box is not None
    assert (box.left, box.top) == (4.0, 5.0)


def test_a_figure_that_reaches_into_the_top_margin_counts() -> None:
    found = paper({"role": "drawings", "pages": [{"marks": [[4, 1.5, 17, 20]], "text": [at("10", 8, 3)]}]})
    box = sight_ink(found.pages[0])
    assert box is not None
    assert box.top == 1.5


def test_a_scanned_header_line_is_left_out_and_a_figure_close_by_is_not() -> None:
    def top(*marks: list[float]) -> float:
        box = sight_ink(paper({"role": "drawings", "pages": [{"marks": list(marks)}]}).pages[0])
        assert box is not None
        return box.top

    assert top([3, 1.0, 12, 1.4], FIGURE) == 5.0
    assert top([3, 2.0, 12, 2.4], [4, 2.5, 17, 20]) == 2.0
