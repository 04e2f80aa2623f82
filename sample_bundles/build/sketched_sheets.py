"""Drawing sheets by other programs than a PDF library: a browser's print, and LibreOffice Draw."""

from collections.abc import Iterable, Sequence
from html import escape
from pathlib import Path
from typing import Final

from browser import print_html
from pen import PAGE_CM, Point
from sketch import Letters, Sketch, Stroke
from word_processor import export

TEMPLATE: Final = Path(__file__).with_name("sheets.fodg")
DASH_CM: Final = (0.18, 0.11)
A4_CM: Final = (21.0, 29.7)


def print_sheets(sheets: Sequence[Sketch], title: str, target: Path) -> None:
    """Print Letter sheets with a browser, each a vector picture of the size of the page."""
    width, height = PAGE_CM
    styles = f"@page {{ size: {width}cm {height}cm; margin: 0; }} body {{ margin: 0; }} svg {{ display: block; }}"
    pictures = "".join(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}cm" height="{height - 0.01}cm" '
        f'viewBox="0 0 {width} {height - 0.01}" style="break-after: {"auto" if sheet is sheets[-1] else "page"}">'
        f"{''.join(map(_svg, sheet.items))}</svg>"
        for sheet in sheets
    )
    print_html(pictures, styles, title, target)


def _svg(item: Stroke | Letters) -> str:
    if isinstance(item, Letters):
        x, y = item.at
        return (
            f'<text x="{x:.4f}" y="{y:.4f}" font-family="Liberation Sans" text-anchor="middle" '
            f'font-size="{item.size / 72 * 2.54:.4f}" xml:space="preserve">{escape(item.text)}</text>'
        )
    dash = f' stroke-dasharray="{DASH_CM[0]} {DASH_CM[1]}"' if item.dashed else ""
    return (
        f'<path d="{_way(item.points, item.closed, 1)}" fill="{"#fff" if item.fill else "none"}" '
        f'stroke="{"#000" if item.drawn else "none"}" stroke-width="{item.width:.4f}" '
        f'stroke-linejoin="round" stroke-linecap="{"butt" if item.dashed else "round"}"{dash}/>'
    )


def _way(points: Iterable[Point], closed: bool, scale: float) -> str:
    return "M" + " L".join(f"{x * scale:.4f} {y * scale:.4f}" for x, y in points) + (" Z" if closed else "")


def draw_a4_sheets(sheets: Sequence[Sketch], title: str, locale: str, target: Path) -> None:
    """Let LibreOffice Draw make A4 sheets of shapes and text boxes."""
    widths = sorted({item.width for sheet in sheets for item in sheet.items if isinstance(item, Stroke)})
    sizes = sorted({item.size for sheet in sheets for item in sheet.items if isinstance(item, Letters)})
    pages = "".join(
        f'<draw:page draw:name="{number}" draw:master-page-name="Sheet">'
        f"{''.join(_shape(item, widths, sizes) for item in sheet.items)}</draw:page>"
        for number, sheet in enumerate(sheets, start=1)
    )
    styles = "".join(_line_styles(number, width) for number, width in enumerate(widths))
    letters = "".join(_letter_styles(number, size) for number, size in enumerate(sizes))
    template = TEMPLATE.read_text(encoding="utf-8")
    document = template.format(styles=styles + letters, pages=pages, width=A4_CM[0], height=A4_CM[1])
    export(document.encode(), ".fodg", target, title=title, program="draw", options={}, locale=locale)


def _shape(item: Stroke | Letters, widths: list[float], sizes: list[float]) -> str:
    if isinstance(item, Letters):
        size = item.size / 72 * 2.54
        left, top, across = item.at[0] - 8, item.at[1] - 0.905 * size, 16
        return (
            f'<draw:frame draw:style-name="box" svg:x="{left:.4f}cm" svg:y="{top:.4f}cm" svg:width="{across}cm" '
            f'svg:height="{1.15 * size:.4f}cm"><draw:text-box><text:p text:style-name="p{sizes.index(item.size)}">'
            f'<text:span text:style-name="t{sizes.index(item.size)}">{_blanks(item.text)}</text:span></text:p>'
            "</draw:text-box></draw:frame>"
        )
    kind = "d" if item.dashed else "s" if item.drawn else "n"
    style = f"{kind}{'f' if item.fill else 'o'}{widths.index(item.width)}"
    lefts, tops = zip(*item.points, strict=True)
    x, y = min(lefts), min(tops)
    wide, high = max(max(lefts) - x, 0.001), max(max(tops) - y, 0.001)
    moved = [(px - x, py - y) for px, py in item.points]
    return (
        f'<draw:path draw:style-name="{style}" svg:x="{x:.4f}cm" svg:y="{y:.4f}cm" svg:width="{wide:.4f}cm" '
        f'svg:height="{high:.4f}cm" svg:viewBox="0 0 {wide * 1000:.0f} {high * 1000:.0f}" '
        f'svg:d="{_way(moved, item.closed, 1000)}"/>'
    )


def _blanks(text: str) -> str:
    return escape(text).replace("    ", ' <text:s text:c="3"/>')


def _line_styles(number: int, width: float) -> str:
    """Styles of this line width: solid, dashed or none, each with and without white filling."""
    strokes = {"s": "solid", "d": "dash", "n": "none"}
    fills = {"f": 'draw:fill="solid" draw:fill-color="#ffffff"', "o": 'draw:fill="none"'}
    return "".join(
        f'<style:style style:name="{s}{f}{number}" style:family="graphic"><style:graphic-properties '
        f'draw:stroke="{stroke}" draw:stroke-dash="Dash" svg:stroke-width="{width:.4f}cm" svg:stroke-color="#000000" '
        f'draw:stroke-linejoin="round" svg:stroke-linecap="{"butt" if s == "d" else "round"}" {fill}/></style:style>'
        for s, stroke in strokes.items()
        for f, fill in fills.items()
    )


def _letter_styles(number: int, size: float) -> str:
    return (
        f'<style:style style:name="p{number}" style:family="paragraph"><style:paragraph-properties '
        'fo:text-align="center"/></style:style>'
        f'<style:style style:name="t{number}" style:family="text"><style:text-properties '
        f'style:font-name="Sans" fo:font-size="{size}pt" fo:color="#000000"/></style:style>'
    )
