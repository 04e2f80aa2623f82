"""The specification: plain text -> flat OpenDocument text -> PDF by LibreOffice Writer."""

import json
import re
import subprocess
import tempfile
from pathlib import Path
from typing import Final
from xml.sax.saxutils import escape

import pikepdf
from matter import DOCKET, TITLE
from normalising import normalise

SOURCE: Final = Path(__file__).with_name("specification.txt")
STYLES: Final = Path(__file__).with_name("specification_styles.xml")
NEW_PAGE: Final = frozenset({"CLAIMS", "ABSTRACT"})
"""Headings that begin a page of their own."""

EXPORT: Final = {
    "SelectPdfVersion": {"type": "long", "value": "16"},
    "UseTaggedPDF": {"type": "boolean", "value": "false"},
    "ExportBookmarks": {"type": "boolean", "value": "false"},
    "ExportFormFields": {"type": "boolean", "value": "false"},
}


def specification_text() -> str:
    """The text as it stands in the source file."""
    return SOURCE.read_text(encoding="utf-8")


def build_specification(text: str, target: Path) -> int:
    """Write the specification with this text as a PDF; return its number of pages."""
    with tempfile.TemporaryDirectory() as folder:
        source = Path(folder) / "specification.fodt"
        source.write_text(flat_document(text), encoding="utf-8")
        convert(source, Path(folder))
        target.write_bytes(source.with_suffix(".pdf").read_bytes())
    normalise(target, "LibreOffice Writer")
    with pikepdf.open(target) as pdf:
        return len(pdf.pages)


def convert(source: Path, folder: Path) -> None:
    """Let LibreOffice export one document as PDF 1.6 into the folder, with a profile of its own."""
    subprocess.run(
        [
            "soffice",
            f"-env:UserInstallation={(folder / 'profile').as_uri()}",
            "--headless",
            "--convert-to",
            f"pdf:writer_pdf_Export:{json.dumps(EXPORT)}",
            "--outdir",
            str(folder),
            str(source),
        ],
        check=True,
        capture_output=True,
        timeout=180,
    )


def flat_document(text: str) -> str:
    """The whole flat OpenDocument file: styles from the template, body from the text."""
    blocks = [block for block in re.split(r"\n\s*\n", text.strip()) if block]
    body = [paragraph("Heading_Title", TITLE)]
    for block in blocks:
        body.extend(block_paragraphs(block))
    template = STYLES.read_text(encoding="utf-8")
    return template.replace("@DOCKET@", escape(DOCKET)).replace("@BODY@", "\n".join(body))


def block_paragraphs(block: str) -> list[str]:
    """Turn one block of the source (heading, claim, or plain paragraph) into paragraphs."""
    first, *rest = block.splitlines()
    if first.startswith("# "):
        heading = first[2:]
        return [paragraph("Heading_New_Page" if heading in NEW_PAGE else "Heading", heading)]
    style = "Claim" if re.match(r"\d+\. ", first) else "Body"
    elements = [paragraph("Claim_Element", line.removeprefix("+ ")) for line in rest]
    return [paragraph(style, first), *elements]


def paragraph(style: str, words: str) -> str:
    """One paragraph in the flat document."""
    return f'<text:p text:style-name="{style}">{escape(words)}</text:p>'
