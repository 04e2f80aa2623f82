"""`combined`: text and drawings of the hose guide in one PDF, the cover sheet in another; no discount.

The text is set with groff, the sheets come from a PDF library, and Ghostscript writes both into one file.
"""

import tempfile
from pathlib import Path
from typing import Final

import matter as m
import pikepdf
from drawings import build_drawings
from forms import Cover
from normalising import normalise
from specification import specification_text
from typesetter import set_cover, set_text, write_again

FEE: Final = "325.00"


def build_combined(bundle: Path) -> None:
    """The application and its cover sheet."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        set_text(specification_text(), m.GUIDE, folder / "text.pdf")
        with pikepdf.open(folder / "text.pdf") as pdf:
            pages = len(pdf.pages)
        build_drawings(folder / "sheets.pdf")
        write_again([folder / "text.pdf", folder / "sheets.pdf"], bundle / "application.pdf")
    normalise(bundle / "application.pdf", "Ghostscript")
    set_cover(Cover(pages, entity="undiscounted", fee=FEE), bundle / "cover.pdf")
