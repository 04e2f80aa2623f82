"""The one wall round PDFium: plain typed values come out; everything untyped stops here."""

from __future__ import annotations

import ctypes
import math
from collections.abc import Iterator
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt
import pypdfium2.raw as _untyped

from preflight.reading.sheet import Affine

_pdfium: Any = _untyped

Raster = npt.NDArray[np.uint8]
Colour = tuple[int, int, int]
"""Red, green and blue, 0 to 255."""
BLACK: Colour = (0, 0, 0)

DEEPEST = 12
"""Form XObjects within each other."""
MOST_OBJECTS = 200_000
"""Page objects looked at for pictures."""
MOST_CHARACTERS = 100_000
"""Characters taken from one page; a page of close type has 6,000."""

HYPHEN = "\x02"
"""PDFium's sign for a hyphen at the end of a line."""

_FINE = 1_000_000
"""Device units across a page when its way to the display is asked for: whole numbers only, so many of them."""
_ERRORS = {1: "unknown error", 2: "file not found", 3: "not a PDF or damaged", 4: "password", 5: "security", 6: "page"}


class PdfiumError(Exception):
    """PDFium refused; the message says what."""


class Character(NamedTuple):
    """One character: boxes (left, bottom, right, top) and matrix in user space, pt."""

    text: str
    known: bool
    """Whether the font says which character it is."""
    ink: tuple[float, float, float, float]
    cell: tuple[float, float, float, float]
    """From the pen's place to where the next character goes, font height high."""
    origin: tuple[float, float]
    size: float
    """As set, before the matrix."""
    matrix: tuple[float, float, float, float]
    mode: int
    """The text rendering mode."""
    colour: Colour = BLACK
    """As painted on white paper."""


class Stroke(NamedTuple):
    """A path as painted: the box (left, bottom, right, top) round it in the space of `matrix`, and its colour."""

    matrix: Affine
    box: tuple[float, float, float, float]
    colour: Colour
    pen: float | None = None
    """The width of its line in that space, 0 for the thinnest that a device has; None if it is only filled."""
    filled: bool = False


class Placed(NamedTuple):
    """An image as placed: the unit square goes through `matrix` to user space."""

    matrix: Affine
    width: int
    height: int
    filters: tuple[str, ...]
    bits: int


class Document:
    """A PDF held in memory. Close it when done; its pages first."""

    def __init__(self, data: bytes) -> None:
        _pdfium.FPDF_InitLibrary()
        self._data = data  # PDFium reads from it as long as the document is open
        self._pdf = _pdfium.FPDF_LoadMemDocument64(data, len(data), None)
        if not self._pdf:
            raise PdfiumError(_ERRORS.get(int(_pdfium.FPDF_GetLastError()), "unknown error"))
        self._wishes = _pdfium.FPDF_FORMFILLINFO(version=2)  # PDFium reads from it as long as the form is open
        self._form = _pdfium.FPDFDOC_InitFormFillEnvironment(self._pdf, self._wishes)
        if self._form:
            _pdfium.FPDF_SetFormFieldHighlightAlpha(self._form, 0)  # no blue over fields: it does not print

    def __len__(self) -> int:
        return int(_pdfium.FPDF_GetPageCount(self._pdf))

    def page(self, number: int) -> OpenPage:
        """A page, counted from 1. Raises PdfiumError."""
        return OpenPage(self._pdf, self._form, number - 1)

    def close(self) -> None:
        """Let go of it."""
        if self._form:
            _pdfium.FPDFDOC_ExitFormFillEnvironment(self._form)
        _pdfium.FPDF_CloseDocument(self._pdf)


class OpenPage:
    """One page; a context manager that closes it."""

    def __init__(self, pdf: Any, form: Any, index: int) -> None:
        self._pdf = pdf
        self._form = form
        self._index = index
        self._page = _pdfium.FPDF_LoadPage(pdf, index)
        if not self._page:
            raise PdfiumError("the page could not be loaded")

    def __enter__(self) -> OpenPage:
        return self

    def __exit__(self, *_: object) -> None:
        _pdfium.FPDF_ClosePage(self._page)

    @property
    def size(self) -> tuple[float, float]:
        """Width and height as displayed, in pt; PDFium knows no UserUnit."""
        return float(_pdfium.FPDF_GetPageWidthF(self._page)), float(_pdfium.FPDF_GetPageHeightF(self._page))

    @property
    def rotate(self) -> int:
        """Degrees clockwise: 0, 90, 180 or 270."""
        return max(0, int(_pdfium.FPDFPage_GetRotation(self._page))) * 90

    def to_display(self) -> Affine:
        """From user space (pt) to the page as displayed (pt from the top left corner)."""
        width, height = self.size
        far = 10_000.0
        (ox, oy), (xx, xy), (yx, yy) = (self._device(*p) for p in ((0.0, 0.0), (far, 0.0), (0.0, far)))
        across, down = width / _FINE, height / _FINE
        return Affine(
            (xx - ox) / far * across,
            (xy - oy) / far * down,
            (yx - ox) / far * across,
            (yy - oy) / far * down,
            ox * across,
            oy * down,
        )

    def _device(self, x: float, y: float) -> tuple[int, int]:
        left, top = ctypes.c_int(), ctypes.c_int()
        _pdfium.FPDF_PageToDevice(self._page, 0, 0, _FINE, _FINE, 0, x, y, left, top)
        return left.value, top.value

    def raster(self, columns: int, rows: int) -> Raster:
        """The page on white, with annotations and form fields, as rows x columns x (blue, green, red)."""
        picture: Raster = np.full((rows, columns, 3), 255, dtype=np.uint8)
        kind = _pdfium.FPDFBitmap_BGR
        bitmap = _pdfium.FPDFBitmap_CreateEx(columns, rows, kind, picture.ctypes.data, columns * 3)
        if not bitmap:
            raise PdfiumError("no raster could be made")
        try:
            whole = 0, 0, columns, rows, 0, _pdfium.FPDF_ANNOT
            _pdfium.FPDF_RenderPageBitmap(bitmap, self._page, *whole)
            if self._form:
                _pdfium.FPDF_FFLDraw(self._form, bitmap, self._page, *whole)
        finally:
            _pdfium.FPDFBitmap_Destroy(bitmap)
        return picture

    def flatten(self) -> None:
        """Make what annotations and fields show part of the page, for this copy in memory: `characters` and
        `images` find it then. A page that PDFium cannot flatten stays as it is.
        """
        if _pdfium.FPDFPage_GetAnnotCount(self._page) <= 0:
            return
        if _pdfium.FPDFPage_Flatten(self._page, _pdfium.FLAT_NORMALDISPLAY) == _pdfium.FLATTEN_SUCCESS:
            _pdfium.FPDF_ClosePage(self._page)
            self._page = _pdfium.FPDF_LoadPage(self._pdf, self._index)
            if not self._page:
                raise PdfiumError("the page could not be loaded again")

    def characters(self) -> Iterator[Character]:
        """The characters in the order of the page's content, spaces that PDFium infers included."""
        text = _pdfium.FPDFText_LoadPage(self._page)
        if not text:
            raise PdfiumError("the characters could not be loaded")
        try:
            yield from _Text(text).characters()
        finally:
            _pdfium.FPDFText_ClosePage(text)

    def objects(self) -> Iterator[Placed | Stroke]:
        """The images placed and the paths painted, those within form XObjects included."""
        count = _pdfium.FPDFPage_CountObjects(self._page)
        objects = (_pdfium.FPDFPage_GetObject(self._page, i) for i in range(min(count, MOST_OBJECTS)))
        yield from self._objects(objects, Affine(1, 0, 0, 1, 0, 0), 0)

    def _objects(self, objects: Iterator[Any], above: Affine, depth: int) -> Iterator[Placed | Stroke]:
        for item in objects:
            kind = _pdfium.FPDFPageObj_GetType(item)
            if kind == _pdfium.FPDF_PAGEOBJ_IMAGE:
                yield self._image(item, above.after(_matrix(item)))
            elif kind == _pdfium.FPDF_PAGEOBJ_PATH:
                if stroke := _stroke(item, above):
                    yield stroke
            elif kind == _pdfium.FPDF_PAGEOBJ_FORM and depth < DEEPEST:
                count = max(0, _pdfium.FPDFFormObj_CountObjects(item))
                inner = (_pdfium.FPDFFormObj_GetObject(item, i) for i in range(min(count, MOST_OBJECTS)))
                yield from self._objects(inner, above.after(_matrix(item)), depth + 1)

    def _image(self, item: Any, matrix: Affine) -> Placed:
        width, height = ctypes.c_uint(), ctypes.c_uint()
        _pdfium.FPDFImageObj_GetImagePixelSize(item, width, height)
        about = _pdfium.FPDF_IMAGEOBJ_METADATA()
        _pdfium.FPDFImageObj_GetImageMetadata(item, self._page, about)
        # PDFium counts the bits of a pixel after it has made 8 of any larger component, and three of four
        return Placed(matrix, width.value, height.value, _filters(item), min(about.bits_per_pixel, 8) or 8)


def _stroke(item: Any, above: Affine) -> Stroke | None:
    """A path that is painted; None for one that only clips."""
    fill, stroked = ctypes.c_int(), ctypes.c_int()
    if not _pdfium.FPDFPath_GetDrawMode(item, fill, stroked) or not (fill.value or stroked.value):
        return None
    left, bottom, right, top = (ctypes.c_float() for _ in range(4))
    if not _pdfium.FPDFPageObj_GetBounds(item, left, bottom, right, top):
        return None
    ask = _pdfium.FPDFPageObj_GetStrokeColor if stroked.value else _pdfium.FPDFPageObj_GetFillColor
    box = left.value, bottom.value, right.value, top.value
    return Stroke(above, box, _on_white(ask, item), _pen(item) if stroked.value else None, bool(fill.value))


def _pen(item: Any) -> float:
    width = ctypes.c_float()
    _pdfium.FPDFPageObj_GetStrokeWidth(item, width)
    own = _matrix(item)
    return float(width.value) * math.sqrt(abs(own.a * own.d - own.b * own.c))


def _on_white(ask: Any, item: Any) -> Colour:
    """The colour of an object, seen through its opacity on white paper; black if it cannot be told (a pattern)."""
    red, green, blue, opacity = (ctypes.c_uint() for _ in range(4))
    if not item or not ask(item, red, green, blue, opacity):
        return BLACK
    share = opacity.value / 255
    return tuple(round(255 - share * (255 - part.value)) for part in (red, green, blue))  # type: ignore[return-value]


def _matrix(item: Any) -> Affine:
    found = _pdfium.FS_MATRIX()
    if not _pdfium.FPDFPageObj_GetMatrix(item, found):
        return Affine(1, 0, 0, 1, 0, 0)
    return Affine(found.a, found.b, found.c, found.d, found.e, found.f)


def _filters(item: Any) -> tuple[str, ...]:
    names = []
    for i in range(max(0, _pdfium.FPDFImageObj_GetImageFilterCount(item))):
        room = ctypes.create_string_buffer(64)
        _pdfium.FPDFImageObj_GetImageFilter(item, i, room, len(room))
        names.append(room.value.decode("latin-1"))
    return tuple(names)


class _Shared(NamedTuple):
    """What all characters of one text object have in common, in the order of `Character`."""

    size: float
    matrix: tuple[float, float, float, float]
    mode: int
    colour: Colour


class _Text:
    """The characters of a page; what all characters of one text object share is asked once."""

    def __init__(self, text: Any) -> None:
        self._text = text
        self._shared: dict[int | None, _Shared] = {}
        self._edges = [ctypes.c_double() for _ in range(4)]
        self._cell = _pdfium.FS_RECTF()

    def characters(self) -> Iterator[Character]:
        above = 0
        for i in range(min(_pdfium.FPDFText_CountChars(self._text), MOST_CHARACTERS)):
            code = _pdfium.FPDFText_GetUnicode(self._text, i)
            if 0xD800 <= code < 0xDC00:  # PDFium gives characters beyond the first plane in two halves, as UTF-16 does
                above = code
                continue
            if 0xDC00 <= code < 0xE000:
                code = 0x10000 + ((above - 0xD800) << 10) + code - 0xDC00 if above else 0
            above = 0
            if code not in (0x0A, 0x0D):
                yield self._character(i, code)

    def _character(self, i: int, code: int) -> Character:
        left, right, bottom, top = self._edges
        _pdfium.FPDFText_GetCharBox(self._text, i, left, right, bottom, top)
        ink = (left.value, bottom.value, right.value, top.value)
        cell = self._cell
        _pdfium.FPDFText_GetLooseCharBox(self._text, i, cell)
        _pdfium.FPDFText_GetCharOrigin(self._text, i, left, bottom)
        shared = self._of_object(i)
        known = _pdfium.FPDFText_HasUnicodeMapError(self._text, i) != 1
        return Character(
            chr(code) if 0 < code < 0x110000 else "\ufffd",
            known,
            ink,
            (cell.left, cell.bottom, cell.right, cell.top),
            (left.value, bottom.value),
            *shared,
        )

    def _of_object(self, i: int) -> _Shared:
        item = _pdfium.FPDFText_GetTextObject(self._text, i)
        place = ctypes.cast(item, ctypes.c_void_p).value if item else None
        if place is None or place not in self._shared:
            matrix = _pdfium.FS_MATRIX()
            _pdfium.FPDFText_GetMatrix(self._text, i, matrix)
            mode = int(_pdfium.FPDFTextObj_GetTextRenderMode(item)) if item else 0
            size = float(_pdfium.FPDFText_GetFontSize(self._text, i))
            colour = _on_white(_pdfium.FPDFPageObj_GetFillColor, item)
            self._shared[place] = _Shared(size, (matrix.a, matrix.b, matrix.c, matrix.d), mode, colour)
        return self._shared[place]


def hexadecimal(colour: Colour) -> str:
    """ "rrggbb"."""
    return "{:02x}{:02x}{:02x}".format(*colour)
