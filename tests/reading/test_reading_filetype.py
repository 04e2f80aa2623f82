"""What kind of file it is comes from its bytes, by the libmagic of a wheel."""

from __future__ import annotations

import importlib.metadata
import sys
from pathlib import Path

import pytest

from preflight.reading import filetype

WHEEL = "python-magic-bin" if sys.platform == "win32" else "pylibmagic"


def test_the_library_loaded_is_the_one_from_the_wheel():
    loaded = Path(filetype.library())
    files = importlib.metadata.files(WHEEL) or []
    assert loaded.resolve() in {Path(str(file.locate())).resolve() for file in files if "magic" in file.name}


@pytest.mark.skipif(not Path("/proc/self/maps").exists(), reason="the system does not list what a process has loaded")
def test_no_other_libmagic_is_in_this_process():
    filetype.media_type(b"%PDF-1.4")
    mapped = {line.split()[-1] for line in Path("/proc/self/maps").read_text().splitlines() if "libmagic" in line}
    assert mapped
    assert all("pylibmagic" in path for path in mapped)


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n", "application/pdf"),
        (b"\x00\x01\x02 rubbish before it\n%PDF-1.4\n", "application/pdf"),
        (b"plain words\n", "text/plain"),
        (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x00\x01\x00\x00\x00\x01\x08\x02\x00\x00\x00", "image/png"),
        (b"", "application/x-empty"),
    ],
)
def test_kinds(data: bytes, kind: str):
    assert filetype.media_type(data) == kind


def test_the_version_is_two_numbers():
    assert [int(part) for part in filetype.version().split(".")] > [5, 0]
