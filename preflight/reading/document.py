"""The reader that a worker runs: one file, from its bytes to facts, page by page."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterator
from importlib.metadata import version
from pathlib import Path, PurePath

import cv2
import pikepdf
import pypdfium2.version

from preflight.facts import Page
from preflight.reading import filetype, images, layout
from preflight.reading.frames import Answer, Done, Job, Looked, Looking, Opened, PageRead, Proved, Typed, Wrote
from preflight.reading.images.looker import Looker
from preflight.reading.limits import peak_memory
from preflight.reading.pages import Document, PdfiumError, read_page
from preflight.reading.sheet import Sheet
from preflight.reading.structure import NeedsPassword, NotOpened, OpenPdf, locked_structure, read_structure
from preflight.reading.written import is_source, read_source

cv2.setNumThreads(1)  # see `workers`: files are read side by side already

STRUCTURE_SHARE = 0.25
"""Of a file's time, for fonts and fields."""
NOT_DRAWN = "its picture could not be drawn (PDFium)"
PROOFS = 10
"""Doubtful pages of one file that are held against their pictures if all of them turn out right."""
STRAINED = 4
"""A buffer that doubles runs into the ceiling when the process took at least about this part of what is allowed."""


def read(job: Job) -> Iterator[Answer]:
    """Everything that is to be known of the file, ending with `Done`. Raises OSError if it cannot be read."""
    path = Path(job.path)
    if path.stat().st_size > job.limits.memory * 1_000_000 // 4:
        yield Done(f"it is larger than {job.limits.memory // 4} MB, more than this program reads", ours=True)
        return
    data = path.read_bytes()
    if job.sha256 and hashlib.sha256(data).hexdigest() != job.sha256:
        yield Done("it was changed while it was being checked", ours=True)
        return
    media_type = filetype.media_type(data)
    is_pdf = media_type == filetype.PDF
    yield Typed(media_type, _readers(is_pdf))
    if is_pdf:
        yield from _pdf(data, job)
    else:
        if data and is_source(path, media_type):
            yield Wrote(read_source(path, data))
        yield Done(_why_not(path, data, media_type))


def _why_not(path: PurePath, data: bytes, media_type: str) -> str | None:
    if not data:
        return "it is empty (0 bytes)"
    if path.suffix.lower() == ".pdf":
        return f"it is named .pdf but is no PDF (its bytes say {media_type})"
    return None


def _readers(is_pdf: bool) -> dict[str, str]:
    found = {"libmagic": filetype.version()}
    if is_pdf:
        found |= {
            "pikepdf": pikepdf.__version__,
            "qpdf": pikepdf.__libqpdf_version__,
            "pypdfium2": version("pypdfium2"),
            "pdfium": str(pypdfium2.version.PDFIUM_INFO),
            "pdfminer.six": version("pdfminer.six"),
        }
        found |= images.versions() if images.installed() else {}
    return dict(sorted(found.items()))


def _pdf(data: bytes, job: Job) -> Iterator[Answer]:
    before = peak_memory()
    try:
        opened = OpenPdf(data)
    except NeedsPassword as error:
        yield Opened(locked_structure(data), 0)
        yield Done(str(error))
        return
    except NotOpened as error:
        yield _fault(str(error), job, before)
        return
    structure = read_structure(opened, job.limits.seconds * STRUCTURE_SHARE) if job.first == 1 else None
    pages = len(opened.pages)
    trouble = _number_of_pages(pages, job)
    yield Opened(structure, 0 if trouble else pages)
    if trouble:
        yield Done(trouble, ours=True) if pages else _fault(trouble, job, before)
        return
    unnamed = {page for font in structure.fonts if not font.named for page in font.pages} if structure else set()
    yield from _pages(data, opened, job, before, unnamed)


def _fault(why: str, job: Job, before: float) -> Done:
    """The end by a fault of the file. Raises MemoryError where it may be our ceiling that the libraries ran into:
    where so much more memory was taken than `before` the file was opened, in MB.
    """
    if peak_memory() - before > job.limits.memory / STRAINED:
        raise MemoryError
    return Done(why)


def _number_of_pages(pages: int, job: Job) -> str | None:
    if pages == 0:
        return "it has no pages"
    return f"it has {pages} pages; at most {job.limits.pages} are read" if pages > job.limits.pages else None


def _pages(data: bytes, opened: OpenPdf, job: Job, before: float, unnamed: Collection[int]) -> Iterator[Answer]:
    """Each page, then what takes longer; on the `unnamed` ones a font names no characters."""
    try:
        document = Document(data)
    except PdfiumError as error:
        yield Opened(None, 0)
        yield _fault(f"its pages could not be drawn (PDFium: {error})", job, before)
        return
    forms: dict[int, Sheet] = {}
    drawn: dict[int, Page] = {}
    doubtful: dict[int, Page] = {}
    for number in range(job.first, len(opened.pages) + 1):
        if number > len(document):
            yield PageRead(Page(number=number, width=0.0, height=0.0, unread="PDFium does not find this page"))
            continue
        sheet = opened.sheet(number)
        page = read_page(document, number, sheet.unit)
        yield PageRead(page)
        if images.needs_a_look(page):
            drawn[number] = page
        if images.needs_proof(page, unnamed):
            doubtful[number] = page
        if page.unread is None and layout.looks_like_form(page, opened.pages[number - 1].obj):
            forms[number] = sheet
    if forms:
        yield from layout.read_blocks(data, forms)
    looker = Looker(document, job.threads) if images.installed() else None
    yield from _looks(looker, drawn, doubtful, text=len(drawn) <= job.limits.text_pages)
    yield Done()


def _looks(looker: Looker | None, drawn: dict[int, Page], doubtful: dict[int, Page], *, text: bool) -> Iterator[Answer]:
    """What stands on these pages, read from their pictures, and whether the characters of others can be trusted.

    `text`: whether pages of text are read as well.
    """
    yield Looking(tuple(drawn), tuple(doubtful))
    yield from _proofs(looker, doubtful)
    for number, page in drawn.items():
        if looker is None:
            yield Looked(number, unread=images.MISSING)
            continue
        try:
            seen = looker.look(number, page.width, page.height, text=text)
        except PdfiumError:
            yield Looked(number, unread=NOT_DRAWN)
        else:
            yield Looked(number, seen.readings, images.TEXT if seen.readings is None else None, seen.writing)


def _proofs(looker: Looker | None, doubtful: dict[int, Page]) -> Iterator[Proved]:
    """Of each doubtful page; where a few from all over the file are as they should be, the others are taken to be."""
    numbers = list(doubtful)
    some = numbers[:: max(1, -(-len(numbers) // PROOFS))]
    found = {number: _proof(looker, doubtful[number]) for number in some}
    bad = any(found.values())
    for number, page in doubtful.items():
        yield Proved(number, found[number] if number in found else _proof(looker, page) if bad else None)


def _proof(looker: Looker | None, page: Page) -> str | None:
    """Why its characters are not to be trusted; without the reader of pictures they are, as far as they make sense."""
    try:
        return images.GARBLED if looker and looker.contradicts(page) else None
    except PdfiumError:
        return NOT_DRAWN
