"""Input of the benchmarks: text sheets and vector drawing sheets with real text, the same bytes on every machine."""

from __future__ import annotations

import math
import random
from pathlib import Path

import reportlab
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

CM = 72 / 2.54
WIDTH, HEIGHT = 21.59 * CM, 27.94 * CM
FONT = "Vera"
"""It comes with reportlab, so that no machine draws another one."""
LINES = 25
WORDS = (
    "lever roller guide hose frame spring pin band clamp tilts turns holds carries moves lifts rests slides against"
    " towards between the a one second further each which that when as in of with by is may be thus so"
)
SOLIDS = 14
"""Parts on a drawing sheet; with hatching and lead lines they make nearly a thousand strokes."""


def text_sheets(path: Path, pages: int) -> None:
    """Double-spaced description: header with docket number, paragraph numbers, page number, embedded font."""
    words = WORDS.split()
    canvas, chance = _canvas(path), random.Random(417)  # noqa: S311 - the same on every run
    for number in range(1, pages + 1):
        canvas.setFont(FONT, 11)
        canvas.drawRightString(WIDTH - 2 * CM, HEIGHT - 1.5 * CM, "Docket No. DEMO-0417")
        for line in range(LINES):
            said = " ".join(chance.choice(words) for _ in range(13))
            start = f"[{number * 5 + line // 5:04}] " if line % 5 == 0 else ""
            canvas.drawString(2.6 * CM, HEIGHT - (2.9 + line * 0.9) * CM, (start + said)[:78])
        canvas.drawCentredString(WIDTH / 2, 1.5 * CM, str(number))
        canvas.showPage()
    canvas.save()


def drawing_sheets(path: Path, pages: int) -> None:
    """Outlines, circles and hatching in black lines, with numerals, lead lines, figure label and sheet number."""
    canvas, chance = _canvas(path), random.Random(418)  # noqa: S311 - as above
    for number in range(1, pages + 1):
        canvas.setFont(FONT, 12)
        canvas.drawCentredString(WIDTH / 2, HEIGHT - 1.4 * CM, "GARDEN HOSE GUIDE WITH TILTING ROLLER  DEMO-0417")
        canvas.drawCentredString(WIDTH / 2, HEIGHT - 3.1 * CM, f"{number}/{pages}")
        for solid in range(SOLIDS):
            _solid(canvas, chance, 4 + solid % 3 * 5, 5 + solid // 3 * 4, 10 + 2 * solid)
        canvas.drawCentredString(WIDTH / 2, 1.6 * CM, f"FIG. {number}")
        canvas.showPage()
    canvas.save()


def _solid(canvas: Canvas, chance: random.Random, left: float, bottom: float, numeral: int) -> None:
    """One part about 3.5 cm wide: an outline with many corners, a hatched section, a bore, a numeral."""
    middle = ((left + 1.8) * CM, (bottom + 1.6) * CM)
    canvas.setLineWidth(0.045 * CM)
    outline = canvas.beginPath()
    for corner in range(40):
        angle, reach = corner * math.tau / 40, (1.3 + 0.2 * chance.random()) * CM
        point = (middle[0] + reach * math.cos(angle), middle[1] + reach * math.sin(angle))
        (outline.lineTo if corner else outline.moveTo)(*point)
    outline.close()
    canvas.drawPath(outline)
    canvas.circle(*middle, 0.35 * CM)
    canvas.setLineWidth(0.025 * CM)
    for line in range(24):
        across = (line - 12) * 0.07 * CM
        canvas.line(middle[0] + across, middle[1] + 0.45 * CM, middle[0] + across + 0.3 * CM, middle[1] + 0.9 * CM)
    canvas.line(middle[0] + 1.0 * CM, middle[1] - 0.8 * CM, middle[0] + 1.8 * CM, middle[1] - 1.5 * CM)
    canvas.drawString(middle[0] + 1.85 * CM, middle[1] - 1.7 * CM, str(numeral))


def _canvas(path: Path) -> Canvas:
    pdfmetrics.registerFont(TTFont(FONT, Path(reportlab.__file__).parent / "fonts" / "Vera.ttf"))
    return Canvas(str(path), pagesize=(WIDTH, HEIGHT), invariant=1)
