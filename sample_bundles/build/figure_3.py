"""FIG. 3: roller and tilt bracket enlarged, from the front."""

import sizes as s
from pen import Pen, Point, arc, box
from solids import break_line

BREAK = -100.0
"""Height at which the socket is broken off."""


def draw_figure_3(pen: Pen) -> None:
    """Draw from the far parts to the near ones, then the characters."""
    _bracket(pen)
    _socket(pen)
    _axle(pen)
    _roller(pen)
    _hose(pen)
    _swing(pen)
    _characters(pen)


def _bracket(pen: Pen) -> None:
    """The strip: tongue, cross bar and two arms, with rounded inner corners."""
    inner, outer = s.ARM
    top = s.ARM_WIDTH + 2
    half = s.TONGUE_HALF
    outline: list[Point] = [(-half, s.HINGE), (half, s.HINGE), (half, s.BAR[0])]
    outline += arc((outer - 6, s.BAR[0] + 6), 6, 270, 360)
    outline += [(outer, top), (inner, top)]
    outline += arc((inner - 4, s.BAR[1] + 4), 4, 360, 270)
    outline += arc((-inner + 4, s.BAR[1] + 4), 4, 270, 180)
    outline += [(-inner, top), (-outer, top)]
    outline += arc((-outer + 6, s.BAR[0] + 6), 6, 180, 270)
    outline += [(-half, s.BAR[0])]
    pen.trace(outline, closed=True)


def _socket(pen: Pen) -> None:
    """The upper end of the socket, broken off below the hinge pin."""
    across = s.SOCKET_HALF[0]
    foot = break_line((-across, BREAK), (across, BREAK))
    small = [(x, BREAK + (y - BREAK) * 0.35) for x, y in foot]
    pen.patch([*small, (across, s.SOCKET_TOP), (-across, s.SOCKET_TOP)])
    pen.trace(small)
    pen.trace([small[0], (-across, s.SOCKET_TOP), (across, s.SOCKET_TOP), small[-1]])
    half = s.TONGUE_HALF
    for side in (-1, 1):
        pen.trace([(side * half, s.SOCKET_TOP), (side * half, s.HINGE + 12)], broken=True)
        foot = arc((0, s.HINGE), s.FOOT_RADIUS, 44, -34)
        pen.trace([(side * x, y) for x, y in foot], broken=True)
    pen.circle((0, s.HINGE), s.HINGE_HEAD)


def _axle(pen: Pen) -> None:
    """The axle through both arms (hidden in the roller), and a cap on each end."""
    radius = s.AXLE_RADIUS
    for side in (-1, 1):
        bits = ((s.ROLLER_HALF, s.ARM[0]), (s.ARM[1], s.CAP[0]))
        for start, end in bits:
            low, high = sorted((side * start, side * end))
            pen.trace(box(low, -radius, high, radius), closed=True)
        low, high = sorted((side * s.CAP[0], side * s.CAP[1]))
        pen.trace(box(low, -s.CAP_RADIUS, high, s.CAP_RADIUS), closed=True)
        for edge in (-radius, radius):
            pen.trace([(side * s.ARM[0], edge), (side * s.ARM[1], edge)], broken=True)


def _roller(pen: Pen) -> None:
    """Two rims and the groove between them; the hidden axle in broken lines."""
    end, rim, radius = s.ROLLER_HALF, s.ROLLER_HALF - s.RIM, s.ROLLER_RADIUS
    waist, half = s.WAIST_RADIUS, s.WAIST_HALF
    upper: list[Point] = [
        (end, radius),
        (rim, radius),
        (half, waist),
        (-half, waist),
        (-rim, radius),
        (-end, radius),
    ]
    lower = [(x, -y) for x, y in upper[::-1]]
    pen.trace(upper + lower, closed=True)
    for side in (-1, 1):
        pen.trace([(side * rim, -radius), (side * rim, radius)])
        pen.trace([(side * half, -waist), (side * half, waist)], fine=True)
        pen.trace([(-end, side * s.AXLE_RADIUS), (end, side * s.AXLE_RADIUS)], broken=True)
    for step, y in enumerate((-19.0, -17.0, -14.4)):
        pen.trace([(-half + 1.4, y), (half - 1.4 - step, y)], fine=True)


def _hose(pen: Pen) -> None:
    """The hose in the groove, cut across, with hatching on the cut."""
    center = (0.0, s.WAIST_RADIUS + s.HOSE_RADIUS)
    bore = s.HOSE_RADIUS - 3.2
    pen.circle(center, s.HOSE_RADIUS)
    for shift in range(-12, 13, 2):
        _hatch(pen, center, shift)
    pen.circle(center, bore)


def _hatch(pen: Pen, center: Point, shift: float) -> None:
    """One oblique hatching line across the cut hose; the bore is drawn over it."""
    radius = s.HOSE_RADIUS
    if abs(shift) >= radius:
        return
    reach = (radius**2 - shift**2) ** 0.5 / 2**0.5
    middle = (center[0] + shift / 2**0.5, center[1] - shift / 2**0.5)
    pen.trace([(middle[0] - reach, middle[1] - reach), (middle[0] + reach, middle[1] + reach)], fine=True)


def _swing(pen: Pen) -> None:
    """The curved double arrow: the way of the tilt bracket about the hinge pin."""
    way = arc((0, s.HINGE), 148, 74, 106)
    pen.trace(way, fine=True)
    pen.arrow_head(way[1], way[0])
    pen.arrow_head(way[-2], way[-1])


def _characters(pen: Pen) -> None:
    pen.character("24", (-58, 46), (-s.ROLLER_HALF + 1.5, 38), -0.12)
    pen.character("36", (54, 52), (6.6, 36.2), 0.12)
    pen.character("28", (64, 28), (14.6, 32.4), 0.1)
    pen.character("34", (72, 2), (s.CAP[1], 0), 0.12)
    pen.character("26", (-70, -22), (-s.ARM[1] - 1, -s.AXLE_RADIUS), -0.12)
    pen.character("20", (64, -36), (s.ARM[1], -42), -0.12)
    pen.character("22", (-58, -76), (-4.6, s.HINGE + 1), -0.1)
    pen.character("18", (56, -88), (s.SOCKET_HALF[0], -90), 0.12)
