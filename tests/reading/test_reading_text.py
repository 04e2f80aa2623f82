"""Lines of characters: where, how large, which way, and where one ends."""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from preflight.facts import PT_PER_CM, Page
from preflight.reading.pages import Document, read_page

CM = PT_PER_CM
UNKNOWN = "the characters on this page cannot be told (font without a character map)"


@pytest.fixture(scope="module", autouse=True)
def _vera() -> None:
    pdfmetrics.registerFont(TTFont("Vera", "Vera.ttf"))


@pytest.fixture
def lines_of(draw, page_of):
    def lines(paint, **options: object):
        return page_of(draw(paint, **options)).lines

    return lines


def test_a_line_has_its_words_its_size_and_its_place(lines_of):
    (line,) = lines_of(lambda c: (c.setFont("Vera", 12), c.drawString(5 * CM, 20 * CM, "HINGE 10 of door")))
    assert line.text == "HINGE 10 of door"
    assert line.size == pytest.approx(12, abs=0.01)
    assert line.box.left == pytest.approx(5, abs=0.06)
    assert line.box.bottom == pytest.approx(9.7, abs=0.06)
    assert line.visible
    assert line.turned == 0


@pytest.mark.parametrize(("typeface", "width"), [("Courier", 0.6), ("Helvetica", None), ("Vera", None)])
def test_only_a_monospaced_typeface_has_one_width_for_all(lines_of, typeface: str, width: float | None):
    """Courier's characters are 600 thousandths of the type size wide (metrics of the standard 14 fonts)."""
    (line,) = lines_of(lambda c: (c.setFont(typeface, 10), c.drawString(5 * CM, 20 * CM, "if (level > 30) close();")))
    assert line.advance == (pytest.approx(width * 10 / PT_PER_CM, abs=0.001) if width else None)


def test_the_box_of_a_line_is_the_box_of_its_ink(draw, page_of):
    page = page_of(draw(lambda c: (c.setFont("Vera", 40), c.drawString(3 * CM, 20 * CM, "HNE"))))
    for side in ("left", "top", "right", "bottom"):
        assert getattr(page.lines[0].box, side) == pytest.approx(getattr(page.ink, side), abs=2 * page.blur)


@settings(deadline=None, max_examples=20)
@given(scale=st.floats(0.05, 4), size=st.floats(3, 40), turn=st.sampled_from([0, 90, 180, 270]))
def test_the_size_is_what_every_matrix_together_makes(draw, page_of, scale: float, size: float, turn: int):
    def paint(canvas) -> None:
        canvas.translate(10 * CM, 15 * CM)
        canvas.rotate(-turn)
        canvas.scale(scale, scale)
        canvas.setFont("Helvetica", size)
        canvas.drawString(0, 0, "abc")

    (line,) = page_of(draw(paint)).lines
    assert line.size == pytest.approx(size * scale, rel=0.01, abs=0.02)
    assert line.turned == turn


@pytest.mark.parametrize("rotate", [0, 90, 180, 270])
@pytest.mark.parametrize("written", [0, 90, 180, 270])
def test_direction_and_place_are_as_displayed(draw, page_of, rotate: int, written: int):
    def paint(canvas) -> None:
        canvas.translate(10 * CM, 14 * CM)
        canvas.rotate(-written)
        canvas.setFont("Helvetica-Bold", 30)
        canvas.drawString(0, 0, "HEAD of it")

    with pikepdf.open(io.BytesIO(draw(paint))) as pdf:
        pdf.pages[0].Rotate = rotate
        pdf.pages[0].CropBox = pikepdf.Array([30, 50, 560, 800])
        out = io.BytesIO()
        pdf.save(out)
    page = page_of(out.getvalue())
    (line,) = page.lines
    assert line.text == "HEAD of it"
    assert line.turned == (rotate + written) % 360
    for side in ("left", "top", "right", "bottom"):
        assert getattr(line.box, side) == pytest.approx(getattr(page.ink, side), abs=2 * page.blur), side


def test_the_unit_of_a_page_scales_type(draw, facts_of):
    with pikepdf.open(io.BytesIO(draw(lambda c: c.drawString(100, 100, "twice")))) as pdf:
        pdf.pages[0].UserUnit = 2
        out = io.BytesIO()
        pdf.save(out)
    assert facts_of(out.getvalue()).pages[0].lines[0].size == 24


def test_lines_come_from_top_to_bottom_whatever_the_order_of_painting(lines_of):
    texts = lines_of(lambda c: [c.drawString(100, y, f"at {y}") for y in (100, 700, 400)])
    assert [line.text for line in texts] == ["at 700", "at 400", "at 100"]


def test_a_wide_gap_ends_a_line_and_a_word_space_does_not(lines_of):
    def paint(canvas) -> None:
        canvas.setFont("Helvetica", 10)
        canvas.drawString(100, 700, "left header")
        canvas.drawString(400, 700, "Page 3")
        canvas.drawString(100, 600, "one      two")

    assert [line.text for line in lines_of(paint)] == ["left header", "Page 3", "one two"]


def test_many_blanks_are_a_wide_gap(lines_of):
    assert [line.text for line in lines_of(lambda c: c.drawString(60, 700, "Name:" + 20 * " " + "Date:"))] == [
        "Name:",
        "Date:",
    ]


def test_a_line_painted_in_pieces_and_backwards_is_one(lines_of):
    def paint(canvas) -> None:
        canvas.setFont("Courier", 12)
        for n, piece in reversed(list(enumerate(("The", "hin", "ge", "10")))):
            canvas.drawString(100 + n * 7.2 * 4 - (n == 2) * 7.2 * 1, 700, piece)

    assert [line.text for line in lines_of(paint)] == ["The hinge 10"]


def test_a_blank_that_is_only_room_between_two_letters_is_one(lines_of):
    # Ghostscript writes "Cover Sheet" as "Cove", "rS" set a quarter of the type size apart, and "heet"
    def paint(canvas) -> None:
        text = canvas.beginText(100, 700)
        text.setFont("Times-Roman", 15)
        for piece, room in (("Cove", 0), ("rS", 0.25 * 15), ("heet", 0)):
            text.setCharSpace(room)
            text.textOut(piece)
            if room:  # the room after the last letter is taken back
                text.setXPos(canvas.stringWidth("CoverS", "Times-Roman", 15) + room)
        canvas.drawText(text)

    assert [line.text for line in lines_of(paint)] == ["Cover Sheet"]


def test_raised_and_lowered_signs_stay_in_their_line(lines_of):
    def paint(canvas) -> None:
        text = canvas.beginText(100, 700)
        for piece, size, rise in (("H", 12, 0), ("2", 7, -3), ("O and x", 12, 0), ("2", 7, 5), ("3", 10, -6)):
            text.setFont("Helvetica", size)
            text.setRise(rise)
            text.textOut(piece)
        canvas.drawText(text)

    (line,) = lines_of(paint)
    assert line.text == "H2O and x23"
    assert line.size == 12


def test_close_lines_are_two(lines_of):
    def paint(canvas) -> None:
        canvas.setFont("Helvetica", 12)
        canvas.drawString(100, 700, "first gyp")
        canvas.drawString(100, 690, "second line")

    assert [line.text for line in lines_of(paint)] == ["first gyp", "second line"]


def test_bold_by_painting_twice_is_read_once(lines_of):
    def paint(canvas) -> None:
        canvas.setFont("Helvetica", 12)
        canvas.drawString(100, 700, "Claims")
        canvas.drawString(100.4, 700, "Claims")

    assert [line.text for line in lines_of(paint)] == ["Claims"]


def test_hyphens_are_kept_and_soft_ones_only_where_they_show(lines_of):
    def paint(canvas) -> None:
        canvas.setFont("Vera", 12)
        canvas.drawString(100, 700, "a self-closing co-")
        canvas.drawString(100, 680, "operating hi\u00adnge")
        canvas.drawString(100, 660, "that ends so\u00ad")

    assert [line.text for line in lines_of(paint)] == ["a self-closing co-", "operating hinge", "that ends so-"]


def test_a_ligature_is_its_letters(lines_of):
    (line,) = lines_of(lambda c: (c.setFont("Vera", 12), c.drawString(100, 700, "\ufb01le of \ufb02aps")))
    assert line.text == "file of flaps"


def test_the_text_layer_of_a_scan_is_not_visible(lines_of):
    def paint(canvas) -> None:
        text = canvas.beginText(100, 700)
        text.setTextRenderMode(3)
        text.textOut("layer")
        text.setTextRenderMode(0)
        text.setTextOrigin(100, 600)
        text.textOut("ink")
        canvas.drawText(text)

    assert {line.text: line.visible for line in lines_of(paint)} == {"layer": False, "ink": True}


def test_what_stands_outside_the_page_is_not_on_it(lines_of):
    assert [line.text for line in lines_of(lambda c: (c.drawString(-300, 9, "off"), c.drawString(9, 9, "on")))] == [
        "on"
    ]


def test_oblique_text_is_one_line(lines_of):
    def paint(canvas) -> None:
        canvas.translate(200, 300)
        canvas.rotate(40)
        canvas.setFont("Helvetica", 60)
        canvas.drawString(0, 0, "DRAFT")

    (line,) = lines_of(paint)
    assert (line.text, line.turned) == ("DRAFT", 0)
    assert line.size == pytest.approx(60, abs=0.1)


def _without_map(data: bytes) -> bytes:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        for item in pdf.objects:
            if isinstance(item, pikepdf.Dictionary) and "/ToUnicode" in item:
                del item["/ToUnicode"]
        out = io.BytesIO()
        pdf.save(out)
    return out.getvalue()


def test_characters_of_a_font_without_a_map_cannot_be_told(draw, page_of):
    def paint(canvas) -> None:
        canvas.setFont("Vera", 12)
        canvas.drawString(100, 700, "".join(chr(c) for c in range(0xC0, 0xDC)))

    data = draw(paint)
    assert page_of(data).text_unread is None
    assert page_of(_without_map(data)).text_unread == UNKNOWN


def test_a_few_such_characters_do_not_matter(draw, page_of):
    page = page_of(draw(lambda c: (c.setFont("Vera", 12), c.drawString(100, 700, "\uf0b7 first of many words"))))
    assert page.text_unread is None


def test_a_ligature_of_the_same_letter_twice_is_two_letters() -> None:
    """LibreOffice sets "off" with one glyph for "ff"; PDFium gives both letters the same place."""
    words = [line.text for page in _sample("a4", "specification.pdf", 2) for line in page.lines]
    assert any(text.startswith("off into the ground 38") for text in words)


def _sample(bundle: str, name: str, number: int) -> list[Page]:
    path = Path(__file__).parents[2] / "sample_bundles" / bundle / name
    document = Document(path.read_bytes())
    page = read_page(document, number, 1.0)
    document.close()
    return [page]


@pytest.mark.hostile
def test_a_page_of_too_many_lines_says_so_and_is_not_compared_line_by_line(draw, page_of):
    def scattered(canvas):
        canvas.setFont("Helvetica", 2)
        for n in range(2001):
            canvas.drawString(20 + n % 40 * 14, 20 + n // 40 * 15, "a")

    page = page_of(draw(scattered))
    assert page.lines == ()
    assert page.text_unread == "this page has more than 2000 lines of characters, more than this program reads"
    assert page.ink
