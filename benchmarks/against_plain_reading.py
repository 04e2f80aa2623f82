"""What a whole check costs, as ratios within one run: against only opening and drawing the pages, and against poppler.

Run by hand: python benchmarks/against_plain_reading.py [--pages 50 500] [--write]. It builds its own input in a
temporary folder and prints a Markdown table; with --write that goes into benchmarks/README.md too. Absolute times
depend on the machine; ratios are worth comparing. Times and memory come from different runs: looking at the memory of
every process many times a second would slow what is timed.
"""

from __future__ import annotations

import argparse
import datetime as dt
import importlib.metadata
import json
import os
import platform
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import psutil
from sheets import drawing_sheets, text_sheets

README = Path(__file__).with_name("README.md")
BEGIN, END = "<!-- made by benchmarks/against_plain_reading.py -->\n", "<!-- end -->"
FEW = 100
"""Up to so many pages every way is run three times and the median taken; more pages are run once."""
DPI = 100
POLL = 0.05
"""Seconds between two looks at the memory."""
POPPLER = (
    ("pdfinfo",),
    ("pdffonts",),
    ("pdfimages", "-list"),
    ("pdftotext", "-bbox"),
    ("pdftoppm", "-r", str(DPI), "-gray"),
)
TO_STDOUT = {"pdftotext": ("-",)}
SHEETS: dict[str, tuple[Callable[[Path, int], None], ...]] = {
    "text sheets": (text_sheets,),
    "drawing sheets": (drawing_sheets,),
    "both, two files": (text_sheets, drawing_sheets),
}
PLAIN = f"""
import sys
from pathlib import Path
import pikepdf, pypdfium2
for path in sorted(Path(sys.argv[1]).iterdir()):
    with pikepdf.open(path) as opened:
        pages = len(opened.pages)
    drawn = pypdfium2.PdfDocument(path)
    for number in range(pages):
        drawn[number].render(scale={DPI} / 72, grayscale=True)
    drawn.close()
"""


@dataclass(frozen=True)
class Row:
    """One folder: median seconds of each way, and the greatest memory of all processes of the check together."""

    sheets: str
    pages: int
    rounds: int
    check: float
    plain: float
    poppler: float | None
    memory: float
    """In MB."""


def main() -> None:
    """Measure, print, and write if asked."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--pages", type=int, nargs="+", default=[50, 500], help="pages of each file")
    asked.add_argument("--write", action="store_true", help="put the table into benchmarks/README.md")
    options = asked.parse_args()
    poppler = all(shutil.which(program) for program, *_ in POPPLER)
    if not poppler:
        print("poppler is not installed: its column is left out\n", file=sys.stderr)
    load = psutil.getloadavg()[0]
    with tempfile.TemporaryDirectory() as place:
        rows = [measured(Path(place), sheets, pages, poppler=poppler) for pages in options.pages for sheets in SHEETS]
    told = "\n".join(table(rows, load, psutil.getloadavg()[0]))
    print(told)
    if options.write:
        old = README.read_text(encoding="utf-8")
        head, rest = old.split(BEGIN)
        README.write_text(f"{head}{BEGIN}{told}\n{END}{rest.split(END, 1)[1]}", encoding="utf-8")


def measured(place: Path, sheets: str, pages: int, *, poppler: bool) -> Row:
    """Every way in turn, as often as there are rounds, then the check once more under observation."""
    folder = place / f"{sheets.replace(' ', '-').replace(',', '')}-{pages}"
    folder.mkdir()
    for make in SHEETS[sheets]:
        make(folder / f"{make.__name__.replace('_', '-')}.pdf", pages)
    report = place / "report.json"
    rounds = 3 if pages <= FEW else 1
    ways: dict[str, Sequence[Sequence[str]]] = {
        "check": [check_command(folder, report)],
        "plain": [(sys.executable, "-c", PLAIN, str(folder))],
        "poppler": list(poppler_commands(folder)) if poppler else [],
    }
    seconds: dict[str, list[float]] = {name: [] for name in ways}
    for _ in range(rounds):
        for name, commands in ways.items():
            seconds[name].append(timed(commands))
    all_was_read(report, pages * len(SHEETS[sheets]))
    medians = {name: statistics.median(times) for name, times in seconds.items()}
    return Row(
        sheets=sheets,
        pages=pages * len(SHEETS[sheets]),
        rounds=rounds,
        check=medians["check"],
        plain=medians["plain"],
        poppler=medians["poppler"] if poppler else None,
        memory=greatest_memory(check_command(folder, report)) / 1e6,
    )


def check_command(folder: Path, report: Path) -> tuple[str, ...]:
    """The check as a person starts it, without its cache. This version has no recognition of scans to switch off."""
    return (sys.executable, "-P", "-m", "preflight", "check", str(folder), "--no-cache", "--json", str(report))


def poppler_commands(folder: Path) -> Iterator[tuple[str, ...]]:
    """Five programs a file, one after the other; what they make goes to their output and is thrown away."""
    for path in sorted(folder.iterdir()):
        for program, *options in POPPLER:
            yield (program, *options, str(path), *TO_STDOUT.get(program, ()))


def timed(commands: Sequence[Sequence[str]]) -> float:
    """Seconds by the clock for all of them, one after the other. Only the check may end with 1, which is FAIL."""
    begin = time.perf_counter()
    for command in commands:
        code = subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False).returncode
        if code and not (code == 1 and "preflight" in command):
            raise RuntimeError(f"{' '.join(command)} ended with {code}")
    return time.perf_counter() - begin


def all_was_read(report: Path, pages: int) -> None:
    """A check that gave up would be fast: every page must have been read."""
    told = json.loads(report.read_bytes())
    seen = sum(document["pages"] for document in told["documents"])
    unread = [finding["message"] for finding in told["findings"] if finding["state"] == "unread"]
    if seen != pages or unread or any(document["note"] for document in told["documents"]):
        raise RuntimeError(f"{seen} of {pages} pages were read; {'; '.join(unread)}")


def greatest_memory(command: Sequence[str]) -> int:
    """Bytes: the largest sum over the process and all its children that was seen at one moment."""
    greatest = 0
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as started:
        while started.poll() is None:
            greatest = max(greatest, memory_now(started.pid))
            time.sleep(POLL)
    return greatest


def memory_now(pid: int) -> int:
    """The sum of `memory_of` now; a process that has just gone counts nothing."""
    total = 0
    try:
        family = [root := psutil.Process(pid), *root.children(recursive=True)]
    except psutil.Error:
        return 0
    for process in family:
        try:
            total += memory_of(process)
        except psutil.Error:
            continue
    return total


def memory_of(process: psutil.Process) -> int:
    """PSS, which shares out what several processes hold together; where there is none, what is its own (USS)."""
    full = process.memory_full_info()
    return int(getattr(full, "pss", 0) or full.uss)


def table(rows: Sequence[Row], before: float, after: float) -> Iterator[str]:
    """Markdown."""
    measure = "PSS" if sys.platform == "linux" else "USS"
    versions = ", ".join(f"{name} {importlib.metadata.version(name)}" for name in ("pikepdf", "pypdfium2"))
    gigabytes = psutil.virtual_memory().total / 2**30
    yield f"{dt.date.today().isoformat()}; {os.cpu_count()} cores, {gigabytes:.0f} GB, {platform.system()};"
    yield f"load before {before:.1f}, after {after:.1f} (our own included);"
    yield f"Python {platform.python_version()}, {versions}{poppler_version()}."
    yield ""
    yield f"| sheets | pages | rounds | check | plain reading | ratio | poppler | ratio | peak memory ({measure}) |"
    yield "|---|--:|--:|--:|--:|--:|--:|--:|--:|"
    for row in rows:
        other = (f"{row.poppler:.1f} s", f"{row.check / row.poppler:.2f}") if row.poppler else ("not installed", "")
        cells = (
            *(row.sheets, row.pages, row.rounds, f"{row.check:.1f} s"),
            *(f"{row.plain:.1f} s", f"{row.check / row.plain:.2f}", *other, f"{row.memory:.0f} MB"),
        )
        yield f"| {' | '.join(map(str, cells))} |"


def poppler_version() -> str:
    """As its own programs say, with a comma in front; nothing without it."""
    if (program := shutil.which("pdfinfo")) is None:
        return ""
    said = subprocess.run([program, "-v"], capture_output=True, text=True, check=False).stderr.splitlines()
    return f", poppler {said[0].rsplit(maxsplit=1)[-1]}" if said else ""


if __name__ == "__main__":
    main()
