"""Small files made to break, hang or mislead a program that reads PDFs; none is much larger than a megabyte."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from evil_files import boxes, damage, fonts, pictures, streams, trees, words
from evil_files.raw import EVIL, HEAVY

__all__ = ["EVIL", "HEAVY", "boxes", "damage", "fonts", "pictures", "streams", "trees", "words", "write"]


def write(folder: Path, names: Iterable[str]) -> None:
    """Write these files into the folder."""
    for name in names:
        (folder / f"{name}.pdf").write_bytes(EVIL[name]())
