"""`three-inventors`: the watering timer, from a firm's word processor; three inventors, small entity."""

from pathlib import Path
from typing import Final

import matter as m
import pikepdf
from docx import docx_file, print_docx
from drawings import draw_head
from forms import Cover, print_cover
from pen import Pen, Point, register_font
from sketch import Sketch
from sketched_sheets import print_sheets
from timer_figures import draw_block_diagram, draw_flow_chart, draw_leaf_sensor

TEXT: Final = Path(__file__).with_name("timer.txt")
FEE: Final = "130.00"
FIGURES: Final = (
    (draw_block_diagram, (10.0, 13.5), (10.0, 25.6)),
    (draw_leaf_sensor, (10.9, 14.0), (11.2, 23.5)),
    (draw_flow_chart, (9.6, 14.2), (10.8, 25.4)),
)
"""Each figure with the places of its middle and of its label, in cm."""


def build_three_inventors(bundle: Path) -> None:
    """Specification, drawings and a cover sheet that the practitioner signed."""
    document = docx_file(TEXT.read_text(encoding="utf-8"), m.TIMER)
    print_docx(document, bundle / "DEMO-0431-specification.pdf", m.TIMER.title)
    with pikepdf.open(bundle / "DEMO-0431-specification.pdf") as pdf:
        pages = len(pdf.pages)
    print_sheets(timer_sheets(), m.TIMER.title, bundle / "DEMO-0431-drawings.pdf")
    cover = Cover(pages, entity="small", fee=FEE, matter=m.TIMER, signer=m.PRACTITIONER)
    print_cover(cover, bundle / "DEMO-0431-cover-sheet.pdf")


def timer_sheets() -> list[Sketch]:
    """The three drawing sheets."""
    register_font()
    line = f"{m.TIMER.title}    {m.TIMER.inventors[0].family} et al.    Docket No. {m.TIMER.docket}"
    sheets: list[Sketch] = []
    for number, (draw, middle, label) in enumerate(FIGURES, start=1):
        sheet = Sketch()
        draw_head(sheet, line, f"{number}/{m.TIMER.sheets}")
        draw(Pen(sheet, middle, 1))
        _label(sheet, label, number)
        sheets.append(sheet)
    return sheets


def _label(sheet: Sketch, at: Point, number: int) -> None:
    Pen(sheet, at, 1).label(f"FIG. {number}", (0, 0))
