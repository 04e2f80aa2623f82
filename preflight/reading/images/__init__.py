"""What stands on drawings and scans, read from their pictures, with how sure each letter is.

The recogniser is an extra (`ocr`): where it is not installed nothing is read, and that is said. Whoever only asks
about it loads no library of pictures: most of a check of papers that are known already would be loading them.
"""

from __future__ import annotations

from importlib.metadata import version
from importlib.util import find_spec

from preflight.reading.images.doubt import needs_proof
from preflight.reading.images.need import needs_a_look

__all__ = ["GARBLED", "MISSING", "TEXT", "installed", "needs_a_look", "needs_proof", "versions"]

MISSING = (
    "what is drawn on it was not read: the reader of pictures is not installed"
    " (pip install 'filing-bundle-preflight[ocr]')"
)
TEXT = "it is a page of text as a picture, no sheet of drawings"
GARBLED = "its characters are not what is seen on the page: a search in it finds other words"


def installed() -> bool:
    """Whether the reader of pictures is there."""
    return all(find_spec(name) is not None for name in ("rapidocr", "onnxruntime"))


def versions() -> dict[str, str]:
    """Of its libraries."""
    return {name: version(name) for name in ("rapidocr", "onnxruntime")}
