"""Proper sheets from four kinds of program: nothing is said of their colour, tone, lines, margins, frame or resolution.

The sheets of the sample bundles come from a PDF library, a drawing program and a browser;
`drawn_by_plotting_library.pdf` from matplotlib 3.11 (two sheets: parts with hatching and lead lines, a plot with two
curves), its text as text and its lines 0.8 to 1.2 pt wide.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from preflight.checks import Unread
from preflight.checks.built_in import CHECKS
from preflight.facts import Page
from preflight.papers import Paper
from preflight.reading.pages import Document, read_page
from preflight.rulebooks import as_struct
from preflight.testing import requirements

HERE = Path(__file__).resolve().parents[1]
SAMPLES = HERE.parent / "sample_bundles"
SHEETS = {
    "a PDF library": SAMPLES / "proper" / "drawings.pdf",
    "a drawing program": SAMPLES / "a4" / "drawings.pdf",
    "a browser": SAMPLES / "three-inventors" / "DEMO-0431-drawings.pdf",
    "a plotting library": HERE / "data" / "drawn_by_plotting_library.pdf",
}
DPI = 300
LOOKS = (
    "us.drawing.margins",
    "us.drawing.sight",
    "us.drawing.colour",
    "us.drawing.photo",
    "us.drawing.black",
    "us.drawing.lines",
    "us.drawing.shading",
    "us.drawing.frame",
    "us.drawing.paper",
    "us.drawing.views.apart",
    "us.practice.drawings-legible",
    "us.pdf.grey",
    "us.pdf.images",
    "us.pdf.compression",
)


@pytest.mark.parametrize("made_by", SHEETS)
def test_proper_sheets_are_not_objected_to(made_by: str) -> None:
    assert list(_faults(_pages(SHEETS[made_by].read_bytes()))) == []


@pytest.mark.parametrize("made_by", ["a drawing program", "a plotting library"])
def test_the_same_sheets_as_pictures_with_soft_edges_are_not_objected_to(made_by: str) -> None:
    """Saved as pictures of 300 dpi, the grey edges of lines and letters kept, as plotting and drawing programs do."""
    assert list(_faults(_pages(_as_pictures(SHEETS[made_by].read_bytes())))) == []


def _faults(pages: tuple[Page, ...]) -> Iterator[str]:
    paper = Paper("drawings", "drawing", "drawings.pdf", "0" * 64, pages, "declared")
    rules = {rule.id: rule for rule in requirements(office="us")}
    for name in LOOKS:
        check = next(check for check in CHECKS if check.name == rules[name].check)
        for outcome in check.run(paper, as_struct(rules[name], check)):
            if isinstance(outcome, Unread):
                assert name == "us.drawing.views.apart", outcome  # pictures are not read here
            elif not outcome.held:
                yield f"{name}: {outcome}"


def _pages(data: bytes) -> tuple[Page, ...]:
    document = Document(data)
    try:
        return tuple(read_page(document, number + 1, 1.0) for number in range(len(document)))
    finally:
        document.close()


def _as_pictures(data: bytes) -> bytes:
    out = io.BytesIO()
    canvas = Canvas(out, invariant=True)
    document = Document(data)
    for number in range(len(document)):
        with document.page(number + 1) as page:
            width, height = page.size
            raster = page.raster(round(width / 72 * DPI), round(height / 72 * DPI))
        canvas.setPageSize((width, height))
        canvas.drawImage(ImageReader(Image.fromarray(raster)), 0, 0, width, height)
        canvas.showPage()
    document.close()
    canvas.save()
    return out.getvalue()
