"""The cover sheet once more, set in the standard Helvetica without embedding it."""

from pathlib import Path
from typing import Final

from forms import INVENTOR_COLUMNS, Cover, footer_words
from normalising import normalise
from pen import PAGE_CM, POINTS_A_CM, font_file
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

BODY: Final = "Helvetica"
TICKS: Final = "Ticks"
"""The tick boxes come from a font that is embedded; the fault is Helvetica alone."""
LEFT_CM: Final = 2.2
ENTRY_CM: Final = 8.4
COLUMNS_CM: Final = (2.2, 5.6, 9.0, 13.4)
LINE_CM: Final = 0.62
LONGEST: Final = 50
"""Characters of an entry that fit on one line."""


class Sheet:
    """A page that is written from the top downward; all places in cm."""

    def __init__(self, target: Path) -> None:
        pdfmetrics.registerFont(TTFont(TICKS, font_file("DejaVu Sans")))
        size = (PAGE_CM[0] * POINTS_A_CM, PAGE_CM[1] * POINTS_A_CM)
        self.canvas = Canvas(str(target), pagesize=size, initialFontName=BODY, invariant=1)
        self.down = 2.4

    def write(self, words: str, left: float, size: float = 11, font: str = BODY) -> None:
        """Write at the present height."""
        self.canvas.setFont(font, size)
        self.canvas.drawString(left * POINTS_A_CM, (PAGE_CM[1] - self.down) * POINTS_A_CM, words)

    def centred(self, words: str, size: float, down: float) -> None:
        """Write in the middle of the sheet."""
        self.canvas.setFont(BODY, size)
        middle = PAGE_CM[0] / 2 * POINTS_A_CM
        self.canvas.drawCentredString(middle, (PAGE_CM[1] - down) * POINTS_A_CM, words)

    def heading(self, words: str) -> None:
        """A heading with some space above it."""
        self.down += 0.35
        self.write(words, LEFT_CM, 12.5)
        self.down += LINE_CM

    def rows(self, pairs: list[tuple[str, str]]) -> None:
        """One name and one entry a line."""
        for name, entry in pairs:
            self.write(name, LEFT_CM)
            self.write(entry, ENTRY_CM)
            self.down += LINE_CM


def write_cover(cover: Cover, target: Path) -> None:
    """Write the same entries as the proper cover sheet."""
    sheet = Sheet(target)
    sheet.centred(cover.heading, 16, sheet.down)
    sheet.down += 1.0
    sheet.write(cover.statement, LEFT_CM)
    sheet.down += LINE_CM
    sheet.heading("Inventors")
    for line in (INVENTOR_COLUMNS, *cover.inventors):
        for left, words in zip(COLUMNS_CM, line, strict=True):
            sheet.write(words, left)
        sheet.down += LINE_CM
    sheet.heading("The filing")
    sheet.rows(_short_lines(cover))
    sheet.heading("Entity status")
    for tick, words in cover.choices():
        sheet.write(tick, LEFT_CM, 12, TICKS)
        sheet.write(words, LEFT_CM + 0.7)
        sheet.down += LINE_CM
    sheet.heading("Fee")
    sheet.write(f"Total fee (USD): {cover.fee}", LEFT_CM)
    sheet.down += LINE_CM
    sheet.heading("Signature")
    sheet.rows(cover.closing())
    sheet.centred(footer_words("PTO/SB/16"), 10, PAGE_CM[1] - 1.4)
    sheet.canvas.save()
    normalise(target, "ReportLab")


def _short_lines(cover: Cover) -> list[tuple[str, str]]:
    """The rows of the filing, with the long address on two lines."""
    lines: list[tuple[str, str]] = []
    for name, entry in cover.details():
        if len(entry) > LONGEST:
            cut = entry.rindex(", ", 0, LONGEST) + 1
            lines += [(name, entry[:cut]), ("", entry[cut + 1 :])]
        else:
            lines.append((name, entry))
    return lines
