"""The specification: plain text -> flat OpenDocument text -> PDF by LibreOffice Writer."""

import re
from pathlib import Path
from typing import Any, Final
from xml.sax.saxutils import escape

import pikepdf
from matter import DOCKET, TITLE
from word_processor import export

SOURCE: Final = Path(__file__).with_name("specification.txt")
STYLES: Final = Path(__file__).with_name("specification_styles.xml")
NEW_PAGE: Final = frozenset({"CLAIMS", "ABSTRACT"})
"""Headings that begin a page of their own."""


def specification_text() -> str:
    """The text as it stands in the source file."""
    return SOURCE.read_text(encoding="utf-8")


def build_specification(text: str, target: Path, **options: Any) -> int:
    """Write the specification with this text as a PDF; return its number of pages. Options as for `write_text`."""
    write_text(flat_document(text), target, **options)
    with pikepdf.open(target) as pdf:
        return len(pdf.pages)


def write_text(document: str, target: Path, **options: Any) -> None:
    """Export a flat text document; options as for `word_processor.export`."""
    export(document.encode(), ".fodt", target, **options)


def flat_document(text: str, styles: Path = STYLES, title: str = TITLE, docket: str = DOCKET) -> str:
    """The whole flat OpenDocument file: styles from the template, body from the text; no title if it is empty."""
    blocks = [block for block in re.split(r"\n\s*\n", text.strip()) if block]
    body = [paragraph("Heading_Title", title)] if title else []
    for block in blocks:
        body.extend(block_paragraphs(block))
    template = styles.read_text(encoding="utf-8")
    return template.replace("@DOCKET@", escape(docket)).replace("@BODY@", "\n".join(body))


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
