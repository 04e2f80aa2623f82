"""A word-processor file as the other common word processor writes it, and the PDF that LibreOffice makes of it.

Styles, automatic paragraph numbers, header and footer are those that a firm's template would hold.
"""

import io
import re
import zipfile
from pathlib import Path
from typing import Final
from xml.sax.saxutils import escape

import matter as m
from word_processor import export

NAMESPACES: Final = (
    'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" '
    'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"'
)
KEPT_ON: Final = (1980, 1, 1, 0, 0, 0)
"""Date of the parts inside the file, the same in every build."""
CONTENT: Final = "application/vnd.openxmlformats-officedocument.wordprocessingml"
RELATION: Final = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
NEW_PAGE: Final = ("CLAIMS", "ABSTRACT")

STYLES: Final = f"""<w:styles {NAMESPACES}>
<w:docDefaults><w:rPrDefault><w:rPr><w:rFonts w:ascii="Liberation Serif" w:hAnsi="Liberation Serif"/><w:sz w:val="24"/>
<w:lang w:val="en-US"/></w:rPr></w:rPrDefault></w:docDefaults>
<w:style w:type="paragraph" w:default="1" w:styleId="Normal"><w:name w:val="Normal"/>
<w:pPr><w:widowControl/><w:spacing w:line="420" w:lineRule="auto"/></w:pPr></w:style>
<w:style w:type="paragraph" w:styleId="Head"><w:name w:val="Section Head"/><w:basedOn w:val="Normal"/>
<w:pPr><w:keepNext/><w:jc w:val="center"/></w:pPr><w:rPr><w:b/></w:rPr></w:style>
<w:style w:type="paragraph" w:styleId="Numbered"><w:name w:val="Numbered Paragraph"/><w:basedOn w:val="Normal"/>
<w:pPr><w:numPr><w:ilvl w:val="0"/><w:numId w:val="1"/></w:numPr></w:pPr></w:style>
<w:style w:type="paragraph" w:styleId="Element"><w:name w:val="Claim Element"/><w:basedOn w:val="Normal"/>
<w:pPr><w:ind w:left="1080"/></w:pPr></w:style>
</w:styles>"""
NUMBERING: Final = f"""<w:numbering {NAMESPACES}><w:abstractNum w:abstractNumId="0"><w:lvl w:ilvl="0">
<w:start w:val="1"/>
<w:numFmt w:val="decimalZero"/><w:suff w:val="tab"/><w:lvlText w:val="[00%1]"/><w:lvlJc w:val="left"/>
<w:pPr><w:tabs><w:tab w:val="num" w:pos="1080"/></w:tabs><w:ind w:left="0" w:firstLine="0"/></w:pPr></w:lvl>
</w:abstractNum><w:num w:numId="1"><w:abstractNumId w:val="0"/></w:num></w:numbering>"""
PAGE_FIELD: Final = '<w:r><w:fldChar w:fldCharType="begin"/></w:r><w:r><w:instrText> {} </w:instrText></w:r>' + (
    '<w:r><w:fldChar w:fldCharType="separate"/></w:r><w:r><w:t>1</w:t></w:r><w:r><w:fldChar w:fldCharType="end"/></w:r>'
)
SECTION: Final = (
    '<w:sectPr><w:headerReference w:type="default" r:id="rId3"/><w:footerReference w:type="default" r:id="rId4"/>'
    '<w:pgSz w:w="12240" w:h="15840"/>'
    '<w:pgMar w:top="1440" w:right="1440" w:bottom="1440" w:left="1440" w:header="720" w:footer="720"/></w:sectPr>'
)


def docx_file(text: str, matter: m.Matter, *, numbered: bool = True) -> bytes:
    """The text (headings, claims, paragraphs) as a word-processor file."""
    blocks = re.split(r"\n\s*\n", text.strip())
    claims = blocks.index("# CLAIMS")
    body = _paragraph("Head", matter.title)
    body += "".join(_block(block, numbered and at < claims) for at, block in enumerate(blocks))
    header = _paragraph("Normal", f"Attorney Docket No. {matter.docket}", "<w:jc w:val='right'/>")
    return _packed(body, header, _element("p", '<w:pPr><w:jc w:val="center"/></w:pPr>' + _page_of_pages()))


def letter_file(lines: list[str], head: str) -> bytes:
    """A letter, one paragraph a line, below a letterhead."""
    body = "".join(_paragraph("Normal", line, '<w:spacing w:line="276" w:after="160"/>') for line in lines)
    return _packed(body, _paragraph("Head", head), _paragraph("Normal", ""))


def _packed(body: str, header: str, footer: str) -> bytes:
    """All parts of the file, packed."""
    parts = {
        "[Content_Types].xml": _content_types(),
        "_rels/.rels": _relations(("officeDocument", "word/document.xml")),
        "word/document.xml": f"<w:document {NAMESPACES}><w:body>{body}{SECTION}</w:body></w:document>",
        "word/_rels/document.xml.rels": _relations(
            ("styles", "styles.xml"),
            ("numbering", "numbering.xml"),
            ("header", "header1.xml"),
            ("footer", "footer1.xml"),
        ),
        "word/styles.xml": STYLES,
        "word/numbering.xml": NUMBERING,
        "word/header1.xml": f"<w:hdr {NAMESPACES}>{header}</w:hdr>",
        "word/footer1.xml": f"<w:ftr {NAMESPACES}>{footer}</w:ftr>",
    }
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            declared = f'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n{content}'
            archive.writestr(zipfile.ZipInfo(name, KEPT_ON), declared, zipfile.ZIP_DEFLATED)
    return packed.getvalue()


def print_docx(document: bytes, target: Path, title: str) -> None:
    """Export it with tags and bookmarks, as an office does by default."""
    export(document, ".docx", target, title=title, options={})


def _block(block: str, numbered: bool) -> str:
    first, *rest = block.splitlines()
    if first.startswith("# "):
        heading = first[2:]
        return _paragraph("Head", heading, "<w:pageBreakBefore/>" if heading in NEW_PAGE else "")
    if not numbered:
        claim = _paragraph("Normal", first, '<w:ind w:firstLine="720"/>')
        return claim + "".join(_paragraph("Element", line.removeprefix("+ ")) for line in rest)
    return _paragraph("Numbered", first)


def _paragraph(style: str, words: str, more: str = "") -> str:
    run = f'<w:r><w:t xml:space="preserve">{escape(words)}</w:t></w:r>'
    return _element("p", f'<w:pPr><w:pStyle w:val="{style}"/>{more}</w:pPr>{run}')


def _element(name: str, inside: str) -> str:
    return f"<w:{name}>{inside}</w:{name}>"


def _page_of_pages() -> str:
    between = '<w:r><w:t xml:space="preserve">{}</w:t></w:r>'
    return between.format("Page ") + PAGE_FIELD.format("PAGE") + between.format(" of ") + PAGE_FIELD.format("NUMPAGES")


def _content_types() -> str:
    kinds = {"document": "document.main", "styles": "styles", "numbering": "numbering"}
    kinds |= {"header1": "header", "footer1": "footer"}
    lines = "".join(
        f'<Override PartName="/word/{name}.xml" ContentType="{CONTENT}.{kind}+xml"/>' for name, kind in kinds.items()
    )
    return (
        '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" '
        'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Default Extension="xml" ContentType="application/xml"/>{lines}</Types>'
    )


def _relations(*targets: tuple[str, str]) -> str:
    lines = "".join(
        f'<Relationship Id="rId{number}" Type="{RELATION}/{kind}" Target="{target}"/>'
        for number, (kind, target) in enumerate(targets, start=1)
    )
    return (
        f'<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">{lines}</Relationships>'
    )
