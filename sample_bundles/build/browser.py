"""Printing a page of our own to PDF with a headless browser."""

import os
import subprocess
import tempfile
from pathlib import Path
from typing import Final

from normalising import normalise

STYLES: Final = Path(__file__).with_name("form_styles.css")
BROWSER: Final = os.environ.get("CHROMIUM", "chromium")

SWITCHES: Final = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-sync",
    "--no-first-run",
    "--no-pdf-header-footer",
)


def print_page(body: str, title: str, target: Path, *, height_in: float = 11, zoom: float = 1) -> None:
    """Print the body on one sheet 8.5 inches wide, `height_in` inches high, letters x `zoom`."""
    sheet = (
        f"@page {{ size: 8.5in {height_in}in; }}\n"
        f"body {{ position: relative; height: {height_in / zoom - 0.02}in; zoom: {zoom}; }}"
    )
    print_html(body, STYLES.read_text(encoding="utf-8") + sheet, title, target)


def print_html(body: str, styles: str, title: str, target: Path) -> None:
    """Print a document of one or more pages."""
    page = (
        f'<!DOCTYPE html>\n<html lang="en-US"><head><meta charset="utf-8"><title>{title}</title>'
        f"<style>{styles}</style></head><body>{body}</body></html>"
    )
    with tempfile.TemporaryDirectory() as folder:
        source = Path(folder) / "page.html"
        source.write_text(page, encoding="utf-8")
        printed = Path(folder) / "page.pdf"
        switches = [*SWITCHES, f"--user-data-dir={folder}/profile", f"--print-to-pdf={printed}"]
        subprocess.run([BROWSER, *switches, source.as_uri()], check=True, capture_output=True, timeout=120)
        target.write_bytes(printed.read_bytes())
    normalise(target, "Chromium", title)
