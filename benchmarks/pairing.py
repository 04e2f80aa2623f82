"""Processor time of pairing names with characters, on made-up specifications of 50, 150, 450 pages with 20 figures.

Prints one line a length; run it by hand on a machine that does nothing else.
"""

from __future__ import annotations

import sys
import time

from preflight.papers import character_table, described
from preflight.papers.characters.clashes import slips, two_names, used_early
from preflight.papers.pages.continuous import continuous
from preflight.testing.building import filing

LINES = 23
"""On a page, set double-spaced."""
FIGURES = 20
PARTS = ("latch", "lever", "spring", "housing", "shaft", "valve", "sensor", "controller", "cover plate", "drive unit")
SENTENCES = (
    "The {0} {1} is connected to the {2} {3} by a screw of 12 mm, as FIG. {4} shows.",
    "A user may press it at any time for about 3 seconds, whereupon a light glows.",
    "In step S{1}, the {2}s {3}, {5} are heated to 80 to 90 degrees for 20 minutes.",
)


def specification(pages: int) -> list[str]:
    """More than one part a line, 400 numbers in all."""
    made = []
    for page in range(pages):
        lines = []
        for line in range(LINES):
            n = page * LINES + line
            words = (PARTS[n % 10], 10 + 2 * (n % 200), PARTS[n // 10 % 10], 500 + 2 * (n % 190), n % FIGURES + 1, 501)
            lines.append(SENTENCES[n % 3].format(*words))
        made.append("\n".join(lines))
    return made


def main() -> None:
    """Each length once; the words of the lines are put together before."""
    filing({"papers": [{"pages": specification(1)}]})
    for pages in (50, 150, 450):
        whole = filing({"papers": [{"pages": specification(pages)}]})
        start = time.process_time()
        continuous(whole.papers[0])
        words = time.process_time() - start
        start = time.process_time()
        text = described(whole.papers)
        paired = time.process_time() - start
        start = time.process_time()
        names = len(two_names(text)), len(slips(text)), len(used_early(text))
        clashes = time.process_time() - start
        start = time.process_time()
        rows = len(character_table(whole).characters)
        table = time.process_time() - start
        sys.stdout.write(
            f"{pages} pages: words of the lines {words:.2f} s; {len(text.mentions)} pairs {paired:.2f} s; "
            f"{sum(names)} clashes {clashes:.2f} s; "
            f"table of {rows} characters {table:.2f} s\n"
        )


if __name__ == "__main__":
    main()
