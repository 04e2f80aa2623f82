"""What a word processor's file says (.docx, .odt), read from its parts as XML.

Never trusted: sizes are limited as unpacked, document types and entities are refused, nothing outside is fetched.
"""

from __future__ import annotations

import zipfile
import zlib
from pathlib import PurePath
from xml.parsers import expat

from preflight.facts import Source
from preflight.reading.written.docx import read_docx
from preflight.reading.written.odt import read_odt
from preflight.reading.written.packed import Packed, Unreadable

__all__ = ["is_source", "read_source"]

_READERS = {".docx": read_docx, ".odt": read_odt}


def is_source(name: PurePath, media_type: str) -> bool:
    """Whether a file of this name is to be read so; a PDF under a wrong name is not."""
    return name.suffix.lower() in _READERS and media_type != "application/pdf"


def read_source(name: PurePath, data: bytes) -> Source:
    """Its text, or why it could not be read; raises nothing for whatever the bytes are."""
    try:
        return _READERS[name.suffix.lower()](Packed(data))
    except Unreadable as error:
        return Source(unread=f"the word processor's file could not be read ({error})")
    except expat.ExpatError:
        return Source(unread="the word processor's file could not be read (it is no well-formed XML)")
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, OSError, ValueError):
        return Source(unread="the word processor's file could not be unpacked: it is damaged or locked by a password")
