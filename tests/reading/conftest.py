"""How the tests of this room make documents and read them."""

from __future__ import annotations

import hashlib
import io
from collections.abc import Callable
from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from preflight.facts import PT_PER_CM, Entry, FileFacts, Page
from preflight.reading import Limits
from preflight.reading.document import read
from preflight.reading.frames import Job
from preflight.reading.pages import Document, read_page
from preflight.reading.progress import Reading

A4 = (21.0 * PT_PER_CM, 29.7 * PT_PER_CM)


@pytest.fixture(scope="session")
def draw() -> Callable[..., bytes]:
    """The bytes of a PDF from functions that draw one page each on a canvas in pt."""

    def make(*pages: Callable[[Canvas], object], size: tuple[float, float] = A4, **options: object) -> bytes:
        out = io.BytesIO()
        canvas = Canvas(out, pagesize=size, invariant=True, **options)
        for page in pages:
            page(canvas)
            canvas.showPage()
        canvas.save()
        return out.getvalue()

    return make


@pytest.fixture(scope="session")
def page_of() -> Callable[..., Page]:
    """One page of a PDF, read in this process."""

    def read_one(data: bytes, number: int = 1, unit: float = 1.0) -> Page:
        document = Document(data)
        try:
            return read_page(document, number, unit)
        finally:
            document.close()

    return read_one


@pytest.fixture
def facts_of(tmp_path: Path) -> Callable[..., FileFacts]:
    """All facts of a file with these bytes, read in this process."""

    def read_all(data: bytes, name: str = "paper.pdf", limits: Limits = Limits()) -> FileFacts:  # noqa: B008
        (tmp_path / name).write_bytes(data)
        reading = Reading(Entry(name, len(data), hashlib.sha256(data).hexdigest()), limits)
        for answer in read(Job(str(tmp_path / name), reading.entry.sha256, limits)):
            reading.take(answer)
        assert reading.finished
        return reading.facts()

    return read_all


@pytest.fixture(scope="session")
def entry_of() -> Callable[[Path], Entry]:
    """The entry of a file in a folder's manifest."""

    def make(path: Path) -> Entry:
        data = path.read_bytes()
        return Entry(path.name, len(data), hashlib.sha256(data).hexdigest())

    return make
