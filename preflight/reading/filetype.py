"""What kind of file some bytes are, by libmagic from a wheel (no system package)."""

from __future__ import annotations

import contextlib

with contextlib.suppress(ImportError):  # Windows: python-magic-bin brings its own library
    import pylibmagic  # noqa: F401  must come first: it leads the next import to the library in its own wheel

import magic

PDF = "application/pdf"

_UNSURE = ("application/octet-stream", "text/plain", "application/x-empty")
_HEAD = 1024


def media_type(data: bytes) -> str:
    """The media type as the bytes say. A %PDF- mark within the first 1024 bytes decides where libmagic is unsure."""
    found = magic.from_buffer(data, mime=True)
    if found in _UNSURE and b"%PDF-" in data[:_HEAD]:
        return PDF
    return found


def library() -> str:
    """The path of the libmagic in use."""
    return str(getattr(magic.libmagic, "_name", ""))


def version() -> str:
    """The version of libmagic, e.g. "5.45"."""
    number = int(magic.version())  # type: ignore[no-untyped-call]  # its stub leaves it bare
    return f"{number // 100}.{number % 100:02d}"
