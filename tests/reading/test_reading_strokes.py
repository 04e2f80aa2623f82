"""Bars at lines of text, tints, pale areas, ground and digest: against what was painted, and against pdfminer.six."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from pdfminer.high_level import extract_pages
from pdfminer.layout import LTChar, LTRect, LTTextLine

from preflight.facts import CM_PER_PT, PT_PER_CM

CM = PT_PER_CM
HIGH = 29.7


def _struck(canvas) -> None:
    canvas.setFont("Helvetica", 12)
    canvas.drawString(5 * CM, 20 * CM, "the base 12 and the spring")
    canvas.setStrokeColorRGB(0.75, 0, 0)
    canvas.setLineWidth(0.8)
    canvas.line(5 * CM, 20 * CM + 3.5, 7 * CM, 20 * CM + 3.5)


def test_a_bar_through_words_is_found_where_it_was_painted(draw, page_of):
    (bar,) = page_of(draw(_struck)).bars
    assert bar.colour == "bf0000"
    assert (bar.box.left, bar.box.right) == pytest.approx((5, 7), abs=0.03)
    assert bar.box.middle[1] == pytest.approx(HIGH - 20 - 3.5 * CM_PER_PT, abs=0.02)


def test_a_filled_rectangle_may_be_a_bar_too(draw, page_of):
    def paint(canvas) -> None:
        canvas.drawString(5 * CM, 20 * CM, "the base 12 and the spring")
        canvas.rect(5 * CM, 20 * CM - 2, 60, 0.6, stroke=0, fill=1)

    (bar,) = page_of(draw(paint)).bars
    assert bar.colour == "000000"


@pytest.mark.parametrize(
    ("what", "box"),
    [("far from words", (5, 10, 5, 0.02)), ("thick", (5, 20, 5, 0.5)), ("upright", (5, 18, 0.02, 4))],
)
def test_other_strokes_are_no_bars(draw, page_of, what: str, box: tuple[float, ...]):
    def paint(canvas) -> None:
        canvas.drawString(5 * CM, 20 * CM, "the base 12 and the spring")
        canvas.rect(*(edge * CM for edge in box), stroke=0, fill=1)

    assert page_of(draw(paint)).bars == (), what


def test_the_tints_of_a_line_with_their_places(draw, page_of):
    def paint(canvas) -> None:
        canvas.setFont("Helvetica", 12)
        text = canvas.beginText(3 * CM, 20 * CM)
        for colour, words in (((0, 0, 0), "a black "), ((1, 0, 0), "red "), ((0.8, 0.8, 0.8), "pale")):
            text.setFillColorRGB(*colour)
            text.textOut(words)
        canvas.drawText(text)

    (line,) = page_of(draw(paint)).lines
    assert [(tint.colour, tint.number, tint.ground) for tint in line.tints] == [("cccccc", 4, 1.0), ("ff0000", 3, 1.0)]
    pale, red = line.tints
    assert red.box.right <= pale.box.left + 0.2


def test_black_has_no_tint_and_grey_ink_is_seen_on_white(draw, page_of):
    def paint(canvas) -> None:
        canvas.drawString(3 * CM, 20 * CM, "black")
        canvas.setFillAlpha(0.5)
        canvas.drawString(3 * CM, 18 * CM, "half seen through")

    black, through = page_of(draw(paint)).lines
    assert black.tints == ()
    assert [tint.colour for tint in through.tints] in (["7f7f7f"], ["808080"])


def test_white_words_on_a_dark_box_have_a_dark_ground(draw, page_of):
    def paint(canvas) -> None:
        canvas.rect(2 * CM, 19 * CM, 10 * CM, 2 * CM, stroke=0, fill=1)
        canvas.setFillColorRGB(1, 1, 1)
        canvas.drawString(3 * CM, 20 * CM, "white words")

    (line,) = page_of(draw(paint)).lines
    assert [(tint.colour, tint.ground) for tint in line.tints] == [("ffffff", 0.0)]


def test_words_aslant_are_oblique(draw, page_of):
    def paint(canvas) -> None:
        canvas.translate(5 * CM, 5 * CM)
        canvas.rotate(45)
        canvas.setFont("Helvetica", 80)
        canvas.drawString(0, 0, "DRAFT")

    (line,) = page_of(draw(paint)).lines
    assert (line.text, line.oblique, line.base) == ("DRAFT", True, None)


def test_a_scan_put_straight_is_not_oblique(draw, page_of):
    def paint(canvas) -> None:
        canvas.rotate(1.5)
        canvas.drawString(5 * CM, 15 * CM, "nearly level")

    assert not page_of(draw(paint)).lines[0].oblique


def test_the_base_line_is_where_the_text_was_set(draw, page_of):
    (line,) = page_of(draw(lambda c: c.drawString(5 * CM, 20 * CM, "gypsy"))).lines
    assert line.base == pytest.approx(9.7, abs=0.01)


def test_pale_areas_are_found_and_soft_edges_are_not(draw, page_of):
    def paint(canvas) -> None:
        canvas.drawString(3 * CM, 25 * CM, "black letters have soft edges")
        canvas.setFillColorRGB(0.85, 0.85, 0.85)
        canvas.rect(5 * CM, 10 * CM, 6 * CM, 3 * CM, stroke=0, fill=1)

    (box,) = page_of(draw(paint)).pale
    assert (box.left, box.top, box.right, box.bottom) == pytest.approx((5, 16.7, 11, 19.7), abs=0.06)


def test_the_ground_of_a_page_is_its_commonest_grey(draw, page_of):
    def paint(canvas) -> None:
        canvas.setFillColorRGB(0.8, 0.8, 0.8)
        canvas.rect(0, 0, 21 * CM, 29.7 * CM, stroke=0, fill=1)

    assert page_of(draw(paint)).ground == pytest.approx(0.8, abs=0.01)
    assert page_of(draw(lambda c: c.drawString(50, 50, "x"))).ground == 1.0


def test_two_pages_look_the_same_only_if_every_pixel_does(draw, page_of):
    document = draw(*(lambda c, x=x: c.drawString(x, 400, "one") for x in (100, 100, 101)))
    first, second, third = (page_of(document, number) for number in (1, 2, 3))
    assert first.digest == second.digest != third.digest


def test_pdfminer_sees_the_same_colours_and_bars(draw, page_of):
    """pdfminer.six as second reader: the colour of each character, and the place of a thin rectangle."""

    def paint(canvas) -> None:
        canvas.setFillColorRGB(0, 0, 1)
        canvas.drawString(4 * CM, 20 * CM, "blue words")
        canvas.rect(4 * CM, 20 * CM - 2, 60, 0.8, stroke=0, fill=1)

    document = draw(paint)
    (layout,) = extract_pages(io.BytesIO(document))
    characters = [c for box in layout for line in _lines(box) for c in line if isinstance(c, LTChar)]
    (rect,) = [item for item in layout if isinstance(item, LTRect)]
    page = page_of(document)
    assert {c.graphicstate.ncolor for c in characters} == {(0, 0, 1)}
    assert [tint.colour for tint in page.lines[0].tints] == ["0000ff"]
    (bar,) = page.bars
    assert bar.box.left == pytest.approx(rect.x0 * CM_PER_PT, abs=0.01)
    assert bar.box.bottom == pytest.approx(HIGH - rect.y0 * CM_PER_PT, abs=0.01)


def _lines(box) -> list[LTTextLine]:
    return [line for line in box if isinstance(line, LTTextLine)] if hasattr(box, "__iter__") else []


def test_a_bar_crosses_the_letters_that_it_runs_through_and_no_others(draw, page_of):
    """A fraction's bar lies between its letters, an overline above them; only a strike-out runs through."""

    def paint(canvas) -> None:
        canvas.setFont("Helvetica", 12)
        canvas.drawString(5 * CM, 20 * CM, "struck")
        canvas.line(5 * CM, 20 * CM + 3, 6.2 * CM, 20 * CM + 3)
        canvas.drawString(5 * CM, 15 * CM + 4, "above")
        canvas.drawString(5 * CM, 15 * CM - 11, "below")
        canvas.line(5 * CM, 15 * CM, 6.2 * CM, 15 * CM)
        canvas.drawString(5 * CM, 10 * CM, "mean")
        canvas.line(5 * CM, 10 * CM + 8, 6.2 * CM, 10 * CM + 8)

    bars = sorted(page_of(draw(paint)).bars, key=lambda bar: bar.box.top)
    assert [bar.crossed for bar in bars] == [1.0, 0.0, 0.0]


def test_an_underline_meets_only_letters_that_reach_down(draw, page_of):
    def paint(canvas) -> None:
        canvas.drawString(5 * CM, 20 * CM, "the page of the group")
        canvas.line(5 * CM, 20 * CM - 1.3, 8.5 * CM, 20 * CM - 1.3)

    (bar,) = page_of(draw(paint)).bars
    assert bar.crossed < 0.4


def test_the_words_of_a_tint_are_its_own(draw, page_of):
    def paint(canvas) -> None:
        text = canvas.beginText(3 * CM, 20 * CM)
        for colour, words in (((0, 0, 0), "see "), ((0, 0, 1), "the page"), ((0, 0, 0), " of the club")):
            text.setFillColorRGB(*colour)
            text.textOut(words)
        canvas.drawText(text)

    assert [tint.words for tint in page_of(draw(paint)).lines[0].tints] == ["the page"]


def test_a_character_beyond_the_first_plane_is_one_character(draw, page_of, facts_of):
    """Italic letters of mathematics (U+1D6FC): PDFium gives them as two halves, as UTF-16 does."""
    path = Path(__file__).parents[1] / "data" / "math_italic.pdf"
    page = page_of(path.read_bytes())
    assert any("\U0001d6fc" in line.text for line in page.lines)
    assert facts_of(path.read_bytes()).unread is None
