"""What reading costs, as ratios within one run: against only drawing the pages, and with more workers.

Run by hand: python benchmarks/reading.py [FOLDER]. Absolute times depend on the machine; ratios are worth comparing.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

import psutil
import pypdfium2

from preflight.bundle import read_folder
from preflight.reading import read_files

SAMPLE = Path(__file__).resolve().parents[1] / "sample_bundles" / "proper"
ROUNDS = 5
DPI = 150


def main(folder: Path) -> None:
    """Print median seconds of each way, and their ratios."""
    entries = read_folder(folder).files
    pages = sum(len(facts.pages) for facts in read_files(folder, entries))
    ways: dict[str, Callable[[], object]] = {
        "only drawing the pages": lambda: [draw(folder / entry.name) for entry in entries],
        "reading, one worker": lambda: read_files(folder, entries, workers=1),
        "reading, two workers": lambda: read_files(folder, entries, workers=2),
    }
    seconds = {name: statistics.median(timed(way) for _ in range(ROUNDS)) for name, way in ways.items()}
    for name, median in seconds.items():
        print(f"{name:26} {median:6.2f} s, {median / pages * 1000:5.0f} ms a page")
    drawing, one, two = seconds.values()
    print(f"one worker costs {one / drawing:.1f} x drawing alone; a second makes it {one / two:.2f} x as fast")
    memory = psutil.Process().memory_info().rss / 1e6
    print(f"{pages} pages; memory of the parent at the end {memory:.0f} MB")


def draw(path: Path) -> None:
    """Every page once, thrown away."""
    document = pypdfium2.PdfDocument(path)
    for page in document:
        page.render(scale=DPI / 72)
    document.close()


def timed(way: Callable[[], object]) -> float:
    """Seconds by the clock."""
    begin = time.perf_counter()
    way()
    return time.perf_counter() - begin


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else SAMPLE)
