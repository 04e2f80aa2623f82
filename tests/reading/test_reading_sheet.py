"""The page as displayed, from boxes, turn and unit."""

from __future__ import annotations

import pytest

from preflight.facts import CM_PER_PT, Box
from preflight.reading.sheet import sheet

MEDIA = (10.0, 20.0, 210.0, 420.0)


@pytest.mark.parametrize(
    ("turn", "corner"),
    [(0, (0, 400)), (90, (0, 0)), (180, (200, 0)), (270, (400, 200))],
)
def test_where_the_lower_left_corner_goes(turn: int, corner: tuple[int, int]):
    page = sheet(MEDIA, None, turn, 1.0)
    assert page.to_display.point(10, 20) == pytest.approx([c * CM_PER_PT for c in corner])
    wide, high = (400, 200) if turn in (90, 270) else (200, 400)
    assert (page.width, page.height) == pytest.approx((wide * CM_PER_PT, high * CM_PER_PT), abs=1e-4)


def test_the_crop_box_counts_only_within_the_media_box():
    page = sheet(MEDIA, (0, 0, 110, 1000), 0, 1.0)
    assert page.width == pytest.approx(100 * CM_PER_PT, abs=1e-4)
    assert page.height == pytest.approx(400 * CM_PER_PT, abs=1e-4)


def test_boxes_may_be_given_from_any_corner():
    assert sheet((210, 420, 10, 20), None, 0, 1.0) == sheet(MEDIA, None, 0, 1.0)


def test_the_unit_scales():
    assert sheet(MEDIA, None, 0, 2.0).width == pytest.approx(400 * CM_PER_PT, abs=1e-4)


def test_a_crop_box_beside_the_media_box_leaves_nothing():
    assert sheet(MEDIA, (500, 500, 600, 600), 0, 1.0).width == 0


@pytest.mark.parametrize("media", [None, (), (0, 0, 0, 0), (0, 0, float("nan"), 5)])
def test_without_a_usable_media_box_it_is_us_letter(media):
    assert sheet(media, None, 0, 1.0).width == 21.59


def test_a_box_ends_at_the_edge():
    page = sheet((0, 0, 100, 100), None, 0, 1.0)
    assert page.within(Box(-1, -1, 1, 1)) == Box(0, 0, 1, 1)
    assert page.within(Box(50, 50, 60, 60)) is None
