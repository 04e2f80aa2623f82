"""The PDF as a file, by pikepdf: version, encryption, repairs, fonts, form fields, document information."""

from __future__ import annotations

from preflight.reading.structure.opening import TROUBLES, NeedsPassword, NotOpened, OpenPdf
from preflight.reading.structure.whole import locked_structure, read_structure

__all__ = ["TROUBLES", "NeedsPassword", "NotOpened", "OpenPdf", "locked_structure", "read_structure"]
