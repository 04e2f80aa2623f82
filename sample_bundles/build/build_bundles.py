"""Build the three demo filings anew: python build_bundles.py [FOLDER]."""

import shutil
import sys
from pathlib import Path

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


def build_all(folder: Path) -> None:
    """Write the bundles `proper`, `hurried` and `mixed-up` into the folder."""
    proper, hurried, mixed_up = (folder / name for name in ("proper", "hurried", "mixed-up"))
    for bundle in (proper, hurried, mixed_up):
        if bundle.exists():
            shutil.rmtree(bundle)
        bundle.mkdir(parents=True)
    pages = build_proper(proper)
    build_hurried(hurried, proper, pages)
    build_mixed_up(mixed_up, proper, pages)


def build_proper(bundle: Path) -> int:
    """A filing without faults; return the number of pages of its specification."""
    pages = build_specification(specification_text(), bundle / "specification.pdf")
    build_drawings(bundle / "drawings.pdf")
    print_cover(Cover(pages), bundle / "cover.pdf")
    print_micro(bundle / "micro.pdf")
    return pages


def build_hurried(bundle: Path, proper: Path, pages: int) -> None:
    """The same filing, put together in a hurry."""
    remove_page(proper / "specification.pdf", bundle / "specification.pdf")
    drawings_with_shift_and_total(bundle / "drawings(final).pdf")
    write_cover(Cover(pages), bundle / "cover.pdf")


def build_mixed_up(bundle: Path, proper: Path, pages: int) -> None:
    """The same filing with papers of other versions and of another matter."""
    shutil.copyfile(proper / "specification.pdf", bundle / "specification.pdf")
    restrict(bundle / "specification.pdf")
    build_specification(older_text(specification_text()), bundle / "specification_old.pdf")
    drawings_of_another_matter(bundle / "drawings.pdf")
    bare_cover(pages, bundle / "cover.pdf")


if __name__ == "__main__":
    build_all(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).resolve().parent.parent)
