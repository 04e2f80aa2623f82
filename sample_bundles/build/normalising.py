"""Saving PDFs so that two builds with the same tools give the same bytes."""

from pathlib import Path

import pikepdf
from matter import PDF_DATE, TITLE


def normalise(path: Path, producer: str, title: str = TITLE) -> None:
    """Rewrite the PDF in place with fixed dates, no author, no host and no XMP packet.

    `producer` names the kind of program that made the file, without a version.
    """
    with pikepdf.open(path, allow_overwriting_input=True) as pdf:
        tidy(pdf, producer, title)
        save(pdf, path)


def tidy(pdf: pikepdf.Pdf, producer: str, title: str = TITLE) -> None:
    """Replace the document information by fixed entries; drop XMP."""
    if "/Metadata" in pdf.Root:
        del pdf.Root.Metadata
    if "/Info" in pdf.trailer:
        del pdf.trailer.Info
    pdf.docinfo = pdf.make_indirect(
        pikepdf.Dictionary(Title=title, Producer=producer, CreationDate=PDF_DATE, ModDate=PDF_DATE)
    )


def save(pdf: pikepdf.Pdf, path: Path) -> None:
    """Save with an identifier that follows from the content alone."""
    for key in ("/ID", "/DocChecksum"):
        if key in pdf.trailer:
            del pdf.trailer[key]
    pdf.remove_unreferenced_resources()
    pdf.save(
        path,
        deterministic_id=True,
        compress_streams=True,
        object_stream_mode=pikepdf.ObjectStreamMode.disable,
        fix_metadata_version=False,
    )
