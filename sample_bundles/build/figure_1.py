"""FIG. 1: the whole hose guide in perspective, set in the ground."""

import math

import sizes as s
from pen import Pen, Point, curve
from solids import (
    Place,
    draw_block,
    draw_cone,
    draw_ring,
    draw_tube,
    hull,
    project,
    ring,
)


def draw_figure_1(pen: Pen) -> None:
    """Draw from the far and low parts to the near and high ones."""
    _below_ground(pen)
    _ground(pen)
    _foot_plate(pen)
    draw_cone(pen, (0, 0, s.PLATE_TOP), s.STAKE_RADIUS, (0, 0, s.SOCKET_BOTTOM), s.STAKE_RADIUS, "z")
    _stake_shading(pen)
    _hose(pen, behind=True)
    _socket(pen)
    _bracket_base(pen)
    _arm(pen, -1)
    _roller_far(pen)
    _hose(pen, behind=False)
    _roller_near(pen)
    _arm(pen, 1)
    _characters(pen)


def _below_ground(pen: Pen) -> None:
    """The hidden end of the stake, in broken lines."""
    sides = [project((0, 0, z)) for z in (s.GROUND, s.POINT_TOP, s.POINT_TIP)]
    for side in (-1, 1):
        edge = side * s.STAKE_RADIUS
        top, shoulder, tip = sides
        pen.trace([(top[0] + edge, top[1] - 20), (shoulder[0] + edge, shoulder[1])], broken=True)
        pen.trace([(shoulder[0] + edge, shoulder[1]), tip], broken=True)
    pen.trace(map(project, ring((0, 0, s.POINT_TOP), s.STAKE_RADIUS, "z")), closed=True, broken=True)


def _ground(pen: Pen) -> None:
    """Short strokes of grass round the foot plate."""
    spots: list[Place] = [
        (-95, -30, 0),
        (-104, 22, 0),
        (-70, 66, 0),
        (-20, 74, 0),
        (48, 70, 0),
        (92, 30, 0),
        (100, -22, 0),
        (84, -50, 0),
        (-16, -72, 0),
        (-52, -70, 0),
        (-84, -64, 0),
        (104, 66, 0),
        (118, -60, 0),
        (-128, -10, 0),
        (-62, -104, 0),
        (-8, -112, 0),
    ]
    for number, (x, y, _) in enumerate(spots):
        foot = project((x, y, s.GROUND))
        for lean, height in ((-5, 7), (-1, 10), (4, 8 + number % 3)):
            blade = curve((foot[0] + lean * 0.6, foot[1]), (foot[0] + lean * 1.6, foot[1] + height), 0.08)
            pen.trace(blade, fine=True)


def _foot_plate(pen: Pen) -> None:
    across, along = s.PLATE_HALF
    draw_block(pen, (-across, -along, s.GROUND), (across, along, s.PLATE_TOP))
    for x in (-s.DRAIN_AT, s.DRAIN_AT):
        draw_ring(pen, (x, 0, s.PLATE_TOP), s.DRAIN_RADIUS, "z")
        rim = [project(place) for place in ring((x, 0, s.PLATE_TOP - 4), s.DRAIN_RADIUS, "z")]
        pen.trace([point for point in rim if _inside_hole(point, x)], fine=True)
    weld = [project(place) for place in ring((0, 0, s.PLATE_TOP), s.STAKE_RADIUS + 4, "z")]
    pen.trace(weld, closed=True, fine=True)


def _inside_hole(point: Point, x: float) -> bool:
    """Whether the far lower edge of a drain hole is seen through it."""
    middle = project((x, 0, s.PLATE_TOP))
    flat = math.sin(math.radians(24))
    dx, dy = point[0] - middle[0], (point[1] - middle[1]) / flat
    return math.hypot(dx, dy) < s.DRAIN_RADIUS and point[1] > middle[1] - 3.2


def _stake_shading(pen: Pen) -> None:
    """Thin lines on the shade side of the stake."""
    top, bottom = project((0, 0, s.SOCKET_BOTTOM))[1], project((0, 0, s.PLATE_TOP))[1]
    for x, start, end in ((6.4, 6, 3), (4.6, 18, 14), (2.4, 44, 40)):
        pen.trace([(x, top - start), (x, bottom + end)], fine=True)


def _socket(pen: Pen) -> None:
    """The socket with its open top, the hinge pin's head, the slot and the thumb piece."""
    across, along = s.SOCKET_HALF
    wall = s.SOCKET_WALL
    draw_block(pen, (-across, -along, s.SOCKET_BOTTOM), (across, along, s.SOCKET_TOP))
    mouth: list[Place] = [
        (-across + wall, -along + wall, s.SOCKET_TOP),
        (across - wall, -along + wall, s.SOCKET_TOP),
        (across - wall, along - wall, s.SOCKET_TOP),
        (-across + wall, along - wall, s.SOCKET_TOP),
    ]
    pen.trace(map(project, mouth), closed=True)
    draw_cone(pen, (0, -along, s.HINGE), s.HINGE_HEAD, (0, -along - 3, s.HINGE), s.HINGE_HEAD, "y")
    low, high = s.SLOT
    slot: list[Place] = [(across, -4, low), (across, 4, low), (across, 4, high), (across, -4, high)]
    pen.trace(map(project, slot), closed=True)
    draw_block(pen, (across, -3, s.THUMB[0]), (across + 13, 3, s.THUMB[1]))


def _bracket_base(pen: Pen) -> None:
    """The tongue that reaches into the socket, and the cross bar."""
    depth, half = s.TONGUE_DEPTH, s.TONGUE_HALF
    front = s.SOCKET_HALF[1] - s.SOCKET_WALL
    draw_block(pen, (-half, -depth, s.SOCKET_TOP - 3), (half, depth, s.BAR[0]))
    lip: list[Place] = [
        (-s.SOCKET_HALF[0], -s.SOCKET_HALF[1], s.SOCKET_TOP),
        (s.SOCKET_HALF[0], -s.SOCKET_HALF[1], s.SOCKET_TOP),
        (s.SOCKET_HALF[0] - s.SOCKET_WALL, -front, s.SOCKET_TOP),
        (-s.SOCKET_HALF[0] + s.SOCKET_WALL, -front, s.SOCKET_TOP),
    ]
    pen.patch(map(project, lip))
    pen.trace(map(project, lip[:2]))
    pen.trace(map(project, lip[2:]))
    draw_block(pen, (-s.ARM[1], -s.ARM_WIDTH, s.BAR[0]), (s.ARM[1], s.ARM_WIDTH, s.BAR[1]))


def _arm(pen: Pen, side: int) -> None:
    """One arm with its rounded top, the end of the axle and the cap."""
    inner, outer = sorted((side * s.ARM[0], side * s.ARM[1]))
    width, top = s.ARM_WIDTH, 2.0
    face = {
        x: [project((x, -width, s.BAR[0])), project((x, width, s.BAR[0]))]
        + [project((x, y, z)) for _, y, z in ring((x, 0, top), width, "x") if z >= top]
        for x in (inner, outer)
    }
    if side < 0:
        _cap(pen, -s.CAP[1], -s.CAP[0])
    pen.trace(hull(face[inner] + face[outer]), closed=True)
    pen.trace(hull(face[outer]), closed=True)
    if side > 0:
        _cap(pen, *s.CAP)
    else:
        draw_cone(pen, (inner, 0, 0), s.AXLE_RADIUS, (-s.ROLLER_HALF, 0, 0), s.AXLE_RADIUS, "x")


def _cap(pen: Pen, far: float, near: float) -> None:
    draw_cone(pen, (far, 0, 0), s.CAP_RADIUS, (near, 0, 0), s.CAP_RADIUS, "x")
    if near > 0:
        draw_ring(pen, (near, 0, 0), s.CAP_RADIUS - 2.5, "x", fine=True)


def _roller_far(pen: Pen) -> None:
    """The far rim, the slope down from it, and the waist."""
    inside = s.ROLLER_HALF - s.RIM
    draw_cone(pen, (-s.ROLLER_HALF, 0, 0), s.ROLLER_RADIUS, (-inside, 0, 0), s.ROLLER_RADIUS, "x")
    draw_ring(pen, (-s.WAIST_HALF, 0, 0), s.WAIST_RADIUS, "x", fine=True)
    draw_cone(pen, (-s.WAIST_HALF, 0, 0), s.WAIST_RADIUS, (s.WAIST_HALF, 0, 0), s.WAIST_RADIUS, "x")


def _roller_near(pen: Pen) -> None:
    """The slope up to the near rim, and the near rim with the axle."""
    inside = s.ROLLER_HALF - s.RIM
    draw_cone(pen, (s.WAIST_HALF, 0, 0), s.WAIST_RADIUS, (inside, 0, 0), s.ROLLER_RADIUS, "x")
    draw_cone(pen, (inside, 0, 0), s.ROLLER_RADIUS, (s.ROLLER_HALF, 0, 0), s.ROLLER_RADIUS, "x")
    draw_ring(pen, (s.ROLLER_HALF, 0, 0), s.ROLLER_RADIUS - 9, "x", fine=True)
    draw_cone(pen, (s.ROLLER_HALF, 0, 0), s.AXLE_RADIUS, (s.ARM[0], 0, 0), s.AXLE_RADIUS, "x")


def _hose(pen: Pen, *, behind: bool) -> None:
    """The hose over the roller: the part that falls away behind, or the rest."""
    radius = s.WAIST_RADIUS + s.HOSE_RADIUS
    slope = math.radians(28)
    if behind:
        start = (radius * math.sin(slope), radius * math.cos(slope))
        way = [
            (0.0, start[0] + t * math.cos(slope), start[1] - t * math.sin(slope) - t * t / 900)
            for t in range(0, 118, 6)
        ]
    else:
        over = [math.pi / 2 - slope + step * (2 * slope) / 16 for step in range(17)]
        start = (radius * math.sin(slope), radius * math.cos(slope))
        way = [(0.0, start[0] + t * math.cos(slope), start[1] - t * math.sin(slope) - t * t / 900) for t in (12, 6)]
        way += [(0.0, radius * math.cos(t), radius * math.sin(t)) for t in over]
        _, y, z = way[-1]
        way += [(0.0, y - t * math.cos(slope), z - t * math.sin(slope) - t * t / 900) for t in range(6, 100, 6)]
    draw_tube(pen, way, s.HOSE_RADIUS)


def _characters(pen: Pen) -> None:
    def at(x: float, y: float, z: float) -> Point:
        return project((x, y, z))

    pen.arrow_character("10", (-108, 62), (-80, 38))
    pen.character("24", (24, 86), (27.6, 36.4))
    pen.character("28", (-46, 82), (-26, 26))
    pen.character("26", (76, 58), at(27.5, 0, 3))
    pen.character("34", (96, -34), at(s.CAP[1] - 2, 7, -5), -0.12)
    pen.character("36", (-116, -26), (-52, -38))
    pen.character("20", (92, -62), at(s.ARM[1], 4, -34), -0.12)
    pen.character("18", (-76, -124), at(-14, -s.SOCKET_HALF[1], -118))
    pen.character("22", (-76, -96), at(-3, -20, s.HINGE))
    pen.character("30", (82, -104), at(s.SOCKET_HALF[0] + 12, 2, s.THUMB[1]))
    pen.character("12", (-52, -172), (-s.STAKE_RADIUS, -184))
    pen.character("17", (82, -170), at(s.DRAIN_AT, 3, s.PLATE_TOP - 1))
    pen.character("16", (-104, -186), at(-50, 12, s.PLATE_TOP))
    pen.character("38", (124, -216), (104, -246), -0.12)
    pen.character("14", (46, -322), (4.4, -308))
