"""Margins, heights and resolution against what was drawn, over sizes, turns, scales and skews of the sheet."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pikepdf
import pytest
import reportlab
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageDraw
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from preflight.facts import CM_PER_INCH, PT_PER_CM, Page
from preflight.papers import characters_on

CM = PT_PER_CM
SIZES = ((21.59, 27.94), (21.0, 29.7), (18.3, 24.1))
"""Letter, A4 and an odd one, in cm."""
SIDES = ("left", "top", "right", "bottom")
NEAR_CM, NEAR_DPI = 0.03, 3
"""As near as the reading has to come."""
DPIS = st.integers(180, 420)
SKEWS = st.floats(-1.5, 1.5)
"""Degrees by which a sheet lies askew on the scanner, or a program has put it straight."""
BLACK = 128
VERA = Path(reportlab.__file__).parent / "fonts" / "Vera.ttf"
VERA_DIGIT = 1549 / 2048
"""Height of its "0" with its overshoot by the type size, from the glyf table of the font."""
TURNS = st.sampled_from([0, 90, 180, 270])
MARGINS = st.tuples(*[st.floats(0.5, 4.0)] * 4)
"""Left, top, right, bottom, in cm."""


def _turned(data: bytes, turn: int) -> bytes:
    """The same pages with this /Rotate."""
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as pdf:
        pdf.pages[0].Rotate = turn
        pdf.save(out)
    return out.getvalue()


def _agree(page: Page, margins: tuple[float, ...], turn: int) -> None:
    """The white of each side; turning the sheet clockwise brings its left side to the top."""
    for place, side in enumerate(SIDES):
        assert page.white(side) == pytest.approx(margins[(place - turn // 90) % 4], abs=NEAR_CM), side


def _frame(size: tuple[float, float], margins: tuple[float, ...], skew: float) -> np.ndarray:
    """Corners of a rectangle that leaves about these margins, turned by `skew` degrees, in cm from the top left."""
    left, top, right, bottom = margins
    far, low = size[0] - right, size[1] - bottom
    corners = np.array([(left, top), (far, top), (far, low), (left, low)])
    middle, angle = corners.mean(axis=0), np.radians(skew)
    turn = np.array([(np.cos(angle), -np.sin(angle)), (np.sin(angle), np.cos(angle))])
    return (corners - middle) @ turn.T + middle


def _white_of(corners: np.ndarray, size: tuple[float, float]) -> tuple[float, ...]:
    (left, top), (right, bottom) = corners.min(axis=0), corners.max(axis=0)
    return left, top, size[0] - right, size[1] - bottom


@settings(deadline=None, max_examples=6)
@given(size=st.sampled_from(SIZES), margins=MARGINS, turn=TURNS, skew=st.floats(-0.5, 0.5))
def test_margins_of_a_vector_sheet(draw, page_of, size, margins, turn, skew):
    corners = _frame(size, margins, skew)

    def paint(canvas):
        path = canvas.beginPath()
        path.moveTo(*_pt(corners[0], size))
        for corner in corners[1:]:
            path.lineTo(*_pt(corner, size))
        path.close()
        canvas.drawPath(path, stroke=0, fill=1)

    data = _turned(draw(paint, size=(size[0] * CM, size[1] * CM)), turn)
    _agree(page_of(data), _white_of(corners, size), turn)


def _pt(corner: np.ndarray, size: tuple[float, float]) -> tuple[float, float]:
    return float(corner[0]) * CM, (size[1] - float(corner[1])) * CM


@settings(deadline=None, max_examples=6)
@given(size=st.sampled_from(SIZES), margins=MARGINS, turn=TURNS, dpi=DPIS, skew=SKEWS)
def test_margins_and_resolution_of_a_scanned_sheet(draw, page_of, size, margins, turn, dpi, skew):
    per_cm = dpi / CM_PER_INCH
    corners = _frame(size, margins, skew)
    sheet = Image.new("L", (round(size[0] * per_cm), round(size[1] * per_cm)), 255)
    ImageDraw.Draw(sheet).polygon([(x * per_cm, y * per_cm) for x, y in corners], fill=0)
    full = (size[0] * CM, size[1] * CM)
    page = page_of(_turned(draw(lambda canvas: canvas.drawImage(ImageReader(sheet), 0, 0, *full), size=full), turn))
    rows, columns = np.nonzero(np.asarray(sheet) < BLACK)
    black = np.array([(columns.min(), rows.min()), (columns.max() + 1, rows.max() + 1)]) / per_cm
    _agree(page, _white_of(black, size), turn)
    assert [one.dpi for one in page.pictures] == [pytest.approx(dpi, abs=NEAR_DPI)]


@settings(deadline=None, max_examples=6)
@given(size=st.sampled_from(SIZES), turn=TURNS, skew=SKEWS, scale=st.floats(0.4, 2.5), high=st.floats(0.2, 0.5))
def test_heights_of_the_characters_of_a_vector_sheet(draw, page_of, size, turn, skew, scale, high):
    """Whatever scales and turns stand between the type size and the sheet."""
    pdfmetrics.registerFont(TTFont("Vera", VERA))

    def paint(canvas):
        canvas.translate(size[0] / 2 * CM, size[1] / 2 * CM)
        canvas.rotate(skew)
        canvas.scale(scale, scale)
        canvas.setFont("Vera", high * CM / VERA_DIGIT / scale)
        for down, text in enumerate(("10", "128", "1406")):
            canvas.drawString(0, down * 60 / scale, text)

    page = page_of(_turned(draw(paint, size=(size[0] * CM, size[1] * CM)), turn))
    heights = {one.text: one.height for one in characters_on(page)}
    assert heights == {text: pytest.approx(high, abs=NEAR_CM) for text in ("10", "128", "1406")}
