"""`last-minute`: the hose guide, thrown together before midnight, the firm's own papers left in the folder."""

import base64
import io
from html import escape
from pathlib import Path
from typing import Final

import matter as m
import pikepdf
import pypdfium2
from browser import print_html
from docx import docx_file, letter_file, print_docx
from drawings import build_drawings
from faults import remove_page
from figure_2 import draw_figure_2
from forms import Cover, print_cover
from normalising import save
from pen import Pen
from reportlab.pdfgen.canvas import Canvas
from specification import flat_document, specification_text, write_text
from word_processor import EXPORT

WIDE: Final = 'fo:margin-left="2.54cm" fo:margin-right'
THIN: Final = 'fo:margin-left="1.6cm" fo:margin-right'
"""Somebody pulled the ruler to save a page."""
PASTED_BELOW: Final = "The roller 24 of FIG. 3 may be molded"
"""The figure stands above the paragraph that begins so."""
FIGURE_CM: Final = (5.0, 3.2, 17.4, 14.6)
"""The part of sheet 3 that was copied: left, top, right, bottom."""
DRAW: Final = 'xmlns:draw="urn:oasis:names:tc:opendocument:xmlns:drawing:1.0"'
PASTED_CM: Final = (9.3, 8.55)
DPI: Final = 400
"""Of the copy on the sheet; the word processor leaves 300 of it in the PDF."""
LOST_PAGE: Final = 4
SIDEWAYS_PAGE: Final = 2
"""As counted in the file without the lost page."""
BLUE: Final = (0.1, 0.25, 0.8)
FEE: Final = "130.00"
SOURCE: Final = "specification_v3.docx"

LETTER: Final = (
    m.SIGNED_ON,
    f"{m.INVENTOR}, {m.STREET}, {m.CITY}, {m.STATE} {m.POSTCODE}",
    f"Re: Engagement for a provisional patent application; our matter {m.DOCKET}",
    f"Dear {m.INVENTOR},",
    "Thank you for choosing us. This letter sets out the terms of our engagement. We will prepare and file a "
    "provisional patent application for your garden hose guide. You may end the engagement at any time in writing.",
    "Our charge for this work is a flat 2,400 US dollars, half of it payable now as a retainer, which we hold in our "
    "trust account. The fee of the patent office is not included. Further work is charged at 310 US dollars an hour.",
    "What you tell us is privileged and confidential, and we ask you not to show the guide to others before the "
    "filing. We have looked for conflicts of interest with other clients and found none.",
    "If you agree, sign below and send one copy back to us.",
    "Sincerely,",
    m.PRACTITIONER,
    "Agreed: ____________________   Date: ______________",
)
LETTERHEAD: Final = f"{m.PRACTITIONER}, Patent Practice, {m.CITY}"


class BluePen(Pen):
    """A pen whose lines a drafting program left blue."""

    def _style(self, *, fine: bool, broken: bool, butt: bool) -> None:
        super()._style(fine=fine, broken=broken, butt=butt)
        self.canvas.setStrokeColorRGB(*BLUE)


def build_last_minute(bundle: Path) -> None:
    """Everything that is in the folder."""
    build_drawings(bundle / "drawings.pdf")
    pages = _specification(bundle / "specification.pdf", bundle / "drawings.pdf")
    build_drawings(bundle / "drawings.pdf", second=_blue_sheet)
    print_cover(Cover(pages, entity="small", fee=FEE), bundle / "cover.pdf")
    print_docx(letter_file(list(LETTER), LETTERHEAD), bundle / "Engagement_DEMO-0417.pdf", "Engagement")
    _invoice(bundle / "Invoice_2026-118.pdf")
    (bundle / SOURCE).write_bytes(docx_file(specification_text(), m.GUIDE, numbered=False))
    (bundle / f"~${SOURCE[2:]}").write_bytes(_lock(m.PRACTITIONER))
    (bundle / ".DS_Store").write_bytes(b"\0\0\0\x01Bud1".ljust(6148, b"\0"))


def _specification(target: Path, drawings: Path) -> int:
    """Thin margin, a pasted figure, one page lost, one turned; return how many pages there were before."""
    document = flat_document(specification_text()).replace(WIDE, THIN)
    before = document.index(PASTED_BELOW)
    cut = document.rindex("<text:p ", 0, before)
    document = document[:cut] + _pasted(_copied(drawings)) + document[cut:]
    document = document.replace(" xmlns:text=", f" {DRAW} xmlns:text=")
    write_text(document, target, options={**EXPORT, "UseLosslessCompression": {"type": "boolean", "value": "true"}})
    with pikepdf.open(target) as pdf:
        pages = len(pdf.pages)
    remove_page(target, target, LOST_PAGE)
    with pikepdf.open(target, allow_overwriting_input=True) as pdf:
        pdf.pages[SIDEWAYS_PAGE - 1].rotate(90, relative=True)
        save(pdf, target)
    return pages


def _copied(drawings: Path) -> bytes:
    """FIG. 3 as a black-and-white picture, cut out of its sheet."""
    pdf = pypdfium2.PdfDocument(drawings)
    sheet = pdf[2].render(scale=DPI / 72, grayscale=True).to_pil()
    pdf.close()
    cut = sheet.crop(tuple(round(side / 2.54 * DPI) for side in FIGURE_CM))
    picture = io.BytesIO()
    cut.convert("L").point(lambda level: 255 if level > 127 else 0).convert("1").save(picture, "PNG", dpi=(DPI, DPI))
    return picture.getvalue()


def _pasted(picture: bytes) -> str:
    width, height = PASTED_CM
    return (
        f'<text:p text:style-name="Heading"><draw:frame text:anchor-type="as-char" svg:width="{width}cm" '
        f'svg:height="{height}cm"><draw:image><office:binary-data>{base64.b64encode(picture).decode()}'
        '</office:binary-data></draw:image></draw:frame></text:p><text:p text:style-name="Heading">FIG. 3</text:p>'
    )


def _blue_sheet(canvas: Canvas, shift: float) -> None:
    """FIG. 2 with blue lines; characters and label are black."""
    draw_figure_2(BluePen(canvas, (11.2 + shift, 8.0), 0.0480))
    Pen(canvas, (11.2 + shift, 26.2), 1).label("FIG. 2", (0, 0))


def _invoice(target: Path) -> None:
    rows = (
        ("Preparing a provisional patent application, flat", "2,400.00"),
        ("Patent office fee, small entity", "130.00"),
        ("Less retainer received on 2026-11-02", "-1,200.00"),
        ("Amount due", "1,330.00"),
    )
    table = "".join(f"<tr><td>{escape(name)}</td><td class='sum'>{amount}</td></tr>" for name, amount in rows)
    body = (
        f"<p>{escape(LETTERHEAD)}<br>{m.STREET}, {m.CITY}, {m.STATE} {m.POSTCODE}</p><h1>Invoice No. 2026-118</h1>"
        f"<p>Bill to: {m.INVENTOR}<br>Our matter: {m.DOCKET}<br>Invoice date: {m.SIGNED_ON}</p>"
        f"<table><tr><th>Description of services</th><th>USD</th></tr>{table}</table>"
        "<p>Payment is due within 30 days. Please give the invoice number with your payment.</p>"
    )
    styles = (
        '@page { size: letter; margin: 2.5cm; } body { font: 11pt/1.5 "Liberation Sans"; } h1 { font-size: 18pt; }'
        "table { width: 100%; border-collapse: collapse; } td, th { border-bottom: 0.5pt solid #000; padding: 4pt;"
        " text-align: left; } .sum { text-align: right; }"
    )
    print_html(body, styles, "Invoice 2026-118", target)


def _lock(user: str) -> bytes:
    """What the word processor leaves beside an open file: who has it open, twice, in a fixed form."""
    narrow = bytes([len(user)]) + user.encode("ascii").ljust(53, b" ")
    return narrow + bytes([len(user), 0]) + user.encode("utf-16-le").ljust(106, b"\0")
