"""Pages of impossible sizes: one file a page, and all of them in one file."""

from __future__ import annotations

from evil_files.raw import Paper, evil, heavy, stream, written

FARTHEST = "28346456693"
"""A thousand million cm in pt."""

BOXES = (
    f"/MediaBox [0 0 {FARTHEST} {FARTHEST}]",
    f"/MediaBox [-{FARTHEST} -{FARTHEST} 612 792]",
    "/MediaBox [0 0 1e400 NaN]",
    "/MediaBox [nan inf Infinity -Infinity]",
    "/MediaBox [0 0 9999999999999999999999999999999999999999999999999999999 792]",
    "/MediaBox [0 0 0 0]",
    "/MediaBox [612 792 0 0]",
    "/MediaBox [-612 -792 -1 -1]",
    "/MediaBox [0 0 612 0.0000001]",
    "/MediaBox [0 0 400000 0.3]",
    "/MediaBox [0 0 56000 0.3]",
    "/MediaBox [0 0 612]",
    "/MediaBox (none)",
    "/MediaBox [0 0 612 792] /UserUnit 1000000",
    "/MediaBox [0 0 612 792] /UserUnit 0.0000000001",
    "/MediaBox [0 0 612 792] /UserUnit -1",
    "/MediaBox [0 0 612 792] /UserUnit (two)",
    "/MediaBox [0 0 612 792] /UserUnit 999999999999999999999999999999999999999999999999",
    "/MediaBox [0 0 612 792] /Rotate 45",
    "/MediaBox [0 0 612 792] /Rotate 99999999999999999999",
    "/MediaBox [0 0 612 792] /Rotate -2147483610",
    "/MediaBox [0 0 612 792] /CropBox [9000 9000 9999 9999]",
    "/MediaBox [0 0 612 792] /CropBox [NaN 0 1e39 1]",
    "/MediaBox [0 0 612 792] /CropBox [0 0 1e-30 1e-30] /BleedBox [1] /TrimBox null /ArtBox [0 0 (a) /b]",
    "",
)


@heavy
def boxes_beyond_measure() -> bytes:
    numbers = range(5, 5 + len(BOXES))
    widgets = f"/Annots [<< /Subtype /Widget /FT /Tx /T (f) /V (v) /Rect [1e300 -1e300 NaN {FARTHEST}] >>]"
    pages = {
        number: f"<< /Type /Page /Parent 2 0 R {box} /Contents 4 0 R {widgets} /Resources << >> >>".encode()
        for number, box in zip(numbers, BOXES, strict=True)
    }
    kids = " ".join(f"{n} 0 R" for n in numbers)
    return written(
        {
            1: b"<< /Type /Catalog /Pages 2 0 R /AcroForm << /Fields [] >> >>",
            2: f"<< /Type /Pages /Kids [{kids}] /Count {len(BOXES)} >>".encode(),
            4: stream("", b"9 9 99 99 re f BT /F 12 Tf 9 9 Td (Title) Tj ET"),
        }
        | pages,
        "/Root 1 0 R",
    )


@evil
def widget_outside_of_everything() -> bytes:
    far = "9" * 300
    widget = f"<< /Subtype /Widget /FT /Tx /T (f) /V (v) /Rect [-{far}.0 -{far}.0 {far}.0 {far}.0] >>"
    return Paper(page=f"/UserUnit 1000000 /Annots [{widget}]", root="/AcroForm << /Fields [] >>").bytes()
