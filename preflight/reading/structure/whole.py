"""One Structure from all that pikepdf says of a file."""

from __future__ import annotations

import time

import pikepdf

from preflight.facts import Structure
from preflight.reading.structure.fields import read_fields
from preflight.reading.structure.fonts import listed
from preflight.reading.structure.inside import read_inside
from preflight.reading.structure.opening import TROUBLES, OpenPdf, header, plain
from preflight.reading.structure.stored import read_stored
from preflight.reading.structure.walk import walk_pages

REPAIRS = 10
"""Warnings kept of one file."""
NO_MEMORY = "bad_alloc"
"""So qpdf names it."""
ENTRIES = 50
LONGEST = 2000
"""Characters kept of one entry of the document information."""

_RESTRICTIONS = (
    ("print_lowres", "printing"),
    ("print_highres", "printing in full quality"),
    ("modify_other", "changing"),
    ("extract", "copying"),
    ("modify_annotation", "commenting"),
    ("modify_form", "filling in forms"),
    ("accessibility", "reading aloud"),
    ("modify_assembly", "assembling pages"),
)


def read_structure(opened: OpenPdf, seconds: float) -> Structure:
    """Everything; what is not complete after so many seconds, or fails, is named in `unread`.

    Raises MemoryError if qpdf ran out of memory, which it takes for damage of the file.
    """
    until = time.monotonic() + seconds
    walked = walk_pages(opened, until)
    fields, has_xfa, field_trouble = read_fields(opened)
    pdf = opened.pdf
    version, offset = header(opened.data)
    warnings = [str(warning) for warning in pdf.get_warnings()]
    if any(NO_MEMORY in warning for warning in warnings):
        raise MemoryError
    return Structure(
        version=_later(version, _catalogue_version(pdf)),
        extension_level=pdf.extension_level,
        encrypted=pdf.is_encrypted,
        restrictions=_restrictions(pdf),
        header_offset=offset,
        fonts=listed(walked.faces),
        fields=fields,
        has_xfa=has_xfa,
        info=_info(pdf),
        unread="; ".join(t for t in (walked.trouble, field_trouble) if t) or None,
        repairs=tuple(plain(w) for w in warnings[:REPAIRS]),
        # last: it looks at objects that no reader of the pages needs
        inside=read_stored(read_inside(opened, until), opened, walked),
    )


def locked_structure(data: bytes) -> Structure:
    """What is known of a file that needs a password to open."""
    version, offset = header(data)
    return Structure(version=version, encrypted=True, opens_without_password=False, header_offset=offset)


def _catalogue_version(pdf: pikepdf.Pdf) -> str:
    try:
        return str(pdf.Root.get("/Version", "")).lstrip("/")
    except TROUBLES:
        return ""


def _later(header_version: str, catalogue: str) -> str:
    def key(version: str) -> tuple[int, ...]:
        try:
            return tuple(int(part) for part in version.split("."))
        except ValueError:
            return ()

    return max(header_version, catalogue, key=key)


def _restrictions(pdf: pikepdf.Pdf) -> tuple[str, ...]:
    if not pdf.is_encrypted:
        return ()
    return tuple(words for right, words in _RESTRICTIONS if not getattr(pdf.allow, right))


def _info(pdf: pikepdf.Pdf) -> dict[str, str]:
    try:
        info = pdf.trailer.get("/Info")
        if not isinstance(info, pikepdf.Dictionary):
            return {}
        pairs = {str(key).lstrip("/"): info[key] for key in sorted(info.keys())[:ENTRIES]}
        return {key: str(value)[:LONGEST] for key, value in pairs.items() if isinstance(value, pikepdf.String)}
    except TROUBLES:
        return {}
