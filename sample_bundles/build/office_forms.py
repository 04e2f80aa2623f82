"""The forms once more, on A4, typed into a word processor in another country."""

from pathlib import Path
from typing import Final
from xml.sax.saxutils import escape

import matter as m
from forms import INVENTOR_COLUMNS, MICRO_STATEMENTS, UNTICKED, Cover, footer_words
from word_processor import export

LOCALE: Final = "de-DE"
SIGNED_ON: Final = "20 November 2026"
COLUMNS_CM: Final = {2: (5.6, 10.4), 4: (3.6, 3.8, 4.2, 4.4)}
"""Widths of the columns of tables with two and with four columns."""


def write_cover_a4(cover: Cover, target: Path) -> None:
    """The cover sheet."""
    closing = [(name, SIGNED_ON if name == "Date" else entry) for name, entry in cover.closing()]
    body = [
        _line("Title", cover.heading),
        _line("Plain", cover.statement),
        _line("Head", "Inventors"),
        _table("inventors", [INVENTOR_COLUMNS, *cover.inventors]),
        _line("Head", "The filing"),
        _table("filing", cover.details()),
        _line("Head", "Entity status"),
        *(_choice(tick, words) for tick, words in cover.choices()),
        _line("Head", "Fee"),
        _line("Plain", f"Total fee (USD): {cover.fee}"),
        _line("Head", "Signature"),
        _table("signature", closing),
    ]
    _print(body, footer_words("PTO/SB/16"), target)


def write_micro_a4(target: Path) -> None:
    """The certification of micro entity status on the basis of gross income."""
    top = [
        ("Application number", ""),
        ("First named inventor", m.INVENTOR),
        ("Title of the invention", m.TITLE),
        ("Docket number", m.DOCKET),
    ]
    closing = [("Signature", f"/{m.INVENTOR}/"), ("Name of the signer", m.INVENTOR), ("Date", SIGNED_ON)]
    several = "There are several inventors; each of the others has signed a sheet that comes with this one."
    statements = [words.replace("<b>", "").replace("</b>", "") for words in MICRO_STATEMENTS]
    body = [
        _line("Title", "Certification of Micro Entity Status"),
        _line("Title", "(Gross Income Basis)"),
        _table("application", top),
        _line("Head", "What the applicant certifies under 37 CFR 1.29(a)"),
        *(_line("Plain", f"{number}. {words}") for number, words in enumerate(statements, start=1)),
        _line("Head", "Signature"),
        _table("signature", closing),
        _choice(UNTICKED, several),
    ]
    _print(body, footer_words("PTO/SB/15A"), target)


def _line(style: str, words: str) -> str:
    return f'<text:p text:style-name="{style}">{escape(words)}</text:p>'


def _choice(tick: str, words: str) -> str:
    box = f'<text:span text:style-name="Tick">{tick}</text:span>'
    return f'<text:p text:style-name="Plain">{box} {escape(words)}</text:p>'


def _table(name: str, lines: list[tuple[str, ...]]) -> str:
    columns = len(lines[0])
    widths = "".join(f'<table:table-column table:style-name="c{w}"/>' for w in COLUMNS_CM[columns])
    cell = '<table:table-cell table:style-name="Cell" office:value-type="string">{}</table:table-cell>'
    rows = "".join(
        "<table:table-row>" + "".join(cell.format(_line("Plain", entry)) for entry in line) + "</table:table-row>"
        for line in lines
    )
    return f'<table:table table:name="{name}" table:style-name="Table">{widths}{rows}</table:table>'


def _print(body: list[str], foot: str, target: Path) -> None:
    widths = "".join(
        f'<style:style style:name="c{w}" style:family="table-column"><style:table-column-properties '
        f'style:column-width="{w}cm"/></style:style>'
        for widths in COLUMNS_CM.values()
        for w in widths
    )
    document = _TEMPLATE.replace("@WIDTHS@", widths).replace("@FOOT@", escape(foot)).replace("@BODY@", "\n".join(body))
    export(document.encode(), ".fodt", target, locale=LOCALE, options={})


_TEMPLATE: Final = """<?xml version="1.0" encoding="UTF-8"?>
<office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"
 xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"
 xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"
 xmlns:fo="urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0"
 xmlns:svg="urn:oasis:names:tc:opendocument:xmlns:svg-compatible:1.0"
 office:version="1.2" office:mimetype="application/vnd.oasis.opendocument.text">
<office:font-face-decls><style:font-face style:name="Sans" svg:font-family="'Liberation Sans'"/>
<style:font-face style:name="Signs" svg:font-family="'DejaVu Sans'"/></office:font-face-decls>
<office:styles>
<style:default-style style:family="paragraph"><style:text-properties style:font-name="Sans" fo:font-size="10.5pt"
 fo:language="en" fo:country="GB" fo:color="#000000"/></style:default-style>
<style:style style:name="Plain" style:family="paragraph"><style:paragraph-properties fo:margin-bottom="0.1cm"/></style:style>
<style:style style:name="Head" style:family="paragraph"><style:paragraph-properties fo:margin-top="0.45cm"
 fo:margin-bottom="0.15cm"/><style:text-properties fo:font-size="12pt" fo:font-weight="bold"/></style:style>
<style:style style:name="Title" style:family="paragraph"><style:paragraph-properties fo:text-align="center"
 fo:margin-bottom="0.2cm"/><style:text-properties fo:font-size="15pt" fo:font-weight="bold"/></style:style>
<style:style style:name="Foot" style:family="paragraph"><style:paragraph-properties fo:text-align="center"/>
<style:text-properties fo:font-size="9pt"/></style:style>
<style:style style:name="Tick" style:family="text"><style:text-properties style:font-name="Signs"/></style:style>
</office:styles>
<office:automatic-styles>
<style:style style:name="Table" style:family="table"><style:table-properties style:width="16cm" table:align="left"/></style:style>
<style:style style:name="Cell" style:family="table-cell"><style:table-cell-properties fo:border="0.6pt solid #000000"
 fo:padding="0.08cm"/></style:style>
@WIDTHS@
<style:page-layout style:name="A4"><style:page-layout-properties fo:page-width="21cm" fo:page-height="29.7cm"
 style:print-orientation="portrait" fo:margin-top="2.2cm" fo:margin-bottom="1.5cm" fo:margin-left="2.5cm" fo:margin-right="2.5cm"/>
<style:footer-style><style:header-footer-properties fo:min-height="0.8cm" fo:margin-top="0.3cm"/></style:footer-style>
</style:page-layout>
</office:automatic-styles>
<office:master-styles><style:master-page style:name="Standard" style:page-layout-name="A4">
<style:footer><text:p text:style-name="Foot">@FOOT@</text:p></style:footer></style:master-page></office:master-styles>
<office:body><office:text>@BODY@</office:text></office:body>
</office:document>
"""
