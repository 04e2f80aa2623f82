"""The figures of the watering timer: block diagram, leaf sensor, flow chart. One unit is 1 cm."""

from pen import Pen, Point, arc, box
from solids import beside

LEAD = 0.45
"""How far a reference character stands off the corner of its block."""


def block(
    pen: Pen, middle: Point, half: Point, text: str, number: str, *, left: bool = False, above: bool = False
) -> None:
    """A rectangle with words, and its reference character at the upper right (or left) corner, or above it."""
    x, y = middle
    pen.trace(box(x - half[0], y - half[1], x + half[0], y + half[1]), closed=True)
    pen.words(text, middle)
    if above:
        pen.character(number, (x + 1.1, y + half[1] + 0.75), (x + 0.4, y + half[1]))
        return
    side = -1 if left else 1
    pen.character(number, (x + side * (half[0] + LEAD), y + half[1] + LEAD), (x + side * (half[0] - 0.3), y + half[1]))


def arrow(pen: Pen, *points: Point) -> None:
    """A line through the points with a head at its end."""
    pen.trace(points, fine=True)
    pen.arrow_head(points[-2], points[-1])


def draw_block_diagram(pen: Pen) -> None:
    """FIG. 1."""
    pen.trace(box(-6.8, -7.8, 6.8, 7.0), closed=True, broken=True)
    pen.character("102", (-5.2, 7.8), (-5.8, 7.0))
    pen.arrow_character("100", (3.4, 8.6), (2.2, 7.3))
    block(pen, (0, 0), (2.1, 0.9), "CONTROLLER", "110")
    block(pen, (-4.4, 4.6), (1.6, 0.7), "MEMORY", "112")
    block(pen, (0, 4.6), (1.5, 0.7), "CLOCK", "114")
    block(pen, (4.4, 4.6), (1.6, 0.7), "DISPLAY", "116", above=True)
    block(pen, (-4.8, 0), (1.3, 0.7), "KEYS", "118", above=True)
    block(pen, (4.6, 0), (1.8, 0.7), "OSCILLATOR", "126", above=True)
    block(pen, (0, -3.6), (1.7, 0.9), "VALVE\nDRIVER", "120")
    block(pen, (-4.6, -3.6), (1.6, 0.7), "BATTERY", "124", above=True)
    block(pen, (0, -6.6), (1.4, 0.6), "VALVE", "122")
    block(pen, (-4.6, -9.4), (1.2, 0.6), "TAP", "150")
    block(pen, (4.6, -9.4), (1.2, 0.6), "HOSE", "152", left=True)
    block(pen, (8.3, -2.8), (1.3, 0.9), "LEAF\nSENSOR", "130", above=True)
    pen.trace([(-4.4, 3.9), (-4.4, 2.2), (-1.2, 2.2), (-1.2, 0.9)], fine=True)
    pen.trace([(0, 3.9), (0, 0.9)], fine=True)
    pen.trace([(4.4, 3.9), (4.4, 2.2), (1.2, 2.2), (1.2, 0.9)], fine=True)
    arrow(pen, (-3.5, 0), (-2.1, 0))
    arrow(pen, (2.8, 0), (2.1, 0))
    arrow(pen, (0, -0.9), (0, -2.7))
    arrow(pen, (0, -4.5), (0, -6.0))
    arrow(pen, (-3.0, -3.6), (-1.7, -3.6))
    arrow(pen, (-4.6, -8.8), (-4.6, -6.6), (-1.4, -6.6))
    arrow(pen, (1.4, -6.6), (4.6, -6.6), (4.6, -8.8))
    pen.trace([(6.4, 0), (8.3, 0), (8.3, -1.9)], fine=True)
    pen.character("132", (8.3, 1.0), (7.4, 0))


def draw_leaf_sensor(pen: Pen) -> None:
    """FIG. 2."""
    upper = [point for point in arc((0.0, -6.6), 10.7, 39, 141)]
    lower = [(x, -y) for x, y in upper[::-1]]
    pen.trace([*upper, *lower], closed=True)
    pen.trace(box(-5.6, -3.2, 4.6, 3.2), closed=True)
    for up in (1, -1):
        pen.trace([(x, up * y) for x, y in comb(-5.0 if up > 0 else -4.3)], closed=True)
    pen.trace(box(3.9, -1.2, 6.3, 1.2), closed=True)
    pen.trace([(4.5, -1.2), (4.5, 1.2)], fine=True)
    for side in (-0.18, 0.18):
        pen.trace(beside([(6.3, 0), (7.4, 0.1), (8.4, 0.8), (8.8, 1.8)], side), fine=True)
    pen.character("130", (-4.6, 6.2), (-4.2, 3.2))
    pen.character("134", (2.6, 6.0), (2.0, 3.0))
    pen.character("136", (-0.8, 6.4), (-1.4, 2.5))
    pen.character("138", (-0.8, -6.2), (-1.2, -2.5))
    pen.character("140", (6.4, 3.4), (5.6, 1.2))
    pen.character("132", (8.6, -1.4), (7.6, 0.1))
    pen.character("154", (-7.4, 3.6), (-6.7, 1.9))


def comb(left: float) -> list[Point]:
    """The outline of the upper comb: a bar, and six fingers downward from `left` on, 0.4 wide."""
    outline: list[Point] = [(-5.2, 2.8)]
    for finger in range(6):
        x = left + 1.4 * finger
        outline += [(x, 2.2), (x, -1.7), (x + 0.4, -1.7), (x + 0.4, 2.2)]
    outline[0:1] = [(-5.2, 2.8), (-5.2, 2.2)]
    return [*outline, (3.6, 2.2), (3.6, 2.8)]


def rounded(pen: Pen, middle: Point, half: Point, text: str) -> None:
    """The start or end of a flow chart."""
    x, y = middle
    right = arc((x + half[0] - half[1], y), half[1], -90, 90)
    left = arc((x - half[0] + half[1], y), half[1], 90, 270)
    pen.trace([*right, *left], closed=True)
    pen.words(text, middle)


def draw_flow_chart(pen: Pen) -> None:
    """FIG. 3."""
    rounded(pen, (0, 9.4), (3.1, 0.7), "SET HOUR REACHED")
    pen.character("200", (3.9, 10.2), (2.9, 9.7))
    block(pen, (0, 6.6), (2.8, 0.9), "COUNT FREQUENCY\nOF OSCILLATOR", "202", left=True)
    pen.trace([(0, 5.0), (3.0, 3.4), (0, 1.8), (-3.0, 3.4)], closed=True)
    pen.words("LEAF WET?", (0, 3.4))
    pen.character("204", (-2.9, 4.9), (-1.7, 4.1))
    block(pen, (6.4, 3.4), (2.1, 0.9), "ADD MINUTES\nTO ACCOUNT", "206", left=True)
    block(pen, (6.4, 6.6), (1.4, 0.7), "WAIT", "208")
    block(pen, (0, 0), (2.4, 0.7), "OPEN VALVE", "210")
    block(pen, (0, -2.8), (3.1, 0.9), "CLOSE VALVE AND\nCORRECT ACCOUNT", "212")
    block(pen, (0, -5.6), (2.9, 0.7), "STORE DRY VALUE", "214")
    rounded(pen, (0, -8.2), (1.3, 0.7), "END")
    for top, bottom in ((8.7, 7.5), (5.7, 5.0), (1.8, 0.7), (-0.7, -1.9), (-3.7, -4.9), (-6.3, -7.5)):
        arrow(pen, (0, top), (0, bottom))
    arrow(pen, (3.0, 3.4), (4.3, 3.4))
    arrow(pen, (6.4, 4.3), (6.4, 5.9))
    arrow(pen, (5.0, 6.6), (2.8, 6.6))
    pen.words("YES", (3.6, 2.9))
    pen.words("NO", (0.7, 1.3))
