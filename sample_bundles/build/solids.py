"""Simple solids in parallel projection: outlines only, nearer ones drawn over farther ones.

Measures are the hose guide's own: x along the axle, y along the hose, z upward, in units of about
a millimetre, with the axle at (0, 0, 0).
"""

import math
from collections.abc import Iterable
from typing import Final

from pen import Pen, Point

Place = tuple[float, float, float]
Direction = tuple[Place, Place]

TURN: Final = math.radians(35)
"""How far the eye stands to the right of the front."""
RISE: Final = math.radians(24)
"""How far the eye stands above the level."""
ROUND: Final = 72


def project(place: Place) -> Point:
    """Where a place of the device appears in the figure."""
    x, y, z = place
    across = x * math.cos(TURN) + y * math.sin(TURN)
    depth = -x * math.sin(TURN) + y * math.cos(TURN)
    return across, depth * math.sin(RISE) + z * math.cos(RISE)


def hull(points: Iterable[Point]) -> list[Point]:
    """The convex outline of points, counter-clockwise."""
    ordered = sorted(set(points))
    return _half_hull(ordered)[:-1] + _half_hull(ordered[::-1])[:-1]


def _half_hull(points: list[Point]) -> list[Point]:
    chain: list[Point] = []
    for point in points:
        while len(chain) > 1 and _turn(chain[-2], chain[-1], point) <= 0:
            chain.pop()
        chain.append(point)
    return chain


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def ring(center: Place, radius: float, axis: str) -> list[Place]:
    """Places round a circle whose axis is "x", "y" or "z"."""
    turns = [2 * math.pi * step / ROUND for step in range(ROUND)]
    x, y, z = center
    wave = [(radius * math.cos(turn), radius * math.sin(turn)) for turn in turns]
    if axis == "x":
        return [(x, y + c, z + s) for c, s in wave]
    if axis == "y":
        return [(x + c, y, z + s) for c, s in wave]
    return [(x + c, y + s, z) for c, s in wave]


def draw_ring(pen: Pen, center: Place, radius: float, axis: str, *, fine: bool = False) -> None:
    """A circle on a surface, filled white."""
    pen.trace(map(project, ring(center, radius, axis)), closed=True, fine=fine)


def draw_cone(
    pen: Pen,
    far: Place,
    far_radius: float,
    near: Place,
    near_radius: float,
    axis: str,
    *,
    broken: bool = False,
) -> None:
    """A cylinder or truncated cone between two circles, with its near end."""
    near_end = [project(place) for place in ring(near, near_radius, axis)]
    far_end = [project(place) for place in ring(far, far_radius, axis)]
    pen.trace(hull(far_end + near_end), closed=True, broken=broken)
    if not broken:
        pen.trace(near_end, closed=True)


def draw_block(pen: Pen, low: Place, high: Place) -> None:
    """An upright block with its three visible faces (front, right, top)."""
    (x0, y0, z0), (x1, y1, z1) = low, high
    corners = [(x, y, z) for x in (x0, x1) for y in (y0, y1) for z in (z0, z1)]
    pen.trace(hull(map(project, corners)), closed=True)
    nearest = project((x1, y0, z1))
    for other in ((x0, y0, z1), (x1, y1, z1), (x1, y0, z0)):
        pen.trace([nearest, project(other)])


def draw_tube(pen: Pen, places: list[Place], radius: float) -> None:
    """A bent round tube along the places, with a break line at the last one."""
    way = [project(place) for place in places]
    left, right = beside(way, radius), beside(way, -radius)
    pen.patch(left + right[::-1])
    pen.trace(left)
    pen.trace(right)
    pen.trace(break_line(left[-1], right[-1]))


def beside(way: list[Point], distance: float) -> list[Point]:
    """The way moved sideways to its left by a distance."""
    moved: list[Point] = []
    for number, (x, y) in enumerate(way):
        before, after = way[max(0, number - 1)], way[min(len(way) - 1, number + 1)]
        dx, dy = after[0] - before[0], after[1] - before[1]
        length = math.hypot(dx, dy)
        moved.append((x - dy / length * distance, y + dx / length * distance))
    return moved


def break_line(start: Point, end: Point) -> list[Point]:
    """An S-shaped line that shows that a part goes on."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    steps = [step / 24 for step in range(25)]
    return [
        (
            start[0] + dx * t - dy * 0.22 * math.sin(2 * math.pi * t),
            start[1] + dy * t + dx * 0.22 * math.sin(2 * math.pi * t),
        )
        for t in steps
    ]
