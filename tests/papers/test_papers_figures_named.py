"""Figures as texts name them. The forms are common practice, no source."""

from __future__ import annotations

import pytest

from preflight.papers.pages.figures_named import figures_in


@pytest.mark.parametrize(
    ("text", "figures"),
    [
        ("In FIG. 3 a latch 30 is seen", ["3"]),
        ("As shown in FIG. 3 A latch 30 closes", ["3"]),
        ("FIGS. 3 A and 3 B show it", ["3A", "3B"]),
        ("FIG. 2a shows it", ["2A"]),
        ("FIG. 2 (a) shows it", ["2A"]),
        ("FIGS. 3-5 and 7", ["3", "4", "5", "7"]),
        ("Figs. 1A to 1C", ["1A", "1B", "1C"]),
        ("FIG. 2 of U.S. Patent 5,000,000", []),
        ("In FIG. 1, 10 denotes an insole and 12 its cup", ["1"]),
        ("In FIGS. 1, 2, 10 generally designates a pump", ["1", "2"]),
        ("FIG. 1, 2 and 3 show it", ["1", "2", "3"]),
        ("whose FIG. 2 shows it", []),
    ],
)
def test_figures_with_their_letters(text, figures):
    assert [f"{n}{c}" for *_, members in figures_in(text) for n, c in members] == figures
