"""How fast a specification is understood after it was read, and how the time grows: 50, 150 and 450 pages in one run.

Run: `.venv/bin/python benchmarks/understanding.py`. The pages are made up: 25 lines each, 20 figures, 20 claims.
"""

from __future__ import annotations

import resource
import sys
import time

from preflight.checks.built_in import CHECKS
from preflight.papers import Filing
from preflight.papers.specification.structure import specification
from preflight.rulebooks import as_struct
from preflight.testing import filing, requirements

SIZES = (50, 150, 450)
FIGURES, CLAIMS, LINES = 20, 20, 25
SUBJECTS = ("specification", "claims", "titles", "wording")
RUNS = 3


def made(pages: int) -> Filing:
    """A filing with a specification of so many pages, and its drawings."""
    head = [
        "ROLLER ASSEMBLY FOR A CONVEYOR",
        "BACKGROUND",
        "Rollers of conveyors are known in many shapes and sizes.",
        "BRIEF DESCRIPTION OF THE DRAWINGS",
        *(f"FIG. {n} is a side view of part {n}." for n in range(1, FIGURES + 1)),
    ]
    body = [_page(number) for number in range(pages - 4)]
    claims = [
        "CLAIMS",
        "1. A roller assembly, comprising a shaft and a roller on the shaft.",
        *(
            f"{n}. The roller assembly of claim {n - 1}, wherein the roller has {n} grooves."
            for n in range(2, CLAIMS + 1)
        ),
    ]
    abstract = ["ABSTRACT", "A roller assembly has a shaft and a roller that turns on the shaft."]
    texts = [head, ["DETAILED DESCRIPTION", *body[0][1:]], *body[1:], claims, abstract]
    sheets = [{"text": [f"FIG. {n}"]} for n in range(1, FIGURES + 1)]
    said = [{"text": text, "foot": str(number)} for number, text in enumerate(texts, 1)]
    return filing({"papers": [{"pages": said}, {"role": "drawings", "pages": sheets}]})


def _page(number: int) -> list[str]:
    figure = number % FIGURES + 1
    start = f"Referring to FIG. {figure}, a shaft {100 + number} carries a roller {500 + number} on two bearings."
    row = "The shaft turns within the roller while the belt runs over it at a speed that the drive sets"
    return [start, *(row + ("." if line % 6 == 5 else " and") for line in range(LINES - 1))]


def main() -> None:
    """A row for each size: structure alone, then with all checks of the text."""
    load = [r for r in requirements(office="us") if r.check and _of_text(r.check)]
    print(f"{'pages':>6}  {'structure':>10}  {'with checks':>12}  {'ms a page':>10}")
    for pages in SIZES:
        found = min((timed(pages, load) for _ in range(RUNS)), key=sum)
        print(f"{pages:>6}  {found[0]:>8.3f} s  {sum(found):>10.3f} s  {1000 * sum(found) / pages:>10.2f}")
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(f"peak memory {peak / (1024 if sys.platform != 'darwin' else 1024**2):.0f} MB")


def _of_text(name: str) -> bool:
    check = next(c for c in CHECKS if c.name == name)
    return check.run.__module__.rsplit(".", 1)[-1] in SUBJECTS


def timed(pages: int, load: list) -> tuple[float, float]:  # type: ignore[type-arg]
    """Seconds for the structure, and for the checks after it."""
    one = made(pages)
    begin = time.perf_counter()
    specification(one)
    between = time.perf_counter()
    for requirement in load:
        check = next(c for c in CHECKS if c.name == requirement.check)
        list(check.run(one, as_struct(requirement, check)))
    return between - begin, time.perf_counter() - between


if __name__ == "__main__":
    main()
