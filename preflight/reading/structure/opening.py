"""Opening a PDF from its bytes, its pages as sheets, and the versions and warnings that qpdf gives."""

from __future__ import annotations

import io
import math
import re

import pikepdf

from preflight.reading.sheet import Sheet, sheet

PASSWORD = "it needs a password to open"  # noqa: S105  a reason, not a password
HEAD = 1024
"""The mark %PDF- is looked for in so many first bytes (ISO 32000-1, implementation notes)."""

TROUBLES = (
    pikepdf.PdfError,
    ValueError,
    TypeError,
    LookupError,
    RuntimeError,
    NotImplementedError,
    AttributeError,
    ArithmeticError,
)
"""What pikepdf raises where a document breaks the rules."""

_MARK = re.compile(rb"%PDF-(\d+\.\d+)")
_PLACE = re.compile(r"^(?:<[^>]*>|[^:(]{0,80}?)\s*(?=\(|:)")


class NotOpened(Exception):
    """qpdf cannot open it; the message says why."""


class NeedsPassword(NotOpened):
    """It opens only with a password."""


class OpenPdf:
    """A PDF that qpdf could open, perhaps after mending it."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self.pdf = _open(data)
        if self.pdf.is_encrypted and not self.pdf.user_password_matched:
            raise NeedsPassword(PASSWORD)  # an empty password of the owner opens it for qpdf, not for people
        try:
            self.pages = list(self.pdf.pages)
        except TROUBLES as error:
            raise NotOpened(f"its pages could not be found (qpdf: {plain(error)})") from error

    def sheet(self, number: int) -> Sheet:
        """The size of a page as displayed; `number` from 1."""
        page = self.pages[number - 1].obj
        rotate = _number(page.get("/Rotate"), 0.0)
        unit = _number(page.get("/UserUnit"), 1.0)
        turn = int(rotate) if rotate % 90 == 0 else 0
        return sheet(_box(page.get("/MediaBox")), _box(page.get("/CropBox")), turn, unit if unit > 0 else 1.0)


def header(data: bytes) -> tuple[str, int]:
    """The version in the header and the bytes before it; ("", 0) if there is no mark."""
    found = _MARK.search(data[:HEAD])
    return (found[1].decode("ascii"), found.start()) if found else ("", 0)


def plain(error: object) -> str:
    """The words of qpdf without the name of the stream, at most 200 characters."""
    return " ".join(_PLACE.sub("", str(error)).lstrip(": ").split())[:200]


def _open(data: bytes) -> pikepdf.Pdf:
    try:
        return pikepdf.open(io.BytesIO(data), suppress_warnings=True)
    except pikepdf.PasswordError as error:
        raise NeedsPassword(PASSWORD) from error
    except TROUBLES as error:
        raise NotOpened(f"it is damaged and could not be opened (qpdf: {plain(error)})") from error


def _number(value: object, otherwise: float) -> float:
    try:
        number = float(value)  # type: ignore[arg-type]  # anything may stand there
    except (TypeError, ValueError):
        return otherwise
    return number if math.isfinite(number) else otherwise


def spelled(name: pikepdf.Object) -> str:
    """A name without its slash; as it stands in the file (A#ff) if its bytes are no UTF-8, as in old Asian fonts."""
    try:
        return str(name).lstrip("/")
    except UnicodeDecodeError:
        return name.unparse().decode("latin-1").lstrip("/")


def numbers(value: object) -> list[float]:
    """The numbers of an array; empty if it is none."""
    if not isinstance(value, pikepdf.Array):
        return []
    return [_number(item, math.nan) for item in value]


def entry(resources: pikepdf.Object, kind: str, name: object) -> object:
    """What a content stream calls by this name; None if it is not there."""
    group = resources.get(kind)
    if not isinstance(group, pikepdf.Dictionary) or not isinstance(name, pikepdf.Name):
        return None
    return group.get(str(name))


def is_true(value: object) -> bool:
    """Whether it is the truth value, not a number."""
    return value is True


def _box(value: object) -> list[float] | None:
    return numbers(value) or None
