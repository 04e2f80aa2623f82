"""Papers printed, signed by hand and scanned: bitonal pages of 300 dpi, slightly askew, without a text layer."""

import io
import math
from pathlib import Path
from typing import Final

import numpy as np
import pikepdf
import pypdfium2
from matter import PDF_DATE
from normalising import save
from numpy.typing import NDArray
from PIL import Image, ImageDraw

DPI: Final = 300
PIXELS_A_CM: Final = DPI / 2.54
SHEET: Final = (2550, 3300)
"""Pixels of a Letter sheet."""
ASKEW: Final = (0.5, -0.35, 0.2, -0.6, 0.4, -0.25, 0.55)
"""Degrees by which one sheet after the other lies askew on the glass, in turn."""
MOVED_PIXELS: Final = (24, -9)
"""The feeder's own shift to the right and down."""
INK: Final = 128
"""Grey level under which a pixel becomes black."""
SPECKS: Final = 14
"""Grains of dust a sheet, two pixels each."""

STROKES: Final = (
    ((0.0, 0.2), (0.5, 1.0), (0.75, 1.5), (0.9, 0.4), (1.0, -0.1)),
    ((0.3, 0.55), (0.7, 0.6), (1.1, 0.7)),
    ((1.1, 0.1), (1.3, 0.6), (1.6, 0.5), (1.55, 0.0), (1.3, 0.1), (1.6, 0.9), (1.75, 0.1), (2.0, 0.4), (2.2, 0.0)),
    ((3.3, 1.3), (2.7, 1.5), (2.8, 0.7), (3.2, 0.8), (2.6, 0.6), (2.7, -0.2), (3.4, 0.1), (3.8, 0.5), (3.9, 0.0)),
    ((3.9, 0.4), (4.2, 0.1), (4.4, 0.5), (4.6, 0.0), (5.0, 0.45), (5.3, 0.0), (5.6, 0.3), (6.4, 0.2)),
)
"""A signature that nobody has: corners of smooth strokes, in units of about 0.6 cm."""
UNIT_CM: Final = 0.6


def scan(source: Path, target: Path, first: int = 0) -> None:
    """Scan all pages of a printed PDF; `first` tells which sheet of the stack its first page is.

    A page with a row named Signature is signed beside that word.
    """
    with pikepdf.new() as pdf:
        printed = pypdfium2.PdfDocument(source)
        for number in range(len(printed)):
            page = printed[number]
            grey = page.render(scale=DPI / 72, grayscale=True).to_pil().convert("L")
            if (place := _signature_line(page)) is not None:
                _sign(grey, place)
            _add_page(pdf, _on_the_glass(grey, first + number))
        printed.close()
        pdf.docinfo = pdf.make_indirect(pikepdf.Dictionary(Producer="Scanner", CreationDate=PDF_DATE, ModDate=PDF_DATE))
        save(pdf, target)


def _signature_line(page: pypdfium2.PdfPage) -> tuple[float, float] | None:
    """Where to sign, in pixels: right of the last word Signature of the page."""
    text = page.get_textpage()
    search, found = text.search("Signature", match_case=True), None
    while (hit := search.get_next()) is not None:
        found = hit
    if found is None:
        return None
    _, bottom, right, _ = text.get_charbox(found[0] + found[1] - 1)
    return right * DPI / 72 + 5.0 * PIXELS_A_CM, SHEET[1] - bottom * DPI / 72


def _sign(grey: Image.Image, place: tuple[float, float]) -> None:
    draw = ImageDraw.Draw(grey)
    for corners in STROKES:
        way = _smooth(corners)
        for at, (x, y) in enumerate(way):
            radius = 2.6 + 1.4 * math.sin(at / 9)
            px = place[0] + x * UNIT_CM * PIXELS_A_CM
            py = place[1] - y * UNIT_CM * PIXELS_A_CM
            draw.ellipse((px - radius, py - radius, px + radius, py + radius), fill=20)


def _smooth(corners: tuple[tuple[float, float], ...]) -> list[tuple[float, float]]:
    """A curve through the corners, each piece bent by its neighbours."""
    way: list[tuple[float, float]] = []
    ends = [corners[0], *corners, corners[-1]]
    for a, b, c, d in zip(ends, ends[1:], ends[2:], ends[3:], strict=False):
        for step in range(60):
            t = step / 60
            x, y = (
                0.5 * (2 * q + (r - p) * t + (2 * p - 5 * q + 4 * r - s) * t**2 + (3 * q - p - 3 * r + s) * t**3)
                for p, q, r, s in zip(a, b, c, d, strict=True)
            )
            way.append((x, y))
    return way


def _on_the_glass(grey: Image.Image, number: int) -> Image.Image:
    """The sheet askew and moved, with dust, in black and white."""
    angle = ASKEW[number % len(ASKEW)]
    turned = grey.rotate(angle, Image.Resampling.BICUBIC, translate=MOVED_PIXELS, fillcolor=255)
    levels: NDArray[np.uint8] = np.array(turned.crop((0, 0, *SHEET)))
    for speck in range(SPECKS):
        wave = math.sin(speck * 12.9898 + number * 78.233) * 43758.5453
        x, y = int((wave * 7) % 1 * (SHEET[0] - 4)), int((wave * 131) % 1 * (SHEET[1] - 4))
        levels[y : y + 2, x : x + 2] = 0
    return Image.fromarray((levels >= INK).astype(np.uint8) * 255).convert("1", dither=Image.Dither.NONE)


def _add_page(pdf: pikepdf.Pdf, picture: Image.Image) -> None:
    """A page that is nothing but this picture, packed as fax machines pack it (CCITT Group 4)."""
    page = pdf.add_blank_page(page_size=(612, 792))
    stream = pikepdf.Stream(pdf, _group_4(picture))
    stream.Type, stream.Subtype = pikepdf.Name.XObject, pikepdf.Name.Image
    stream.Width, stream.Height = SHEET
    stream.BitsPerComponent, stream.ColorSpace = 1, pikepdf.Name.DeviceGray
    stream.Filter = pikepdf.Name.CCITTFaxDecode
    stream.DecodeParms = pikepdf.Dictionary(K=-1, Columns=SHEET[0], Rows=SHEET[1], BlackIs1=True)
    name = page.add_resource(stream, pikepdf.Name.XObject, pikepdf.Name.Scan)
    page.contents_add(f"q 612 0 0 792 0 0 cm {name} Do Q".encode("ascii"))


def _group_4(picture: Image.Image) -> bytes:
    """The packed rows, out of the single strip of a TIFF file."""
    buffer = io.BytesIO()
    picture.save(buffer, "TIFF", compression="group4", strip_size=SHEET[0] * SHEET[1])
    with Image.open(buffer) as again:
        (offset,), (length,) = again.tag_v2[273], again.tag_v2[279]
    return buffer.getvalue()[offset : offset + length]
