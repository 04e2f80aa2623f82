"""Build the demo filings anew: python build_bundles.py [FOLDER [BUNDLE ...]]."""

import shutil
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final

from bundle_a4 import build_a4
from bundle_combined import build_combined
from bundle_from_the_shoebox import build_from_the_shoebox
from bundle_last_minute import build_last_minute
from bundle_scanned import build_scanned
from bundle_three_inventors import build_three_inventors
from cover_without_fonts import write_cover
from drawings import build_drawings
from faults import (
    bare_cover,
    drawings_of_another_matter,
    drawings_with_shift_and_total,
    older_text,
    remove_page,
    restrict,
)
from forms import Cover, print_cover, print_micro
from specification import build_specification, specification_text


def build_proper(bundle: Path) -> int:
    """A filing without faults; return the number of pages of its specification."""
    pages = build_specification(specification_text(), bundle / "specification.pdf")
    build_drawings(bundle / "drawings.pdf")
    print_cover(Cover(pages), bundle / "cover.pdf")
    print_micro(bundle / "micro.pdf")
    return pages


def build_hurried(bundle: Path) -> None:
    """The same filing, put together in a hurry."""
    pages = build_specification(specification_text(), bundle / "specification.pdf")
    remove_page(bundle / "specification.pdf", bundle / "specification.pdf")
    drawings_with_shift_and_total(bundle / "drawings(final).pdf")
    write_cover(Cover(pages), bundle / "cover.pdf")


def build_mixed_up(bundle: Path) -> None:
    """The same filing with papers of other versions and of another matter."""
    pages = build_specification(specification_text(), bundle / "specification.pdf")
    restrict(bundle / "specification.pdf")
    build_specification(older_text(specification_text()), bundle / "specification_old.pdf")
    drawings_of_another_matter(bundle / "drawings.pdf")
    bare_cover(pages, bundle / "cover.pdf")


BUNDLES: Final[dict[str, Callable[[Path], object]]] = {
    "proper": build_proper,
    "hurried": build_hurried,
    "mixed-up": build_mixed_up,
    "scanned": build_scanned,
    "combined": build_combined,
    "three-inventors": build_three_inventors,
    "a4": build_a4,
    "last-minute": build_last_minute,
    "from-the-shoebox": build_from_the_shoebox,
}


def build(folder: Path, names: list[str]) -> None:
    """Write the bundles of these names, or all, into the folder."""
    for name in names or BUNDLES:
        bundle = folder / name
        if bundle.exists():
            shutil.rmtree(bundle)
        bundle.mkdir(parents=True)
        BUNDLES[name](bundle)
        print(f"{name}: {sum(paper.stat().st_size for paper in bundle.iterdir()):,} bytes")


if __name__ == "__main__":
    where = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).resolve().parent.parent
    build(where, sys.argv[2:])
