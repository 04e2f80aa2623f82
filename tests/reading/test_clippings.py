"""Parts of pages as pictures: the right part, small, and never at the cost of the run."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path

import cv2
import numpy as np
import numpy.typing as npt
import pytest
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from preflight.facts import PT_PER_CM, Box, Cut, Entry
from preflight.reading import Limits, clip

SHEET = (21.0, 29.7)
HIGH = SHEET[1] * PT_PER_CM
DOUBLES = Path(__file__).parent / "doubles"


def square(canvas: Canvas, left: float, top: float, colour: tuple[float, float, float] = (0, 0, 0)) -> None:
    """One of 1 cm, filled."""
    canvas.setFillColorRGB(*colour)
    canvas.rect(left * PT_PER_CM, HIGH - (top + 1) * PT_PER_CM, PT_PER_CM, PT_PER_CM, stroke=0, fill=1)


@pytest.fixture
def clipped(tmp_path: Path) -> Callable[..., list[bytes | None]]:
    """What is cut out of a file with these bytes."""

    def cut_out(data: bytes, *cuts: Cut, sha256: str = "", **more: object) -> list[bytes | None]:
        (tmp_path / "sheets.pdf").write_bytes(data)
        entry = Entry("sheets.pdf", len(data), sha256 or hashlib.sha256(data).hexdigest())
        made = clip(tmp_path, [entry], {"sheets.pdf": cuts}, **more)  # type: ignore[arg-type]
        return [made.get(("sheets.pdf", cut)) for cut in cuts]

    return cut_out


def pixels(clipping: bytes | None) -> npt.NDArray[np.uint8]:
    """The picture as rows of blue, green and red."""
    assert clipping is not None
    return np.asarray(cv2.imdecode(np.frombuffer(clipping, np.uint8), cv2.IMREAD_COLOR), dtype=np.uint8)


def test_a_cut_shows_that_part_of_that_page(draw, clipped):
    data = draw(lambda c: square(c, 4, 6), lambda c: square(c, 12, 20))
    first, second = clipped(
        data, Cut(1, SHEET, Box(3.0, 5.0, 6.0, 8.0), 127), Cut(2, SHEET, Box(11.0, 19.0, 14.0, 22.0), 127)
    )
    for made in (first, second):
        dark = np.argwhere(pixels(made).max(axis=2) < 128) / 127 * 2.54
        assert dark.min(axis=0) == pytest.approx([1.0, 1.0], abs=0.05)
        assert dark.max(axis=0) == pytest.approx([2.0, 2.0], abs=0.05)


def test_colour_stays_only_where_there_is_some(draw, clipped):
    data = draw(lambda c: (square(c, 4, 6, (0.9, 0, 0)), square(c, 12, 20)))
    red, black = clipped(
        data, Cut(1, SHEET, Box(3.0, 5.0, 6.0, 8.0), 120), Cut(1, SHEET, Box(11.0, 19.0, 14.0, 22.0), 120)
    )
    assert np.ptp(pixels(red).astype(int), axis=2).max() > 200
    assert np.ptp(pixels(black).astype(int), axis=2).max() == 0


def test_the_same_bytes_give_the_same_picture_and_a_small_one(draw, clipped):
    data = draw(lambda c: [square(c, x, y) for x in range(2, 19, 2) for y in range(3, 26, 2)])
    whole = Cut(1, SHEET, Box(0.0, 0.0, *SHEET), 50)
    (one,), (again,) = clipped(data, whole), clipped(data, whole)
    assert one == again
    assert one is not None
    assert len(one) < 20_000


def test_a_page_for_a_screen_is_smaller_as_webp_and_shows_the_same(draw, clipped):
    data = draw(lambda c: [square(c, x, y) for x in range(2, 19, 2) for y in range(3, 26, 2)])
    png, webp = clipped(data, *(Cut(1, SHEET, Box(0.0, 0.0, *SHEET), 72, form) for form in ("png", "webp")))
    assert len(webp) < len(png)
    assert webp[8:12] == b"WEBP", "RFC 9649, section 2.4"
    assert np.abs(pixels(png).astype(int) - pixels(webp)).max() <= 1


def test_a_noisy_photograph_loses_what_nobody_misses_and_stays_small(tmp_path, clipped):
    noise = np.random.default_rng(1).normal(150, 12, (600, 450, 3)).clip(0, 255).astype(np.uint8)
    canvas = Canvas(str(tmp_path / "photograph.pdf"), pagesize=(SHEET[0] * PT_PER_CM, HIGH))
    canvas.drawImage(ImageReader(Image.fromarray(noise)), 0, 0, SHEET[0] * PT_PER_CM, HIGH)
    canvas.save()
    whole = Cut(1, SHEET, Box(0.0, 0.0, *SHEET), 72, "webp")
    (made,) = clipped((tmp_path / "photograph.pdf").read_bytes(), whole)
    assert len(made) < 120_000
    assert pixels(made).mean() == pytest.approx(150, abs=3)


def test_a_page_that_is_not_there_a_file_that_is_none_and_one_that_has_changed_give_no_picture(draw, clipped):
    data = draw(lambda c: square(c, 4, 6))
    cut = Cut(1, SHEET, Box(3.0, 5.0, 6.0, 8.0), 120)
    assert clipped(data, Cut(7, SHEET, cut.box, 120)) == [None]
    assert clipped(b"%PDF-1.7 and no more", cut) == [None]
    assert clipped(data, cut, sha256="0" * 64) == [None]


def test_a_page_that_cannot_be_drawn_costs_its_own_picture_only(draw, clipped):
    data = draw(lambda c: square(c, 4, 6))
    good, bad = Cut(1, SHEET, Box(3.0, 5.0, 6.0, 8.0), 120), Cut(9, SHEET, Box(3.0, 5.0, 6.0, 8.0), 120)
    made = clipped(data, bad, good)
    assert made[0] is None
    assert made[1] is not None


@pytest.mark.hostile
@pytest.mark.parametrize("reader", ["hangs", "dies", "throws", "lies", "repeats_pages", "cannot_be_imported"])
def test_a_worker_that_misbehaves_costs_its_pictures_only(draw, clipped, monkeypatch, reader):
    monkeypatch.syspath_prepend(str(DOUBLES))
    cut = Cut(1, SHEET, Box(3.0, 5.0, 6.0, 8.0), 120)
    limits = Limits(seconds=3, page_seconds=1)
    assert clipped(draw(lambda c: square(c, 4, 6)), cut, reader=reader, limits=limits) == [None]
