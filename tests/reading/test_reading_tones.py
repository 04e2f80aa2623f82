"""Hue and continuous tone, told apart from black strokes, flat grey and the noise of a scan."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image
from reportlab.lib.utils import ImageReader

from preflight.facts import PT_PER_CM

CM = PT_PER_CM


def _picture(pixels, box, kind: str = "PNG", **options: object):
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, kind, **options)
    left, bottom, width, height = (length * CM for length in box)
    return lambda canvas: canvas.drawImage(ImageReader(io.BytesIO(out.getvalue())), left, bottom, width, height)


def _photo(wide: int = 600, high: int = 400) -> np.ndarray:
    x, y = np.meshgrid(np.linspace(0, 9, wide), np.linspace(0, 7, high))
    noise = np.random.default_rng(5).normal(0, 8, (high, wide))
    return np.clip(120 + 60 * np.sin(x) + 50 * np.cos(y) + noise, 0, 255).astype(np.uint8)


def test_a_red_line_is_colour_and_black_is_not(draw, page_of):
    def red(canvas) -> None:
        canvas.line(CM, CM, 9 * CM, CM)
        canvas.setStrokeColorRGB(1, 0, 0)
        canvas.setLineWidth(0.5)
        canvas.line(5 * CM, 10 * CM, 15 * CM, 10 * CM)

    page = page_of(draw(red))
    assert page.colour.share > 0
    assert page.colour.box.left == pytest.approx(5, abs=0.02)
    assert page.colour.box.right == pytest.approx(15, abs=0.02)
    assert page.colour.box.top == pytest.approx(19.7, abs=0.04)


def test_the_share_of_colour_is_of_the_page(draw, page_of):
    def blue(canvas) -> None:
        canvas.setFillColorRGB(0.2, 0.2, 1)
        canvas.rect(0, 0, 21 * CM, 29.7 * CM / 4, stroke=0, fill=1)

    assert page_of(draw(blue)).colour.share == pytest.approx(0.25, abs=0.001)


def test_black_text_and_lines_have_neither_hue_nor_tone(draw, page_of):
    page = page_of(
        draw(lambda c: [c.drawString(60, 50 + 12 * n, "The hinge 10 turns the door 12. " * 2) for n in range(55)])
    )
    assert (page.colour.share, page.tone.share) == (0, 0)


def test_a_photograph_is_continuous_tone_of_many_levels(draw, page_of):
    page = page_of(draw(_picture(_photo(), (3, 8, 12, 8))))
    assert page.tone.share == pytest.approx(12 * 8 / (21 * 29.7), rel=0.15)
    assert page.tone.levels > 64
    assert page.tone.box.left == pytest.approx(3, abs=0.3)
    assert page.colour.share == 0


def test_flat_grey_has_few_levels(draw, page_of):
    def grey(canvas) -> None:
        for n, level in enumerate((0.3, 0.5, 0.8)):
            canvas.setFillGray(level)
            canvas.rect(3 * CM, (4 + 5 * n) * CM, 6 * CM, 4 * CM, stroke=1, fill=1)

    page = page_of(draw(grey))
    assert page.tone.share > 0.09
    assert 3 <= page.tone.levels <= 12


def test_a_flat_grey_that_went_through_jpeg_has_few_levels(draw, page_of):
    grey = np.full((800, 800), 170, dtype=np.uint8)
    grey[300:500, 300:310] = 0
    assert page_of(draw(_picture(grey, (3, 8, 10, 10), "JPEG", quality=60))).tone.levels <= 32


def test_colour_noise_of_a_scan_is_not_colour(draw, page_of):
    noisy = np.full((1169, 827, 3), 250, dtype=np.uint8)
    random = np.random.default_rng(3)
    for x, y in random.integers(5, 800, (300, 2)):
        noisy[y, x] = (200, 250, 250)
    noisy[400:420, 100:700] = 0
    assert page_of(draw(_picture(noisy, (0, 0, 21, 29.7)))).colour.share == 0


def test_a_coloured_stamp_on_a_scan_is_colour(draw, page_of):
    stamped = np.full((1169, 827, 3), 250, dtype=np.uint8)
    stamped[500:503, 200:400] = (200, 30, 60)
    assert page_of(draw(_picture(stamped, (0, 0, 21, 29.7), "JPEG", quality=80))).colour.share > 0


def test_hatching_of_usual_pitch_is_not_tone(draw, page_of):
    def hatch(canvas) -> None:
        canvas.setLineWidth(0.7)
        for n in range(200):
            canvas.line(3 * CM, (3 + n * 0.1) * CM, 13 * CM, (8 + n * 0.1) * CM)

    assert page_of(draw(hatch)).tone.share == 0
