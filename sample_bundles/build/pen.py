"""A pen for patent sheets: black lines of two widths, white fill, plain lettering.

Page measures are in cm from the top left corner of a Letter sheet. A figure is drawn in its own
units, x to the right and y upward; `Pen` places them on the page.
"""

import math
import subprocess
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

Point = tuple[float, float]

PAGE_CM: Final = (21.59, 27.94)
POINTS_A_CM: Final = 72 / 2.54
MAIN_CM: Final = 0.045
"""Width of outlines."""
FINE_CM: Final = 0.025
"""Width of lead lines, broken lines, hatching and shading."""
CHARACTER_POINTS: Final = 14
LABEL_POINTS: Final = 18
CAPITAL: Final = 0.688
"""Height of a digit of Liberation Sans as a share of the font size."""
FONT: Final = "LiberationSans"


def font_file(family: str) -> str:
    """Where this machine keeps the regular face of a font family."""
    answer = subprocess.run(
        ["fc-match", "-f", "%{file}", f"{family}:style=Regular:fontformat=TrueType"],
        check=True,
        capture_output=True,
        text=True,
    )
    return answer.stdout


def register_font() -> None:
    """Make the lettering font known; it is embedded as a subset."""
    pdfmetrics.registerFont(TTFont(FONT, font_file("Liberation Sans")))


@dataclass(frozen=True)
class Pen:
    """Draws one figure: `origin` is where the figure's (0, 0) falls, `scale` is cm a unit."""

    canvas: Canvas
    origin: Point
    scale: float

    def place(self, point: Point) -> Point:
        """From figure units to PDF points (from the bottom left corner)."""
        x_cm = self.origin[0] + point[0] * self.scale
        y_cm = self.origin[1] - point[1] * self.scale
        return x_cm * POINTS_A_CM, (PAGE_CM[1] - y_cm) * POINTS_A_CM

    def trace(
        self,
        points: Iterable[Point],
        *,
        closed: bool = False,
        fine: bool = False,
        broken: bool = False,
        butt: bool = False,
    ) -> None:
        """Draw a line through the points; a closed one is filled white and hides what is below."""
        self._style(fine=fine or broken, broken=broken, butt=butt)
        path = self.canvas.beginPath()
        for number, point in enumerate(points):
            (path.lineTo if number else path.moveTo)(*self.place(point))
        if closed:
            path.close()
        self.canvas.drawPath(path, stroke=1, fill=int(closed and not broken))

    def patch(self, points: Iterable[Point]) -> None:
        """Fill an area white without an outline."""
        path = self.canvas.beginPath()
        for number, point in enumerate(points):
            (path.lineTo if number else path.moveTo)(*self.place(point))
        path.close()
        self.canvas.setFillGray(1)
        self.canvas.drawPath(path, stroke=0, fill=1)

    def circle(
        self,
        center: Point,
        radius: float,
        *,
        fine: bool = False,
        broken: bool = False,
        open_: bool = False,
    ) -> None:
        """Draw a circle, filled white unless broken or open."""
        self._style(fine=fine or broken, broken=broken, butt=False)
        x, y = self.place(center)
        fill = int(not broken and not open_)
        self.canvas.circle(x, y, radius * self.scale * POINTS_A_CM, stroke=1, fill=fill)

    def character(self, text: str, at: Point, to: Point, bend: float = 0.12) -> None:
        """A reference character centred at a point, and a curved lead line to the part."""
        self._letters(text, at, CHARACTER_POINTS)
        self.trace(curve(self._lead_start(text, at, to), to, bend), fine=True)

    def arrow_character(self, text: str, at: Point, to: Point, bend: float = 0.12) -> None:
        """A reference character for the whole device: its lead line ends in a free arrow."""
        self.character(text, at, to, bend)
        line = list(curve(self._lead_start(text, at, to), to, bend))
        self.arrow_head(line[-3], line[-1])

    def arrow_head(self, before: Point, tip: Point) -> None:
        """An open arrow head of 0.3 cm at the end of a line."""
        angle = math.atan2(tip[1] - before[1], tip[0] - before[0])
        length = 0.3 / self.scale
        sides = [
            (tip[0] - length * math.cos(angle + turn), tip[1] - length * math.sin(angle + turn))
            for turn in (0.35, -0.35)
        ]
        self.trace([sides[0], tip, sides[1]], fine=True)

    def label(self, text: str, at: Point) -> None:
        """The label of a figure, centred at a point."""
        self._letters(text, at, LABEL_POINTS)

    def words(self, text: str, at: Point) -> None:
        """Words of a block, line below line, as high as reference characters, their middle at a point."""
        lines = text.split("\n")
        pitch = CHARACTER_POINTS * 1.2 / POINTS_A_CM / self.scale
        for number, line in enumerate(lines):
            self._letters(line, (at[0], at[1] + ((len(lines) - 1) / 2 - number) * pitch), CHARACTER_POINTS)

    def _lead_start(self, text: str, at: Point, to: Point) -> Point:
        """The point just beside the character from which its lead line starts."""
        gap = 0.12 / self.scale
        half_width = self._width(text, CHARACTER_POINTS) / 2 + gap
        half_height = CHARACTER_POINTS * CAPITAL / 2 / POINTS_A_CM / self.scale + gap
        dx, dy = to[0] - at[0], to[1] - at[1]
        if abs(dx) * half_height > abs(dy) * half_width:
            return at[0] + math.copysign(half_width, dx), at[1]
        return at[0], at[1] + math.copysign(half_height, dy)

    def _width(self, text: str, size: float) -> float:
        """Width of the text in figure units."""
        return float(pdfmetrics.stringWidth(text, FONT, size)) / POINTS_A_CM / self.scale

    def _letters(self, text: str, at: Point, size: float) -> None:
        x, y = self.place(at)
        self.canvas.setFillGray(0)
        self.canvas.setFont(FONT, size)
        self.canvas.drawCentredString(x, y - size * CAPITAL / 2, text)

    def _style(self, *, fine: bool, broken: bool, butt: bool) -> None:
        self.canvas.setLineWidth((FINE_CM if fine else MAIN_CM) * POINTS_A_CM)
        self.canvas.setLineCap(0 if butt or broken else 1)
        self.canvas.setLineJoin(1)
        self.canvas.setDash([5, 3] if broken else [])
        self.canvas.setStrokeGray(0)
        self.canvas.setFillGray(1)


def curve(start: Point, end: Point, bend: float) -> Sequence[Point]:
    """A slightly bent line; `bend` is the bulge as a share of the length, left side positive."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    middle = ((start[0] + end[0]) / 2 - dy * bend * 2, (start[1] + end[1]) / 2 + dx * bend * 2)
    steps = [step / 12 for step in range(13)]
    return [
        (
            (1 - t) ** 2 * start[0] + 2 * t * (1 - t) * middle[0] + t * t * end[0],
            (1 - t) ** 2 * start[1] + 2 * t * (1 - t) * middle[1] + t * t * end[1],
        )
        for t in steps
    ]


def arc(center: Point, radius: float, start: float, end: float) -> list[Point]:
    """Points of a circular arc between two angles in degrees, counter-clockwise from the right."""
    count = max(2, int(abs(end - start) / 4) + 1)
    turns = [math.radians(start + (end - start) * step / count) for step in range(count + 1)]
    return [(center[0] + radius * math.cos(t), center[1] + radius * math.sin(t)) for t in turns]


def box(left: float, bottom: float, right: float, top: float) -> list[Point]:
    """The corners of an upright rectangle."""
    return [(left, bottom), (right, bottom), (right, top), (left, top)]
