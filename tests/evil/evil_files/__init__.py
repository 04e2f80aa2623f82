"""Small files made to break, hang or mislead a program that reads PDFs; none is much larger than a megabyte."""

from __future__ import annotations

from pathlib import Path

from evil_files import boxes, damage, fonts, pictures, streams, trees, words
from evil_files.raw import EVIL

__all__ = ["EVIL", "boxes", "damage", "fonts", "pictures", "streams", "trees", "words", "write_all"]


def write_all(folder: Path) -> list[Path]:
    """Write every file into the folder; the paths."""
    paths = [folder / f"{name}.pdf" for name in EVIL]
    for path, maker in zip(paths, EVIL.values(), strict=True):
        path.write_bytes(maker())
    return paths
