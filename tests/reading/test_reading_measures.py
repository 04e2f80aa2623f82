"""Margins and resolution against what was drawn, over sizes, turns, scales and (vector) small skews of the sheet."""

from __future__ import annotations

import io

import numpy as np
import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from reportlab.lib.utils import ImageReader

from preflight.facts import CM_PER_INCH, PT_PER_CM, Page

CM = PT_PER_CM
SIZES = ((21.59, 27.94), (21.0, 29.7), (18.3, 24.1))
"""Letter, A4 and an odd one, in cm."""
SIDES = ("left", "top", "right", "bottom")
NEAR_CM, NEAR_DPI = 0.03, 3
"""As near as the reading has to come."""
DPIS = st.integers(180, 420)
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


@settings(deadline=None, max_examples=8)
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


@settings(deadline=None, max_examples=8)
@given(size=st.sampled_from(SIZES), margins=MARGINS, turn=TURNS, dpi=DPIS)
def test_margins_and_resolution_of_a_scanned_sheet(draw, page_of, size, margins, turn, dpi):
    pixels = [round(side / CM_PER_INCH * dpi) for side in size]
    per_cm = [count / side for count, side in zip(pixels, size, strict=True)]
    left, top, right, bottom = (round(m * per_cm[i % 2]) for i, m in enumerate(margins))
    sheet = np.full((pixels[1], pixels[0]), 255, np.uint8)
    sheet[top : pixels[1] - bottom, left : pixels[0] - right] = 0
    picture = ImageReader(Image.fromarray(sheet))
    full = (size[0] * CM, size[1] * CM)
    page = page_of(_turned(draw(lambda canvas: canvas.drawImage(picture, 0, 0, *full), size=full), turn))
    _agree(page, (left / per_cm[0], top / per_cm[1], right / per_cm[0], bottom / per_cm[1]), turn)
    assert [one.dpi for one in page.pictures] == [pytest.approx(dpi, abs=NEAR_DPI)]
