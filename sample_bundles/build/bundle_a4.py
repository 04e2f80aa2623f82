"""`a4`: the hose guide from an office in another country: all papers A4, from LibreOffice Writer and Draw."""

from pathlib import Path
from typing import Final

import matter as m
import pikepdf
from drawings import draw_head, draw_sheet_1, draw_sheet_2, draw_sheet_3, identification
from forms import Cover
from office_forms import LOCALE, write_cover_a4, write_micro_a4
from pen import register_font
from sketch import Sketch
from sketched_sheets import A4_CM, draw_a4_sheets
from specification import flat_document, specification_text, write_text

STYLES: Final = Path(__file__).with_name("specification_styles_a4.xml")
SHIFT_CM: Final = -0.2
"""The figures were laid out for the middle of the drawing area of a Letter sheet; that of A4 is 0.2 cm further left."""


def build_a4(bundle: Path) -> None:
    """Specification, drawings, cover sheet, certification."""
    write_text(flat_document(specification_text(), STYLES), bundle / "specification.pdf", locale=LOCALE, options={})
    with pikepdf.open(bundle / "specification.pdf") as pdf:
        pages = len(pdf.pages)
    draw_a4_sheets(_sheets(), m.TITLE, LOCALE, bundle / "drawings.pdf")
    write_cover_a4(Cover(pages), bundle / "cover.pdf")
    write_micro_a4(bundle / "micro.pdf")


def _sheets() -> list[Sketch]:
    register_font()
    sheets: list[Sketch] = []
    for number, draw in enumerate((draw_sheet_1, draw_sheet_2, draw_sheet_3), start=1):
        sheet = Sketch()
        draw_head(sheet, identification(), f"{number}/{m.DRAWING_SHEETS}", A4_CM[0] / 2)
        draw(sheet, SHIFT_CM)
        sheets.append(sheet)
    return sheets
