"""Kinds of file in words that a person uses."""

from __future__ import annotations

PDF = "application/pdf"
_WORDS = {
    PDF: "a PDF",
    "application/octet-stream": "no known kind of file",
    "application/vnd.openxmlformats-officedocument.wordprocessingml.document": "a Word document",
    "application/msword": "an old Word document",
    "application/vnd.oasis.opendocument.text": "an OpenDocument text",
    "application/zip": "a ZIP archive",
    "image/jpeg": "a JPEG picture",
    "image/png": "a PNG picture",
    "image/tiff": "a TIFF picture",
    "text/html": "a web page",
    "text/plain": "plain text",
}
"""Common media types in words."""


def kind_of(media_type: str) -> str:
    """A media type in words, where there are common ones."""
    return _WORDS.get(media_type, media_type or "no known kind of file")
