"""The drawings: three Letter sheets, made with a PDF library."""

from collections.abc import Callable
from pathlib import Path
from typing import Final

from figure_1 import draw_figure_1
from figure_2 import draw_figure_2
from figure_3 import draw_figure_3
from figure_4 import draw_figure_4
from matter import DOCKET, DRAWING_SHEETS, INVENTOR, TITLE
from normalising import normalise
from pen import CAPITAL, FONT, LABEL_POINTS, PAGE_CM, POINTS_A_CM, Pen, register_font
from reportlab.pdfgen.canvas import Canvas

IDENTIFICATION_POINTS: Final = 10
IDENTIFICATION_CM: Final = 1.2
"""Distance of the identification line from the top edge."""
SHEET_NUMBER_CM: Final = 2.75
"""Distance of the top of the sheet number from the top edge."""

DrawSheet = Callable[[Canvas, float], None]


def identification(title: str = TITLE, docket: str = DOCKET) -> str:
    """The line in the top margin of every sheet."""
    return f"{title}    {INVENTOR}    Docket No. {docket}"


def build_drawings(
    target: Path,
    *,
    line: str | None = None,
    total: int = DRAWING_SHEETS,
    shifts: tuple[float, float, float] = (0, 0, 0),
    second: DrawSheet | None = None,
) -> None:
    """Write the sheets: `shifts` moves each figure right (cm); `second` replaces sheet 2."""
    register_font()
    width, height = (side * POINTS_A_CM for side in PAGE_CM)
    canvas = Canvas(str(target), pagesize=(width, height), initialFontName=FONT, invariant=1)
    sheets: list[DrawSheet] = [draw_sheet_1, second or draw_sheet_2, draw_sheet_3]
    for number, (draw, shift) in enumerate(zip(sheets, shifts, strict=True), start=1):
        draw_head(canvas, line or identification(), f"{number}/{total}")
        draw(canvas, shift)
        canvas.showPage()
    canvas.save()
    normalise(target, "ReportLab")


def draw_head(canvas: Canvas, line: str, sheet_number: str, middle: float = PAGE_CM[0] / 2) -> None:
    """Identification in the top margin; sheet number at the top inside the sight; `middle` of the sheet in cm."""
    canvas.setFillGray(0)
    canvas.setFont(FONT, IDENTIFICATION_POINTS)
    canvas.drawCentredString(middle * POINTS_A_CM, (PAGE_CM[1] - IDENTIFICATION_CM) * POINTS_A_CM, line)
    canvas.setFont(FONT, LABEL_POINTS)
    top = (PAGE_CM[1] - SHEET_NUMBER_CM) * POINTS_A_CM
    canvas.drawCentredString(middle * POINTS_A_CM, top - LABEL_POINTS * CAPITAL, sheet_number)


def draw_sheet_1(canvas: Canvas, shift: float) -> None:
    """FIG. 1 alone; `shift` in cm to the right."""
    draw_figure_1(Pen(canvas, (11.2 + shift, 9.0), 0.0500))
    Pen(canvas, (11.2 + shift, 26.2), 1).label("FIG. 1", (0, 0))


def draw_sheet_2(canvas: Canvas, shift: float) -> None:
    """FIG. 2 alone; `shift` in cm to the right."""
    draw_figure_2(Pen(canvas, (11.2 + shift, 8.0), 0.0480))
    Pen(canvas, (11.2 + shift, 26.2), 1).label("FIG. 2", (0, 0))


def draw_sheet_3(canvas: Canvas, shift: float) -> None:
    """FIG. 3 above FIG. 4; `shift` in cm to the right."""
    draw_figure_3(Pen(canvas, (11.2 + shift, 8.1), 0.0580))
    Pen(canvas, (11.2 + shift, 15.1), 1).label("FIG. 3", (0, 0))
    draw_figure_4(Pen(canvas, (11.2 + shift, 12.3), 0.0820))
    Pen(canvas, (11.2 + shift, 26.3), 1).label("FIG. 4", (0, 0))
