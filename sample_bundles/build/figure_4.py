"""FIG. 4: the socket cut away to show the latch, with the released position in broken lines."""

import math

import sizes as s
from pen import Pen, Point, arc, box

FLOOR = s.SOCKET_BOTTOM + s.SOCKET_WALL
LATCH_HALF = 9.0
LATCH_BOTTOM = s.THUMB[0] - 3
NOTCH_DEPTH = 6.0
TOOTH_TOP = s.HINGE - s.FOOT_RADIUS + 4.8
DRAWN_BACK = 9.0
"""Way of the latch from rest to released."""
NOTCH = 25.0
"""Angle between neighbouring notches, in degrees."""


def draw_figure_4(pen: Pen) -> None:
    """Draw the cut socket first, then what stands in it."""
    _walls(pen)
    _stake(pen)
    _bracket(pen)
    _latch(pen)
    _spring(pen)
    _characters(pen)


def _walls(pen: Pen) -> None:
    """Both side walls and the floor, hatched; the right wall has a slot."""
    across, wall = s.SOCKET_HALF[0], s.SOCKET_WALL
    left: list[Point] = [
        (-across, s.SOCKET_TOP),
        (-across, s.SOCKET_BOTTOM),
        (across, s.SOCKET_BOTTOM),
        (across, s.SLOT[0]),
        (across - wall, s.SLOT[0]),
        (across - wall, FLOOR),
        (-across + wall, FLOOR),
        (-across + wall, s.SOCKET_TOP),
    ]
    pen.trace(left, closed=True)
    pen.trace(box(across - wall, s.SLOT[1], across, s.SOCKET_TOP), closed=True)
    for x in (-across, across):
        pen.trace(
            [(x - math.copysign(wall, x), s.SOCKET_TOP), (x - math.copysign(wall, x), FLOOR)],
            fine=True,
        )
    step = s.SOCKET_BOTTOM + 1
    while step < s.SOCKET_TOP - wall:
        pen.trace([(-across, step), (-across + wall, step + wall)], fine=True)
        if step + wall < s.SLOT[0] or step > s.SLOT[1]:
            pen.trace([(across - wall, step), (across, step + wall)], fine=True)
        step += 3
    x = -across + wall
    while x < across - 2 * wall + 1:
        pen.trace([(x, s.SOCKET_BOTTOM), (x + wall, FLOOR)], fine=True)
        x += 3


def _stake(pen: Pen) -> None:
    """The upper end of the stake, with a break line."""
    radius, low = s.STAKE_RADIUS, s.SOCKET_BOTTOM - 13
    left, right = (-radius, low), (radius, low)
    pen.trace([(-radius, s.SOCKET_BOTTOM), left])
    pen.trace([(radius, s.SOCKET_BOTTOM), right])
    wave = [(-radius + 2 * radius * t / 20, low + 1.6 * math.sin(2 * math.pi * t / 20)) for t in range(21)]
    pen.trace(wave)


def _bracket(pen: Pen) -> None:
    """Tongue and round foot with three notches, and the hinge pin."""
    half, radius, center = s.TONGUE_HALF, s.FOOT_RADIUS, (0.0, s.HINGE)
    top = s.BAR[0]
    start = math.degrees(math.acos(half / radius))
    outline: list[Point] = [(half, top)]
    angle = start
    for notch in (270 + NOTCH, 270.0, 270 - NOTCH):
        outline += arc(center, radius, angle, notch - 360 + 8.5)
        outline += [arc(center, radius - NOTCH_DEPTH, notch - 360 + turn, notch - 360)[0] for turn in (8, -8)]
        angle = notch - 360 - 8.5
    outline += arc(center, radius, angle, -180 - start)
    outline += [(-half, top)]
    pen.trace(outline, closed=True)
    pen.trace(box(-s.ARM[1], s.BAR[0], s.ARM[1], s.BAR[1]), closed=True)
    pen.circle(center, s.PIN_RADIUS)


def _latch_outline(drop: float) -> list[Point]:
    """The bar with its tooth on top and its thumb piece at the right."""
    across = s.SOCKET_HALF[0]
    low, high = s.THUMB
    points: list[Point] = [
        (-LATCH_HALF, LATCH_BOTTOM),
        (LATCH_HALF, LATCH_BOTTOM),
        (LATCH_HALF, low),
        (across + 13, low),
        (across + 13, high),
        (LATCH_HALF, high),
        (LATCH_HALF, high - 0.01),
        (1.9, high),
        (1.2, TOOTH_TOP),
        (-1.2, TOOTH_TOP),
        (-1.9, high),
        (-LATCH_HALF, high),
    ]
    return [(x, y - drop) for x, y in points]


def _latch(pen: Pen) -> None:
    pen.trace(_latch_outline(0), closed=True)
    pen.trace(_latch_outline(DRAWN_BACK), closed=True, broken=True)


def _spring(pen: Pen) -> None:
    """A coil spring between the floor and the latch: near strands heavy, far strands fine."""
    turns, half = 4, 6.0
    pitch = (LATCH_BOTTOM - FLOOR - 2) / turns
    for turn in range(turns):
        low = FLOOR + 1 + turn * pitch
        pen.trace([(half, low + pitch * 0.5), (-half, low + pitch)], fine=True)
        pen.trace([(-half, low), (half, low + pitch * 0.5)])
    for end in (FLOOR + 1, LATCH_BOTTOM - 1):
        pen.trace([(-half, end), (half, end)])


def _characters(pen: Pen) -> None:
    pen.character("20", (-52, -62), (-s.TONGUE_HALF, -66), -0.12)
    pen.character("22", (56, -74), (3.1, s.HINGE + 1), -0.08)
    pen.character("18", (-56, -96), (-s.SOCKET_HALF[0], -104), -0.12)
    pen.character("30", (58, -100), (s.SOCKET_HALF[0] + 13, -106), 0.12)
    pen.character("32", (56, -130), (6, -124.5), -0.08)
    pen.character("12", (-52, -140), (-s.STAKE_RADIUS, -144), -0.12)
