"""How long a second check of an unchanged folder takes: ten scanned drawing sheets and a description.

Run: `.venv/bin/python benchmarks/second_check.py`. Each check is a whole process, the start of Python included; the
cache folder is a new one, empty before the first check. With --json the places of findings are drawn anew each time.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pypdfium2
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas
from sheets import HEIGHT, WIDTH, drawing_sheets, text_sheets

SHEETS, TEXT, DPI, AGAIN = 10, 5, 300, 3


def main() -> None:
    """Seconds of the first check and of three more, and their ratio; then of three with pictures."""
    with tempfile.TemporaryDirectory() as place:
        folder, cache = Path(place, "bundle"), Path(place, "cache")
        folder.mkdir()
        text_sheets(folder / "specification.pdf", TEXT)
        _scan(Path(place, "drawn.pdf"), folder / "drawings.pdf")
        first, *later = [_check(folder, cache) for _ in range(1 + AGAIN)]
        pictured = [_check(folder, cache, "--json", "-") for _ in range(AGAIN)]
    print(f"first check {first:.2f} s; again " + ", ".join(f"{one:.2f} s" for one in later))
    print("with --json " + ", ".join(f"{one:.2f} s" for one in pictured))
    print(f"ratio of the quickest later one {min(later) / first:.3f}")


def _scan(drawn: Path, scanned: Path) -> None:
    """The same sheets as one black and white picture each."""
    drawing_sheets(drawn, SHEETS)
    document = pypdfium2.PdfDocument(drawn)
    canvas = Canvas(str(scanned), pagesize=(WIDTH, HEIGHT), invariant=1)
    for page in document:
        picture = page.render(scale=DPI / 72, grayscale=True).to_pil().convert("1", dither=0)
        canvas.drawImage(ImageReader(picture), 0, 0, WIDTH, HEIGHT)
        canvas.showPage()
    canvas.save()
    document.close()


def _check(folder: Path, cache: Path, *options: str) -> float:
    command = [sys.executable, "-m", "preflight", "check", str(folder), *options]
    began = time.perf_counter()
    done = subprocess.run(
        command, env=os.environ | {"PREFLIGHT_CACHE": str(cache)}, capture_output=True, text=True, check=False
    )
    seconds = time.perf_counter() - began
    if done.returncode not in (0, 1):
        raise SystemExit(done.stderr)
    return seconds


if __name__ == "__main__":
    main()
