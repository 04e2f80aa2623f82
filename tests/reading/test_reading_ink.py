"""Ink is where it was drawn, and where a second reader sees it, however the page is turned."""

from __future__ import annotations

import io

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pdfminer.high_level import extract_pages
from PIL import Image, ImageDraw
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from preflight.facts import CM_PER_PT, PT_PER_CM, Box

CM = PT_PER_CM


def _square(left: float, bottom: float, side: float = 8.0):
    return lambda canvas: canvas.rect(left * CM, bottom * CM, side * CM, side * CM, stroke=0, fill=1)


@settings(deadline=None, max_examples=40)
@given(left=st.floats(0.3, 12.5), bottom=st.floats(0.3, 21))
def test_ink_is_where_it_was_drawn_and_where_a_second_reader_sees_it(draw, page_of, left: float, bottom: float):
    data = draw(_square(left, bottom))
    page = page_of(data)
    ((shape,),) = extract_pages(io.BytesIO(data))
    for side, drawn, seen in (
        ("left", left, shape.x0 / CM),
        ("bottom", bottom, shape.y0 / CM),
        ("right", 21 - left - 8, (shape.width, 21 - shape.x1 / CM)[1]),
        ("top", 29.7 - bottom - 8, 29.7 - shape.y1 / CM),
    ):
        assert page.white(side) == pytest.approx(drawn, abs=page.blur), "drawn"
        assert page.white(side) == pytest.approx(seen, abs=page.blur), "second reader"


@settings(deadline=None, max_examples=20)
@given(
    left=st.floats(1, 11),
    bottom=st.floats(1, 20),
    turn=st.sampled_from([0, 90, 180, 270]),
    crop=st.tuples(*[st.floats(0, 0.9)] * 4),
)
def test_turning_the_page_turns_its_white(draw, page_of, left, bottom, turn, crop):
    with pikepdf.open(io.BytesIO(draw(_square(left, bottom)))) as pdf:
        x0, y0, x1, y1 = crop[0], crop[1], 21 - crop[2], 29.7 - crop[3]
        pdf.pages[0].CropBox = pikepdf.Array([round(edge * CM, 3) for edge in (x0, y0, x1, y1)])
        pdf.pages[0].Rotate = turn
        out = io.BytesIO()
        pdf.save(out)
    page = page_of(out.getvalue())
    white = {"left": left - x0, "top": y1 - bottom - 8, "right": x1 - left - 8, "bottom": bottom - y0}
    order = ["left", "top", "right", "bottom"]
    for place, side in enumerate(order):
        before = order[(place - turn // 90) % 4]
        assert page.white(side) == pytest.approx(white[before], abs=page.blur), side
    assert page.rotate == turn


def test_the_unit_of_a_page_scales_everything(draw, facts_of):
    with pikepdf.open(io.BytesIO(draw(_square(1, 1, 2)))) as pdf:
        pdf.pages[0].UserUnit = 2
        out = io.BytesIO()
        pdf.save(out, min_version="1.6")
    (page,) = facts_of(out.getvalue()).pages
    assert (page.width, page.height) == pytest.approx((42, 59.4), abs=0.01)
    assert page.white("left") == pytest.approx(2, abs=page.blur)
    assert page.blur < 0.018


def test_a_blank_page_has_no_ink(draw, page_of):
    page = page_of(draw(lambda _canvas: None))
    assert (page.ink, page.marks, page.lines, page.pictures) == (None, (), (), ())
    assert page.colour.share == page.tone.share == 0


def test_white_ink_is_no_ink(draw, page_of):
    def white(canvas) -> None:
        canvas.setFillGray(1)
        canvas.rect(0, 0, 500, 500, stroke=0, fill=1)

    assert page_of(draw(white)).ink is None


def test_a_hairline_is_ink(draw, page_of):
    def hairline(canvas) -> None:
        canvas.setLineWidth(0.1)
        canvas.line(2 * CM, 2 * CM, 10 * CM, 2 * CM)

    assert page_of(draw(hairline)).white("bottom") == pytest.approx(2, abs=0.02)


def test_what_a_field_and_an_annotation_show_is_ink(draw, page_of):
    def field(canvas) -> None:
        canvas.acroForm.textfield(
            name="t", value="filled", x=3 * CM, y=3 * CM, width=5 * CM, height=CM, borderWidth=1, fillColor=None
        )

    page = page_of(draw(field))
    assert page.white("left") == pytest.approx(3, abs=0.1)
    assert page.white("bottom") == pytest.approx(3, abs=0.1)


def test_marks_are_kept_apart_by_white(draw, page_of):
    def marks(canvas) -> None:
        for left, bottom in ((2, 20), (2, 5), (3.15, 5), (8, 5)):
            canvas.rect(left * CM, bottom * CM, CM, CM, stroke=0, fill=1)

    boxes = page_of(draw(marks)).marks
    rounded = [tuple(round(edge, 1) for edge in (b.left, b.top, b.right, b.bottom)) for b in boxes]
    assert rounded == [(2, 8.7, 3, 9.7), (2, 23.7, 4.2, 24.7), (8, 23.7, 9, 24.7)] or rounded == [
        (2, 8.7, 3, 9.7),
        (2, 23.7, 4.1, 24.7),
        (8, 23.7, 9, 24.7),
    ]


@settings(deadline=None, max_examples=15)
@given(gap=st.floats(0.05, 0.6))
def test_how_far_apart_marks_must_be(draw, page_of, gap: float):
    def two(canvas) -> None:
        canvas.rect(2 * CM, 5 * CM, CM, CM, stroke=0, fill=1)
        canvas.rect((3 + gap) * CM, 5 * CM, CM, CM, stroke=0, fill=1)

    count = len(page_of(draw(two)).marks)
    if gap < 0.2:
        assert count == 1
    if gap > 0.3:
        assert count == 2


def test_marks_cover_the_ink(draw, page_of):
    page = page_of(draw(lambda c: [c.drawString(50 + 7 * n, 100 + 11 * n, "mark") for n in range(40)]))
    assert Box.around(page.marks) == page.ink


def test_a_huge_page_is_drawn_coarsely_and_says_so(page_of):
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(14400, 14400))
    page.Contents = pdf.make_stream(b"1000 1000 5000 5000 re f")
    out = io.BytesIO()
    pdf.save(out)
    read = page_of(out.getvalue())
    assert read.blur == pytest.approx(14400 * CM_PER_PT / 4000, rel=0.01)
    assert read.white("left") == pytest.approx(1000 * CM_PER_PT, abs=read.blur)


def test_a_page_without_size_is_unread(page_of):
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(300, 300))
    page.CropBox = pikepdf.Array([400, 400, 500, 500])
    out = io.BytesIO()
    pdf.save(out)
    assert page_of(out.getvalue()).unread == "this page has no size"


def _scan(paint, mode: str = "L", paper: int = 255):
    """A page that is one picture of 200 dpi."""
    picture = Image.new("L", (1654, 2339), paper)
    paint(picture)
    out = io.BytesIO()
    picture.convert(mode).save(out, "PNG")
    return lambda canvas: canvas.drawImage(ImageReader(io.BytesIO(out.getvalue())), 0, 0, 21 * CM, 29.7 * CM)


def _cm(x: float) -> int:
    return round(x / 2.54 * 200)


@pytest.mark.parametrize(("mode", "paper"), [("1", 255), ("L", 255), ("L", 238), ("L", 215)])
def test_the_ink_of_a_scan_is_the_drawing_not_its_paper_or_specks(draw, page_of, mode: str, paper: int):
    def paint(picture: Image.Image) -> None:
        picture.paste(0, (_cm(4), _cm(5), _cm(12), _cm(20)))
        for x, y in ((30, 30), (1600, 60), (800, 2300), (20, 2200)):
            picture.paste(0, (x, y, x + 2, y + 2))

    page = page_of(draw(_scan(paint, mode, paper)))
    assert (page.ink.left, page.ink.top) == pytest.approx((4, 5), abs=0.03)
    assert (page.ink.right, page.ink.bottom) == pytest.approx((12, 20), abs=0.03)
    assert page.tone.share < 0.001


def test_a_full_stop_in_a_scan_is_ink(draw, page_of):
    page = page_of(draw(_scan(lambda picture: picture.paste(0, (_cm(3), _cm(3), _cm(3) + 5, _cm(3) + 5)))))
    assert page.ink.left == pytest.approx(3, abs=0.03)


def test_a_fine_line_in_a_scan_is_ink(draw, page_of):
    page = page_of(draw(_scan(lambda picture: picture.paste(0, (_cm(1), _cm(3), _cm(9), _cm(3) + 1)), "1")))
    assert page.ink.left == pytest.approx(1, abs=0.03)


def test_specks_of_a_drawing_made_of_strokes_count(draw, page_of):
    page = page_of(draw(lambda c: (_square(5, 5)(c), c.rect(CM, CM, 0.5, 0.5, stroke=0, fill=1))))
    assert page.white("left") == pytest.approx(1, abs=page.blur)


def _scanned_page(paint) -> bytes:
    """A figure of lines on a scan of 200 dpi, A5, and what `paint` adds in cm."""
    picture = Image.new("L", (round(14.8 * 78.74), round(21.0 * 78.74)), 250)
    pen = ImageDraw.Draw(picture)
    pen.rectangle([4 * 78.74, 5 * 78.74, 10 * 78.74, 15 * 78.74], outline=0, width=3)
    paint(pen, 78.74)
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(14.8 * PT_PER_CM, 21.0 * PT_PER_CM), invariant=True)
    canvas.drawImage(ImageReader(picture), 0, 0, 14.8 * PT_PER_CM, 21.0 * PT_PER_CM)
    canvas.save()
    return out.getvalue()


@pytest.mark.parametrize(
    ("name", "shape"),
    [
        ("a band on the left", [(0, 0), (0.3, 0), (0.35, 21), (0, 21)]),
        ("a wedge of a sheet that lies askew", [(0, 0), (12, 0), (0, 0.4)]),
        ("a band below", [(0, 20.6), (14.8, 20.7), (14.8, 21), (0, 21)]),
        ("a band on the right", [(14.4, 2), (14.8, 2), (14.8, 19), (14.4, 19)]),
    ],
)
def test_the_dark_edge_of_a_scan_is_no_ink(page_of, name, shape):
    page = page_of(_scanned_page(lambda pen, cm: pen.polygon([(x * cm, y * cm) for x, y in shape], fill=20)))
    assert len(page.dark_edges) == 1, name
    assert page.tone.share == 0
    assert page.fills == ()
    assert (page.ink.left, page.ink.top) == pytest.approx((4, 5), abs=0.05)
    assert (page.ink.right, page.ink.bottom) == pytest.approx((10, 15), abs=0.05)


@pytest.mark.parametrize(
    ("name", "shape"),
    [
        ("a heavy line", [(0, 7), (5, 7.1), (5, 7.2), (0, 7.1)]),
        ("an area", [(11, 8), (14.8, 8), (14.8, 11), (11, 11)]),
        ("a line aslant in a corner", [(0, 1.0), (1.0, 0), (1.1, 0), (0, 1.1)]),
        ("a bar near a corner", [(1, 0), (3, 0), (3, 1), (1, 1)]),
    ],
)
def test_ink_that_runs_off_a_scan_stays_ink(page_of, name, shape):
    """37 CFR 1.84(g): what is cut off must be told."""
    page = page_of(_scanned_page(lambda pen, cm: pen.polygon([(x * cm, y * cm) for x, y in shape], fill=0)))
    assert page.dark_edges == (), name
    assert min(page.white(side) for side in ("left", "top", "right", "bottom")) == 0


def test_a_line_that_runs_into_a_dark_edge_is_told(page_of):
    def both(pen, cm):
        pen.rectangle([0, 0, 0.3 * cm, 21 * cm], fill=15)
        pen.line([0, 9 * cm, 4 * cm, 9 * cm], fill=0, width=3)

    page = page_of(_scanned_page(both))
    assert len(page.dark_edges) == 1
    assert page.ink.left == pytest.approx(0.35, abs=0.06)
