"""`scanned`: the whole proper filing printed, signed with a pen, and scanned paper by paper."""

import tempfile
from pathlib import Path

from drawings import build_drawings
from forms import Cover, print_cover, print_micro
from scanner import scan
from specification import build_specification, specification_text


def build_scanned(bundle: Path) -> None:
    """The four papers of `proper`, as pictures."""
    with tempfile.TemporaryDirectory() as name:
        printed = Path(name)
        pages = build_specification(specification_text(), printed / "specification.pdf")
        build_drawings(printed / "drawings.pdf")
        print_cover(Cover(pages, signature=""), printed / "cover.pdf")
        print_micro(printed / "micro.pdf", signature="")
        for first, paper in enumerate(("cover", "micro", "specification", "drawings")):
            scan(printed / f"{paper}.pdf", bundle / f"{paper}.pdf", first)
