"""The reader that a worker runs for pictures: one file, from its bytes to cut-outs of its pages."""

from __future__ import annotations

import contextlib
import hashlib
from collections.abc import Callable, Iterator
from pathlib import Path

import cv2
import numpy as np

from preflight.facts import Cut
from preflight.reading.frames import Answer, Clipped, Done, Job
from preflight.reading.pages import Document, PdfiumError
from preflight.reading.pages.pdfium import Raster
from preflight.reading.pages.pixels import drawn_at

cv2.setNumThreads(1)  # see `workers`

STEPS = 16
"""Levels of brightness that are kept: more only make the file larger."""
_QUALITIES = (101, 50)
"""Of WebP: above 100 nothing is lost."""
COLOURED = 24
"""Red, green and blue of a pixel differ so much where there is colour: less is the fringe of smoothed letters."""


def read(job: Job) -> Iterator[Answer]:
    """Each cut of the job, ending with `Done`. Raises OSError if the file cannot be read.

    A page that cannot be drawn yields nothing for its cuts.
    """
    data = Path(job.path).read_bytes()
    if hashlib.sha256(data).hexdigest() != job.sha256:
        yield Done("it was changed while it was being checked", ours=True)
        return
    try:
        document = Document(data)
    except PdfiumError as error:
        yield Done(f"its pages could not be drawn (PDFium: {error})")
        return
    for index, cut in enumerate(job.cuts):
        with contextlib.suppress(PdfiumError):
            yield Clipped(index, _ENCODED[cut.form](_few_tones(_cut_out(document, cut))))
    yield Done()


def _cut_out(document: Document, cut: Cut) -> Raster:
    columns, rows, scale = drawn_at(*cut.sheet, cut.dpi)
    with document.page(cut.page) as page:
        return page.raster(columns, rows)[scale.window(cut.box)]


def _few_tones(picture: Raster) -> Raster:
    """Grey where there is no colour, with few levels, so that it stays small."""
    colourless = int(np.ptp(picture.astype(np.int16), axis=2).max(initial=0)) < COLOURED
    kept = cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY) if colourless else picture
    step = 255 // (STEPS - 1)
    return (np.rint(kept / step) * step).astype(np.uint8)


def _png(picture: Raster) -> bytes:
    return cv2.imencode(".png", picture, [cv2.IMWRITE_PNG_COMPRESSION, 9])[1].tobytes()


def _webp(picture: Raster) -> bytes:
    """Exact, as is best for print; a photograph or a noisy scan loses what nobody misses at this size."""
    tones = picture if picture.ndim == 3 else cv2.cvtColor(picture, cv2.COLOR_GRAY2BGR)
    ways = (cv2.imencode(".webp", tones, [cv2.IMWRITE_WEBP_QUALITY, quality])[1].tobytes() for quality in _QUALITIES)
    return min(ways, key=len)


_ENCODED: dict[str, Callable[[Raster], bytes]] = {"png": _png, "webp": _webp}
