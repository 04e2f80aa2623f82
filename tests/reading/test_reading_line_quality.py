"""Pens, faint marks, areas, frames and the skew of a scan, against what was drawn."""

from __future__ import annotations

import io
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageDraw
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from preflight.facts import PT_PER_CM, Page
from preflight.reading.pages import Document, read_page

CM = PT_PER_CM
HIGH = 29.7


def _figure(canvas: Canvas, *, pen: float = 1.1, grey: float = 0.0) -> None:
    canvas.setLineWidth(pen)
    canvas.setStrokeGray(grey)
    canvas.rect(6 * CM, 10 * CM, 8 * CM, 6 * CM)
    canvas.circle(10 * CM, 13 * CM, 2 * CM)
    canvas.bezier(6 * CM, 6 * CM, 8 * CM, 9 * CM, 12 * CM, 5 * CM, 14 * CM, 8 * CM)


def _read(data: bytes) -> Page:
    document = Document(data)
    try:
        return read_page(document, 1, 1.0)
    finally:
        document.close()


def _sheet(picture: Image.Image, width: float, height: float) -> bytes:
    """A page that is one picture, in cm, kept without loss."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(width * CM, height * CM), invariant=True)
    canvas.drawImage(ImageReader(picture), 0, 0, width * CM, height * CM)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _scan(
    degrees: float = 0.0,
    *,
    size: tuple[float, float] = (21.0, 29.7),
    ink: int = 0,
    extra: Callable[[ImageDraw.ImageDraw, float], None] | None = None,
) -> Page:
    """A figure of level and upright lines 0.4 mm wide, scanned askew at 200 dpi with a little noise."""
    cm = 200 / 2.54
    picture = Image.new("L", (round(size[0] * cm), round(size[1] * cm)), 255)
    pen = ImageDraw.Draw(picture)
    width, height = picture.size
    for share in (0.3, 0.45, 0.6):
        pen.rectangle([share * 0.7 * width, share * 0.6 * height, 0.75 * width, 0.75 * height], outline=ink, width=3)
    if extra:
        extra(pen, cm)
    turned = picture.rotate(-degrees, Image.Resampling.BICUBIC, fillcolor=255)
    noise = np.random.default_rng(7).normal(0, 3, (height, width))
    grey = np.clip(np.asarray(turned, dtype=np.float64) * 0.985 + noise, 0, 255).astype(np.uint8)
    return _read(_sheet(Image.fromarray(grey), *size))


@settings(max_examples=3, deadline=None)
@given(
    degrees=st.floats(-4.5, 4.5),
    size=st.sampled_from([(21.0, 29.7), (21.59, 27.94), (29.7, 21.0), (14.8, 21.0)]),
)
def test_the_skew_of_a_scan_is_measured(degrees: float, size: tuple[float, float]) -> None:
    """37 CFR 1.52(a)(1)(v) gives no number; the house limits of 2 and 3 degrees need 0.3."""
    assert _scan(degrees, size=size).skew == pytest.approx(degrees, abs=0.3)


@settings(max_examples=2, deadline=None)
@given(greys=st.lists(st.integers(100, 215), min_size=2, max_size=3, unique=True))
def test_paler_lines_are_measured_as_paler(greys: list[int]) -> None:
    """What a threshold drops is monotone in the grey that was drawn, and close to it."""
    seen = [max(mark.grey for mark in _scan(ink=grey).faint) for grey in sorted(greys)]
    assert seen == sorted(seen)
    # the paper of these scans is 0.985 white; a line of 0.4 mm is softened a little by the raster
    assert seen == pytest.approx([0.985 * grey / 255 for grey in sorted(greys)], abs=0.06)


def test_lines_that_slope_in_a_view_are_no_skew() -> None:
    def slopes(pen: ImageDraw.ImageDraw, cm: float) -> None:
        for n in range(14):
            pen.line([4 * cm, (4 + n) * cm, 17 * cm, (4.9 + n) * cm], fill=0, width=3)

    assert abs(_scan(extra=slopes).skew or 0.0) < 0.3


def test_a_page_from_a_program_has_no_skew(draw, page_of) -> None:
    assert page_of(draw(_figure)).skew is None


@pytest.mark.parametrize("width", [0.2, 0.5, 1.0, 2.0])
def test_the_width_of_a_pen_is_that_on_the_sheet(draw, page_of, width: float) -> None:
    def scaled(canvas: Canvas) -> None:
        canvas.scale(0.5, 0.5)
        _figure(canvas, pen=2 * width)

    for drawing in (lambda c: _figure(c, pen=width), scaled):
        (pen,) = page_of(draw(drawing)).pens
        assert pen.width == pytest.approx(width / CM, abs=0.0002)
        assert pen.grey == 0
        assert pen.number == 3


def test_the_thinnest_line_of_a_device_has_no_width(draw, page_of) -> None:
    assert page_of(draw(lambda c: _figure(c, pen=0))).pens[0].width == 0


def test_a_thin_filled_box_is_a_line_and_white_is_nothing(draw, page_of) -> None:
    def bars(canvas: Canvas) -> None:
        canvas.rect(5 * CM, 5 * CM, 8 * CM, 0.02 * CM, stroke=0, fill=1)
        canvas.setFillGray(1)
        canvas.rect(5 * CM, 8 * CM, 8 * CM, 0.01 * CM, stroke=0, fill=1)

    (pen,) = page_of(draw(bars)).pens
    assert pen.width == pytest.approx(0.02, abs=0.0005)


def test_black_lines_and_letters_are_not_faint(draw, page_of) -> None:
    def sheet(canvas: Canvas) -> None:
        _figure(canvas)
        for n in range(30):
            canvas.line((6 + n / 5) * CM, 17 * CM, (8 + n / 5) * CM, 20 * CM)
        canvas.setFont("Helvetica", 10)
        for n in range(20):
            canvas.drawString(4 * CM, (5 - n / 10) * CM, "The hinge 10 turns the door 12 about the pin 14.")

    assert [mark for mark in page_of(draw(sheet)).faint if mark.grey > 0.5] == []


def test_pale_lines_are_faint_where_they_are(draw, page_of) -> None:
    marks = page_of(draw(lambda c: _figure(c, grey=0.7))).faint
    assert max(mark.grey for mark in marks) == pytest.approx(0.7, abs=0.02)
    assert min(mark.box.left for mark in marks) == pytest.approx(6, abs=0.05)
    assert max(mark.box.right for mark in marks) == pytest.approx(14, abs=0.05)


def test_a_scan_of_one_bit_has_nothing_to_lose() -> None:
    picture = Image.new("1", (1654, 2339), 1)
    ImageDraw.Draw(picture).rectangle([400, 400, 1200, 1600], outline=0, width=1)
    assert _read(_one_bit(picture)).faint == ()


def _one_bit(picture: Image.Image) -> bytes:
    out = io.BytesIO()
    picture.save(out, "PDF", resolution=200)
    return out.getvalue()


@pytest.mark.parametrize("grey", [0.0, 0.4, 0.85])
def test_an_area_has_its_size_and_tone(draw, page_of, grey: float) -> None:
    def area(canvas: Canvas) -> None:
        canvas.setFillGray(grey)
        canvas.rect(6 * CM, 18 * CM, 4 * CM, 3 * CM, stroke=0, fill=1)

    page = page_of(draw(area))
    (fill,) = page.fills
    assert fill.area == pytest.approx(12, rel=0.02)
    assert fill.grey == pytest.approx(grey, abs=0.02)
    assert fill.share == pytest.approx(1, abs=0.01)
    assert page.faint == ()


def test_hatching_is_no_area(draw, page_of) -> None:
    def hatched(canvas: Canvas) -> None:
        canvas.setLineWidth(0.5)
        for n in range(200):
            canvas.line((6 + n / 25) * CM, 17 * CM, (6 + n / 25) * CM, 22 * CM)

    assert page_of(draw(hatched)).fills == ()


def test_a_punch_mark_knows_the_line_that_runs_into_it() -> None:
    def punched(pen: ImageDraw.ImageDraw, cm: float) -> None:
        for down in (10.0, 18.0):
            pen.ellipse([0.9 * cm, (down - 0.3) * cm, 1.5 * cm, (down + 0.3) * cm], fill=20)
        pen.line([1.2 * cm, 18.0 * cm, 8 * cm, 18.4 * cm], fill=0, width=3)

    holes = sorted((f for f in _scan(extra=punched).fills if f.box.right < 2), key=lambda f: f.box.top)
    assert [hole.share for hole in holes] == pytest.approx([0.785, 0.785], abs=0.06)
    assert holes[0].ringed == 0
    assert holes[1].ringed > 0.005


@pytest.mark.parametrize("margin", [0.8, 1.5, 2.6])
def test_a_frame_is_found_to_the_edge_of_its_lines(draw, page_of, margin: float) -> None:
    def framed(canvas: Canvas) -> None:
        _figure(canvas)
        canvas.rect(margin * CM, margin * CM, (21 - 2 * margin) * CM, (HIGH - 2 * margin) * CM)

    frame = page_of(draw(framed)).frame
    assert (frame.left, frame.top) == pytest.approx((margin, margin), abs=0.1)
    assert (frame.right, frame.bottom) == pytest.approx((21 - margin, HIGH - margin), abs=0.1)


@pytest.mark.parametrize("degrees", [0.0, 1.5, -3.0])
def test_a_frame_is_found_on_a_scan_that_lies_askew(degrees: float) -> None:
    def framed(pen: ImageDraw.ImageDraw, cm: float) -> None:
        pen.rectangle([1.5 * cm, 1.5 * cm, 19.5 * cm, 28.2 * cm], outline=0, width=3)

    assert _scan(degrees, extra=framed).frame is not None


def test_three_sides_are_no_frame(draw, page_of) -> None:
    def open_frame(canvas: Canvas) -> None:
        canvas.lines([(CM, CM, CM, 28 * CM), (20 * CM, CM, 20 * CM, 28 * CM), (CM, CM, 20 * CM, CM)])

    assert page_of(draw(open_frame)).frame is None


def test_a_black_page_has_no_frame(draw, page_of) -> None:
    assert page_of(draw(lambda c: c.rect(CM, CM, 19 * CM, 27 * CM, fill=1))).frame is None


@settings(max_examples=5, deadline=None)
@given(dpi=st.sampled_from([200, 300, 400]), pixels=st.integers(1, 4), degrees=st.floats(-1.5, 1.5))
def test_the_usual_width_of_the_lines_of_a_scan(dpi: int, pixels: int, degrees: float) -> None:
    """A pixel of 300 dpi is 0.0085 cm; what PDFium makes of it at 150 dpi holds as much black."""
    cm = dpi / 2.54
    picture = Image.new("L", (round(14.8 * cm), round(21.0 * cm)), 255)
    pen = ImageDraw.Draw(picture)
    for share in (0.3, 0.4, 0.5, 0.6):
        pen.rectangle([share * 5 * cm, share * 9 * cm, 12 * cm, 19 * cm], outline=0, width=pixels)
    turned = picture.rotate(-degrees, Image.Resampling.BICUBIC, fillcolor=255)
    found = _read(_sheet(turned, 14.8, 21.0)).usual_width
    assert found == pytest.approx(pixels / cm, rel=0.12, abs=0.0015)


def test_only_a_scan_has_a_usual_width_of_lines(draw, page_of) -> None:
    assert page_of(draw(_figure)).usual_width is None


@pytest.mark.parametrize("every", [3, 4, 6])
def test_a_screen_of_dots_is_not_taken_for_hairlines(every: int) -> None:
    """At 300 dpi; 0.18 mm less the reading error is the limit of us.drawing.lines."""
    picture = np.full((2480, 1748), 255, np.uint8)
    for down in range(every // 3):
        for across in range(every // 3):
            picture[down::every, across::every] = 0
    found = _read(_sheet(Image.fromarray(picture), 14.8, 21.0)).usual_width
    assert found is None or found > 0.016


@pytest.mark.parametrize(("quality", "soiled"), [(None, False), (95, False), (85, False), (20, True), (10, True)])
def test_what_jpeg_leaves_beside_lines_is_seen(quality: int | None, soiled: bool) -> None:
    """Measured: at 150 to 200 dpi qualities up to 30 leave 1 per cent and more, from 75 on less than 0.5."""
    picture = Image.new("L", (round(14.8 * 60), round(21.0 * 60)), 255)  # 152 dpi
    pen = ImageDraw.Draw(picture)
    for n in range(20):
        pen.line([150 + 15 * n, 300, 190 + 15 * n, 600], fill=0, width=2)
    pen.ellipse([150, 650, 700, 1100], outline=0, width=2)
    if quality is None:
        assert _read(_sheet(picture, 14.8, 21.0)).traces is None
        return
    packed = io.BytesIO()
    picture.save(packed, "JPEG", quality=quality)
    out = io.BytesIO()
    Image.open(packed).save(out, "PDF", resolution=152.4, quality=quality)
    traces = _read(out.getvalue()).traces
    assert traces is not None
    assert (traces >= 0.01) is soiled
