"""Ink by hand on a printed form, told from frames, rules and characters: where it was drawn is known."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from reportlab.pdfgen.canvas import Canvas

from preflight.facts import Box, Page

CM = 72 / 2.54
TOP = 29.7


def _print(canvas: Canvas) -> None:
    canvas.setFont("Helvetica", 10)
    for number, words in enumerate(
        ("The signer certifies what is printed above this line", "Signature", "Name Ada Example")
    ):
        canvas.drawString(2 * CM, (20 - 1.5 * number) * CM, words)


def _frame(canvas: Canvas) -> None:
    canvas.rect(5 * CM, 18 * CM, 9 * CM, 1.4 * CM)


def _table(canvas: Canvas) -> None:
    for down in (17, 18, 19.5):
        canvas.line(1.8 * CM, down * CM, 15 * CM, down * CM)
    for across in (1.8, 4.8, 15):
        canvas.line(across * CM, 17 * CM, across * CM, 19.5 * CM)


def _box(canvas: Canvas) -> None:
    canvas.rect(6 * CM, 18.4 * CM, 0.4 * CM, 0.4 * CM)


def _write(canvas: Canvas) -> None:
    """A scrawl from 6 to 10 cm across, 18.2 to 19.2 cm up."""
    canvas.setLineWidth(1.5)
    canvas.bezier(6 * CM, 18.3 * CM, 7 * CM, 19.8 * CM, 7.2 * CM, 17.6 * CM, 8.5 * CM, 19 * CM)
    canvas.bezier(8.5 * CM, 19 * CM, 9 * CM, 17.8 * CM, 9.2 * CM, 19.6 * CM, 10 * CM, 18.5 * CM)


@pytest.mark.parametrize("around", [None, _frame, _table, _box], ids=["alone", "frame", "table", "tick box"])
@pytest.mark.parametrize("signed", [False, True])
def test_a_scrawl_is_found_and_nothing_else(
    around: Callable[[Canvas], None] | None, signed: bool, draw: Callable[..., bytes], page_of: Callable[..., Page]
) -> None:
    def sheet(canvas: Canvas) -> None:
        _print(canvas)
        if around:
            around(canvas)
        if signed:
            _write(canvas)

    found = page_of(draw(sheet)).scrawls
    area = Box(5.8, TOP - 19.6, 10.2, TOP - 17.8)
    assert bool(found) == signed
    assert all(area.holds_middle_of(box) for box in found)


def test_a_page_with_hardly_any_words_has_none(draw: Callable[..., bytes], page_of: Callable[..., Page]) -> None:
    assert page_of(draw(_write)).scrawls == ()
