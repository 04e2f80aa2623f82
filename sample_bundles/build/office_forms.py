"""The forms once more, on A4, typed into a word processor in another country."""

from pathlib import Path
from typing import Final
from xml.sax.saxutils import escape

import matter as m
from forms import INVENTOR_COLUMNS, MICRO_STATEMENTS, UNTICKED, Cover, footer_words
from word_processor import export

TEMPLATE: Final = Path(__file__).with_name("office_forms.fodt")
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
    template = TEMPLATE.read_text(encoding="utf-8").replace("@WIDTHS@", widths).replace("@FOOT@", escape(foot))
    document = template.replace("@BODY@", "\n".join(body))
    export(document.encode(), ".fodt", target, locale=LOCALE, options={})
