"""A canvas that keeps what the pen draws, so that other programs than a PDF library can make the sheets of it.

It has the methods of a reportlab canvas that `Pen` calls. Kept places are in cm from the top left corner.
"""

import math
from dataclasses import dataclass, field

from pen import PAGE_CM, POINTS_A_CM, Point


@dataclass(frozen=True)
class Stroke:
    """A line or an area; `width` in cm, `fill` whether it is filled white."""

    points: tuple[Point, ...]
    closed: bool
    width: float
    dashed: bool
    drawn: bool
    fill: bool


@dataclass(frozen=True)
class Letters:
    """Words centred at a place on their base line; `size` in points."""

    text: str
    at: Point
    size: float


@dataclass
class _Path:
    points: list[Point] = field(default_factory=list)
    closed: bool = False

    def moveTo(self, x: float, y: float) -> None:
        self.points.append((x, y))

    lineTo = moveTo

    def close(self) -> None:
        self.closed = True


class Sketch:
    """One sheet."""

    def __init__(self) -> None:
        self.items: list[Stroke | Letters] = []
        self._width = 0.0
        self._dashed = False
        self._size = 0.0

    def setLineWidth(self, points: float) -> None:
        """In points, as all that the pen hands over."""
        self._width = points / POINTS_A_CM

    def setDash(self, dash: list[float]) -> None:
        """Broken or not; which dashes is left to the program that makes the sheet."""
        self._dashed = bool(dash)

    def setFont(self, _name: str, size: float) -> None:
        """All letters are of one typeface."""
        self._size = size

    def setLineCap(self, _style: int) -> None:
        """All ends are alike here."""

    setLineJoin = setLineCap

    def setStrokeGray(self, _level: float) -> None:
        """Lines are black and areas white."""

    setFillGray = setStrokeGray

    def beginPath(self) -> _Path:
        """A new path."""
        return _Path()

    def drawPath(self, path: _Path, stroke: int, fill: int) -> None:
        """Keep the path."""
        points = tuple(_down(point) for point in path.points)
        self.items.append(Stroke(points, path.closed, self._width, self._dashed, bool(stroke), bool(fill)))

    def circle(self, x: float, y: float, radius: float, stroke: int, fill: int) -> None:
        """Keep a circle as a polygon."""
        turns = [math.radians(angle) for angle in range(0, 360, 5)]
        path = _Path([(x + radius * math.cos(t), y + radius * math.sin(t)) for t in turns], closed=True)
        self.drawPath(path, stroke, fill)

    def drawCentredString(self, x: float, y: float, text: str) -> None:
        """Keep the words."""
        self.items.append(Letters(text, _down((x, y)), self._size))


def _down(point: Point) -> Point:
    return point[0] / POINTS_A_CM, PAGE_CM[1] - point[1] / POINTS_A_CM
