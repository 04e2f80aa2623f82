"""`from-the-shoebox`: the hose guide out of a box of papers: drafts, doubles, and a page of the boot rack."""

import io
import tempfile
from pathlib import Path
from typing import Final

import matter as m
import pikepdf
from drawings import build_drawings
from figure_2 import draw_figure_2
from forms import Cover, print_cover
from normalising import save
from pen import FONT, PAGE_CM, POINTS_A_CM, Pen, Point, register_font
from reportlab.pdfgen.canvas import Canvas
from specification import flat_document, specification_text, write_text

CLAIMS: Final = Path(__file__).with_name("boot_rack_claims.txt")
CLAIMS_PAGE: Final = 5
"""The number that the page bore in its own application; the hose guide's claims bear the same."""
MARKED: Final = "The hose guide of claim 1, further comprising a cap (34) on each end of the axle (26)."
"""A claim that somebody meant to look at again."""
STRUCK_AFTER: Final = "so that the tooth enters the notch that is above it."
STRUCK: Final = "A second latch on the other side of the socket 18 may be added."
SPANS: Final = """
 <style:style style:name="Marked" style:family="text">
  <style:text-properties fo:background-color="#ffff00"/></style:style>
 <style:style style:name="Struck" style:family="text"><style:text-properties fo:color="#c9211e"
  style:text-line-through-style="solid" style:text-line-through-type="single"/></style:style>
</office:automatic-styles>"""
ORDER: Final = (1, 2, 3, 3, 4, None, "boot rack", 5, 6)
"""Pages of the specification in the order of the file; None is the blank back of a sheet."""
DRAFTS: Final = (1, 2, 3, 4, 5)
"""Pages of the file that bear the watermark."""
DRAFT_POINTS: Final = 150
DRAFT_GREY: Final = 0.82
NEW_CHARACTERS: Final = ("26", "28")
"""What the revised sheet 2 shows and the older one does not."""
FEE: Final = "65.00"


class OlderPen(Pen):
    """A pen that does not yet know the characters of the revision."""

    def character(self, text: str, at: Point, to: Point, bend: float = 0.12) -> None:
        """Draw the character unless it came later."""
        if text not in NEW_CHARACTERS:
            super().character(text, at, to, bend)


def build_from_the_shoebox(bundle: Path) -> None:
    """Four papers, one of them twice."""
    pages = _specification(bundle / "specification.pdf")
    build_drawings(bundle / "drawings.pdf", second=_older_sheet)
    build_drawings(bundle / "drawings_rev.pdf")
    print_cover(Cover(pages, entity="undiscounted", fee=FEE), bundle / "cover.pdf")


def _older_sheet(canvas: Canvas, shift: float) -> None:
    draw_figure_2(OlderPen(canvas, (11.2 + shift, 8.0), 0.0480))
    Pen(canvas, (11.2 + shift, 26.2), 1).label("FIG. 2", (0, 0))


def _specification(target: Path) -> int:
    """The draft with what slipped in between its pages; return how many pages it has itself."""
    with tempfile.TemporaryDirectory() as name:
        draft, strange = Path(name) / "draft.pdf", Path(name) / "strange.pdf"
        write_text(_with_traces(), draft)
        write_text(_boot_rack(), strange)
        with pikepdf.open(draft) as own, pikepdf.open(strange) as other, pikepdf.new() as pdf:
            for wanted in ORDER:
                if wanted is None:
                    pdf.add_blank_page(page_size=tuple(side * POINTS_A_CM for side in PAGE_CM))
                else:
                    pdf.pages.append(other.pages[0] if wanted == "boot rack" else own.pages[int(wanted) - 1])
            _stamp(pdf)
            pdf.docinfo = pdf.copy_foreign(own.docinfo)
            save(pdf, target)
            return len(own.pages)


def _with_traces() -> str:
    """The text with a highlighted passage and a sentence that is struck through in red."""
    document = flat_document(specification_text())
    for old, new in (
        (MARKED, f'<text:span text:style-name="Marked">{MARKED}</text:span>'),
        (STRUCK_AFTER, f'{STRUCK_AFTER} <text:span text:style-name="Struck">{STRUCK}</text:span>'),
        ("</office:automatic-styles>", SPANS),
    ):
        if document.count(old) != 1:
            raise ValueError(f"expected once in the document: {old}")
        document = document.replace(old, new)
    return document


def _boot_rack() -> str:
    """The claims of the boot rack, with the number that their page had."""
    document = flat_document(CLAIMS.read_text(encoding="utf-8"), title="", docket=m.OTHER_DOCKET)
    first = f'<style:paragraph-properties style:page-number="{CLAIMS_PAGE}" fo:break-before="page"'
    return document.replace('<style:paragraph-properties fo:break-before="page"', first)


def _stamp(pdf: pikepdf.Pdf) -> None:
    """DRAFT in grey letters from corner to corner, below the text."""
    register_font()
    drawn = io.BytesIO()
    canvas = Canvas(drawn, pagesize=(612, 792), initialFontName=FONT, invariant=1)
    canvas.translate(306, 396)
    canvas.rotate(55)
    canvas.setFillGray(DRAFT_GREY)
    canvas.setFont(FONT, DRAFT_POINTS)
    canvas.drawCentredString(0, -DRAFT_POINTS / 3, "DRAFT")
    canvas.save()
    with pikepdf.open(drawn) as stamp:
        letters = pdf.copy_foreign(stamp.pages[0].as_form_xobject())
    for number in DRAFTS:
        page = pdf.pages[number - 1]
        name = page.add_resource(letters, pikepdf.Name.XObject, pikepdf.Name.Draft)
        page.contents_add(f"q {name} Do Q".encode("ascii"), prepend=True)
