"""Colour behind words: against what was painted, and what a reader makes of it."""

from __future__ import annotations

import pytest
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from preflight.facts import PT_PER_CM, Page
from preflight.papers import highlights

CM = PT_PER_CM
LEFT = 3.0
BEFORE, MARKED = "The lever turns about ", "a pin 14"
SIZE = 12


def _line(canvas: Canvas, at: float, colour: tuple[float, float, float] | None, left: float, right: float) -> None:
    """Words at a height in cm over a band of the colour, which reaches from 3 pt below to 10 pt above their base."""
    if colour:
        canvas.setFillColorRGB(*colour)
        canvas.rect(left * CM, at * CM - 3, (right - left) * CM, 13, stroke=0, fill=1)
    canvas.setFillColorRGB(0, 0, 0)
    canvas.drawString(LEFT * CM, at * CM, f"{BEFORE}{MARKED} and moves the spring.")


FROM = LEFT + stringWidth(BEFORE, "Times-Roman", SIZE) / CM
TO = FROM + stringWidth(MARKED, "Times-Roman", SIZE) / CM


@pytest.fixture(scope="module")
def page(draw, page_of) -> Page:
    def paint(canvas: Canvas) -> None:
        canvas.setFont("Times-Roman", SIZE)
        _line(canvas, 25, (1, 1, 0), FROM, TO)
        _line(canvas, 22, (0.8, 0.9, 1), LEFT - 0.2, 18)
        _line(canvas, 19, (0.8, 0.8, 0.8), FROM, TO)
        _line(canvas, 16, None, 0, 0)
        canvas.setFont("Helvetica-Bold", 24)
        canvas.setFillColorRGB(0.8, 0, 0)
        canvas.drawString(LEFT * CM, 12 * CM, "HEAVY RED HEADING: MMMM")

    return page_of(draw(paint))


def test_the_colour_is_found_where_it_was_painted(page: Page) -> None:
    """Grey has no hue, and coloured letters are no ground."""
    marked, band = page.shades
    assert (marked.colour, band.colour) == ("ffff00", "cce6ff")
    assert (marked.box.left, marked.box.right) == pytest.approx((FROM, TO), abs=0.03)
    assert band.box.left == pytest.approx(LEFT - 0.2, abs=0.03)
    assert band.box.right > 12


def test_only_the_words_that_a_marker_fits_are_highlighted(page: Page) -> None:
    (one,) = highlights(page)
    assert (one.colour, MARKED in one.line.text) == ("ffff00", True)
    assert one.box == page.shades[0].box
