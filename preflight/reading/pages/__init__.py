"""What each page shows, by PDFium: ink, colour, tone, lines of characters, pictures."""

from __future__ import annotations

import hashlib
import math

import cv2
import numpy as np

from preflight.facts import CM_PER_PT, Page
from preflight.reading.pages.beside import with_strokes_beside
from preflight.reading.pages.borders import find_frame
from preflight.reading.pages.edges import dark_edges
from preflight.reading.pages.faint import find_faint
from preflight.reading.pages.fills import find_fills
from preflight.reading.pages.ink import find_ink, find_marks, ink_box, scans_of
from preflight.reading.pages.pale import find_pale, ground
from preflight.reading.pages.pdfium import Document, OpenPage, PdfiumError, Placed, Stroke
from preflight.reading.pages.pens import find_pens
from preflight.reading.pages.pictures import find_pictures
from preflight.reading.pages.pixels import raster_size, scale_of
from preflight.reading.pages.scrawls import find_scrawls
from preflight.reading.pages.shades import find_shades
from preflight.reading.pages.skew import find_skew
from preflight.reading.pages.squares import find_squares
from preflight.reading.pages.strokes import as_seen, find_bars
from preflight.reading.pages.text import find_lines
from preflight.reading.pages.tones import find_colour, find_tone
from preflight.reading.pages.traces import find_traces
from preflight.reading.pages.widths import usual_width
from preflight.reading.sheet import Affine, Sheet

__all__ = ["Document", "PdfiumError", "read_page"]

NOT_DRAWN = "this page could not be drawn (PDFium)"
NO_SIZE = "this page has no size"
TOO_LARGE = "this page is larger than 20 metres"
LARGEST_CM = 2000.0


def read_page(document: Document, number: int, unit: float) -> Page:
    """One page; what PDFium refuses is unread. `unit` is the UserUnit, which PDFium does not know."""
    try:
        with document.page(number) as page:
            return _read(page, number, unit)
    except PdfiumError:
        return Page(number=number, width=0.0, height=0.0, unread=NOT_DRAWN)
    except MemoryError:
        return Page(number=number, width=0.0, height=0.0, unread="drawing this page needs too much memory")


def _read(page: OpenPage, number: int, unit: float) -> Page:
    sheet, to_display = _sheet(page, unit)
    if trouble := _trouble(sheet):
        return Page(number=number, width=0.0, height=0.0, unread=trouble, rotate=sheet.rotate)
    columns, rows = raster_size(sheet)
    scale = scale_of(sheet, columns, rows)
    raster = page.raster(columns, rows)
    page.flatten()
    objects = list(page.objects())
    pictures = find_pictures([one for one in objects if isinstance(one, Placed)], to_display, sheet)
    scans = scans_of([p.box for p in pictures], sheet)
    grey = np.asarray(cv2.cvtColor(raster, cv2.COLOR_BGR2GRAY), dtype=np.uint8)
    ink = find_ink(grey, scans, scale)
    marked = ink.copy() if scans else ink
    edges = dark_edges(ink, scans, scale)
    tones = np.where(marked > ink, np.uint8(255), grey) if edges else grey
    colour, hue = find_colour(raster, scans, scale)
    words = find_lines(page.characters(), to_display, sheet)
    skew = find_skew(ink, scale) if scans else None
    squares, seen = find_squares(grey, scale), as_seen(words.lines, grey, scale)
    fills, solid = find_fills(grey, ink, scale)
    strokes = [one for one in objects if isinstance(one, Stroke)]
    return Page(
        number=number,
        width=sheet.width,
        height=sheet.height,
        text_unread=words.trouble,
        rotate=sheet.rotate,
        blur=scale.blur,
        ink=ink_box(ink, scale),
        marks=find_marks(ink, scale),
        colour=colour,
        tone=find_tone(tones, hue, scans, scale),
        lines=with_strokes_beside(seen, ink, scale),
        off_page=words.outside,
        pictures=pictures,
        squares=squares,
        scrawls=() if scans else find_scrawls(ink, seen, squares, scale),
        bars=find_bars(strokes, words, to_display, sheet),
        shades=find_shades(raster, hue, seen, scale),
        pale=find_pale(tones, scale),
        ground=ground(grey),
        pens=find_pens(strokes, to_display, sheet),
        usual_width=usual_width(grey, ink, scale) if scans else None,
        traces=find_traces(grey, solid, pictures, scale),
        faint=find_faint(grey, ink, solid, pictures, scale),
        fills=fills,
        frame=find_frame(ink, scale, skew=skew),
        skew=skew,
        dark_edges=edges,
        digest=hashlib.sha256(grey.tobytes()).hexdigest()[:16],
    )


def _sheet(page: OpenPage, unit: float) -> tuple[Sheet, Affine]:
    """The page as PDFium displays it, so that raster, characters and pictures agree."""
    width, height = page.size
    by = CM_PER_PT * unit
    to_display = Affine(by, 0, 0, by, 0, 0).after(page.to_display())
    return Sheet(round(width * by, 4), round(height * by, 4), page.rotate, unit, to_display), to_display


def _trouble(sheet: Sheet) -> str | None:
    sides = sheet.width, sheet.height
    if not all(math.isfinite(side) and side > 0.01 for side in sides):
        return NO_SIZE
    return TOO_LARGE if max(sides) > LARGEST_CM else None
