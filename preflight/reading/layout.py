"""Text boxes of form-like pages, by the lay-out analysis of pdfminer.six."""

from __future__ import annotations

import io
import time
from collections.abc import Iterator, Mapping

import pikepdf
from pdfminer.converter import PDFPageAggregator
from pdfminer.layout import LAParams, LTPage, LTTextBox, LTTextLine
from pdfminer.pdfinterp import PDFPageInterpreter, PDFResourceManager
from pdfminer.pdfpage import PDFPage

from preflight.facts import Block, Page
from preflight.reading.frames import LaidOut
from preflight.reading.sheet import Affine, Sheet
from preflight.reading.structure import TROUBLES

SECONDS = 15.0
"""For all pages of a file; later ones stay without blocks."""
SHORT = 60
"""Characters of a line that may be the label of a form's cell."""
LABELS = 3
"""So many short lines with a colon or a tick box make a page look like a form."""

_TICKS = frozenset("\u2610\u2611\u2612\u25a1\u25a2\u25fb\u274f\u2751")


def looks_like_form(page: Page, pdf_page: pikepdf.Object) -> bool:
    """Whether it has form fields, or several short lines with a colon or a tick box."""
    labels = [line for line in page.lines if len(line.text) <= SHORT and (":" in line.text or _TICKS & {*line.text})]
    return len(labels) >= LABELS or _has_fields(pdf_page)


def _has_fields(pdf_page: pikepdf.Object) -> bool:
    try:
        annotations = pdf_page.get("/Annots")
        return isinstance(annotations, pikepdf.Array) and any(
            isinstance(annotation, pikepdf.Dictionary) and annotation.get("/Subtype") == "/Widget"
            for annotation in annotations
        )
    except TROUBLES:
        return False


def read_blocks(data: bytes, sheets: Mapping[int, Sheet]) -> Iterator[LaidOut]:
    """The blocks of these pages, as displayed; none, with the reason, from the first that cannot be laid out."""
    waiting = sorted(sheets)
    try:
        for number, blocks in _read(data, sheets):
            yield LaidOut(number, blocks)
            waiting.remove(number)
        why = f"the lay-out of its forms took longer than {SECONDS:g} seconds, or pdfminer does not find this page"
    except Exception as error:  # noqa: BLE001  pdfminer raises anything; blocks are a second opinion
        why = f"pdfminer could not lay it out ({type(error).__name__})"
    for number in waiting:
        yield LaidOut(number, (), why)


def _read(data: bytes, sheets: Mapping[int, Sheet]) -> Iterator[tuple[int, tuple[Block, ...]]]:
    """Page by page, as far as the time goes."""
    until = time.monotonic() + SECONDS
    store = PDFResourceManager()
    device = PDFPageAggregator(store, laparams=LAParams(all_texts=True, boxes_flow=None))
    interpreter = PDFPageInterpreter(store, device)
    pages = PDFPage.get_pages(io.BytesIO(data), pagenos={number - 1 for number in sheets})
    for number, page in zip(sorted(sheets), pages, strict=False):
        if time.monotonic() > until:
            return
        interpreter.process_page(page)
        sheet = sheets[number]
        to_display = sheet.to_display.after(_to_user_space(page))
        yield number, tuple(_blocks(device.get_result(), to_display, sheet))


def _to_user_space(page: PDFPage) -> Affine:
    """The way back from pdfminer's coordinates: it turns the page and moves its MediaBox to the origin."""
    left, bottom, right, top = page.mediabox
    return {
        90: Affine(0, 1, -1, 0, right, bottom),
        180: Affine(-1, 0, 0, -1, right, top),
        270: Affine(0, -1, 1, 0, left, top),
    }.get(page.rotate % 360, Affine(1, 0, 0, 1, left, bottom))


def _blocks(layout: LTPage, to_display: Affine, sheet: Sheet) -> Iterator[Block]:
    for item in layout:
        if not isinstance(item, LTTextBox):
            continue
        texts = (" ".join(line.get_text().split()) for line in item if isinstance(line, LTTextLine))
        lines = tuple(text for text in texts if text)
        box = sheet.within(to_display.box(item.bbox))
        if lines and box is not None:
            yield Block(box, lines)
