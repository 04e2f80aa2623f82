"""FIG. 2: the hose guide from the side, with the hose laid over its roller."""

import math

import sizes as s
from pen import Pen, arc, box
from solids import beside, break_line

GROUND_HALF = 158.0


def draw_figure_2(pen: Pen) -> None:
    """Draw from below upward; the ground line is the widest part of the figure."""
    _ground(pen)
    _stake(pen)
    _socket(pen)
    _hose_and_roller(pen)
    _arm(pen)
    _characters(pen)


def _ground(pen: Pen) -> None:
    """The ground line, with short oblique strokes below it on both sides of the stake."""
    pen.trace([(-GROUND_HALF, s.GROUND), (GROUND_HALF, s.GROUND)], butt=True)
    for group in (-130, -88, 66, 100, 134):
        for step in range(4):
            x = group + step * 6
            pen.trace([(x - 1, s.GROUND - 3), (x - 13 + step, s.GROUND - 15 + step)], fine=True)


def _stake(pen: Pen) -> None:
    radius = s.STAKE_RADIUS
    body = [
        (-radius, s.SOCKET_BOTTOM),
        (-radius, s.POINT_TOP),
        (0.0, s.POINT_TIP),
        (radius, s.POINT_TOP),
        (radius, s.SOCKET_BOTTOM),
    ]
    pen.trace(body, closed=True)
    pen.trace([(-radius, s.POINT_TOP), (radius, s.POINT_TOP)])
    along = s.PLATE_HALF[1]
    pen.trace(box(-along, s.GROUND, along, s.PLATE_TOP), closed=True)
    for side in (-1, 1):
        weld = [(side * radius, s.PLATE_TOP + 5), (side * (radius + 5), s.PLATE_TOP)]
        pen.trace(weld)
        hole = side * s.DRAIN_RADIUS
        pen.trace([(hole, s.GROUND), (hole, s.PLATE_TOP)], broken=True)
    for x in (6.0, 4.2):
        pen.trace([(x, s.SOCKET_BOTTOM - 4 * (7 - x)), (x, s.PLATE_TOP + 8 + 5 * (6 - x))], fine=True)


def _socket(pen: Pen) -> None:
    along = s.SOCKET_HALF[1]
    pen.trace(box(-s.TONGUE_DEPTH, s.HINGE - s.FOOT_RADIUS, s.TONGUE_DEPTH, s.BAR[0]), closed=True)
    pen.trace(box(-along, s.SOCKET_BOTTOM, along, s.SOCKET_TOP), closed=True)
    foot = [
        (-s.TONGUE_DEPTH, s.SOCKET_TOP),
        (-s.TONGUE_DEPTH, s.HINGE - s.FOOT_RADIUS),
        (s.TONGUE_DEPTH, s.HINGE - s.FOOT_RADIUS),
        (s.TONGUE_DEPTH, s.SOCKET_TOP),
    ]
    pen.trace(foot, broken=True)
    for side in (-1, 1):
        edges = sorted((side * along, side * (along + 4)))
        pen.trace(box(edges[0], s.HINGE - s.HINGE_HEAD, edges[1], s.HINGE + s.HINGE_HEAD), closed=True)
        pen.trace(
            [(-along, s.HINGE + side * s.PIN_RADIUS), (along, s.HINGE + side * s.PIN_RADIUS)],
            broken=True,
        )
    pen.trace(box(-4, s.SLOT[0], 4, s.SLOT[1]), closed=True)
    pen.trace(box(-3, s.THUMB[0], 3, s.THUMB[1]), closed=True)


def _hose_and_roller(pen: Pen) -> None:
    """The hose passes behind the near rim, so that it is seen above the rim's edge as hidden."""
    radius = s.WAIST_RADIUS + s.HOSE_RADIUS
    slope = math.radians(26)
    half = [(radius * math.sin(t), radius * math.cos(t)) for t in (slope * step / 10 for step in range(11))]
    y, z = half[-1]
    fall = [(y + t * math.cos(slope), z - t * math.sin(slope) - t * t / 700) for t in range(5, 126, 5)]
    right = half + fall
    way = [(-y, z) for y, z in right[::-1]] + right[1:]
    upper, lower = beside(way, s.HOSE_RADIUS), beside(way, -s.HOSE_RADIUS)
    pen.patch(upper + lower[::-1])
    pen.trace(upper)
    pen.trace(lower)
    for end in (0, -1):
        pen.trace(break_line(upper[end], lower[end]))
    pen.circle((0, 0), s.ROLLER_RADIUS)
    rim = s.ROLLER_RADIUS
    for line in (upper, lower):
        pen.trace([point for point in line if math.hypot(*point) < rim], broken=True)
    pen.circle((0, 0), s.WAIST_RADIUS, broken=True)
    pen.circle((0, 0), rim - 4.5, fine=True, open_=True)


def _arm(pen: Pen) -> None:
    """The near arm hides the middle of the roller; cap and cross bar are seen on it."""
    width = s.ARM_WIDTH
    outline = [(-width, s.BAR[0]), (width, s.BAR[0]), *arc((0, 2), width, 0, 180)]
    pen.trace(outline, closed=True)
    pen.trace([(-width, s.BAR[1]), (width, s.BAR[1])])
    pen.circle((0, 0), s.CAP_RADIUS)
    pen.circle((0, 0), s.AXLE_RADIUS, broken=True)


def _characters(pen: Pen) -> None:
    pen.arrow_character("10", (-112, 66), (-66, 44))
    pen.character("24", (62, 62), (24, 34.6))
    pen.character("34", (-74, -44), (-s.CAP_RADIUS, -2))
    pen.character("26", (74, -40), (4.6, -2), -0.1)
    pen.character("28", (64, -58), (13.8, -15.8), -0.1)
    pen.character("20", (-66, -66), (-s.ARM_WIDTH, -48))
    pen.character("36", (120, 16), (104, -22), -0.12)
    pen.character("22", (64, -82), (s.SOCKET_HALF[1] + 4, s.HINGE - 1), -0.12)
    pen.character("18", (-64, -104), (-s.SOCKET_HALF[1], -112))
    pen.character("30", (64, -118), (2, s.THUMB[0] + 2), -0.1)
    pen.character("12", (-52, -176), (-s.STAKE_RADIUS, -184))
    pen.character("17", (60, -206), (4, s.PLATE_TOP - 3), 0.1)
    pen.character("16", (-76, -222), (-34, s.PLATE_TOP))
    pen.character("38", (128, -232), (112, s.GROUND), -0.12)
    pen.character("14", (54, -322), (3.6, -341))
