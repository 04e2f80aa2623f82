"""Which reader this is: whatever could change the facts that it gives of the same bytes."""

from __future__ import annotations

import hashlib
import platform
import sys
from collections.abc import Iterator
from functools import cache
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path

import msgspec

import preflight
from preflight.reading.limits import Limits

LIBRARIES = (
    "msgspec",
    "numpy",
    "onnxruntime",
    "opencv-python-headless",
    "pdfminer.six",
    "pikepdf",
    "pypdfium2",
    "pylibmagic",
    "python-magic",
    "python-magic-bin",
    "rapidocr",
)
"""Distributions that facts go through; not all are there on every platform."""
ROOMS = ("facts", "reading")
"""Their source counts as it stands, so that whoever changes it never sees facts of an earlier state."""


def fingerprint(limits: Limits) -> str:
    """The digest (hex) of the reader and of what it may take; another one means other facts."""
    return hashlib.sha256(_reader() + msgspec.json.encode(limits)).hexdigest()


@cache
def _reader() -> bytes:
    whole = hashlib.sha256()
    for part in _parts(Path(preflight.__file__).parent):
        whole.update(hashlib.sha256(part).digest())  # each has the same length: none can run into the next
    return whole.digest()


def _parts(home: Path) -> Iterator[bytes]:
    for said in (preflight.__version__, sys.version, sys.platform, platform.machine()):
        yield said.encode()
    for name in LIBRARIES:
        yield f"{name} {_build(name)}".encode()
    for path in sorted(path for room in ROOMS for path in (home / room).rglob("*.py")):
        yield path.relative_to(home).as_posix().encode()
        yield path.read_bytes()


def _build(name: str) -> str:
    """Version and list of files with their digests: two builds of one version may hold different C++ libraries."""
    try:
        found = distribution(name)
    except PackageNotFoundError:
        return "not installed"
    return f"{found.version} {found.read_text('RECORD')}"
