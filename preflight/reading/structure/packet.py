"""The XMP packet of a file (ISO 32000-1, 14.3.2), by the parser of the standard library without entities."""

from __future__ import annotations

import re
import zlib
from xml.parsers import expat

import pikepdf

from preflight.reading.structure.opening import TROUBLES, OpenPdf, plain

LONGEST = 4_000_000
"""Bytes of a packet that are read; the usual blank tail has 2,000."""
ENTRIES = 200
LONGEST_ENTRY = 2000
DEEPEST = 50

_RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
_XML = "http://www.w3.org/XML/1998/namespace"
_USUAL = {
    "http://purl.org/dc/elements/1.1/": "dc",
    "http://ns.adobe.com/pdf/1.3/": "pdf",
    "http://ns.adobe.com/xap/1.0/": "xmp",
    "http://ns.adobe.com/xap/1.0/mm/": "xmpMM",
    "http://ns.adobe.com/pdfx/1.3/": "pdfx",
    "http://www.aiim.org/pdfa/ns/id/": "pdfaid",
}
"""Usual names of the name spaces that are asked for, whatever the packet calls them."""
_BLANK = re.compile(r"\s+")


class Unreadable(Exception):
    """The message says why."""


def read_packet(opened: OpenPdf) -> tuple[dict[str, str], str | None]:
    """Each property with all text in it, several values joined by "; "; and why there may be more."""
    try:
        stream = opened.pdf.Root.get("/Metadata")
        return (_parsed(_bytes(stream)), None) if isinstance(stream, pikepdf.Stream) else ({}, None)
    except Unreadable as error:
        return {}, f"the document properties (XMP) could not be read ({error})"
    except expat.ExpatError:
        return {}, "the document properties (XMP) could not be read (it is no well-formed XML)"
    except (*TROUBLES, zlib.error) as error:
        return {}, f"the document properties (XMP) could not be read ({plain(error)})"


def archival_part(properties: dict[str, str]) -> str:
    """The part and level of PDF/A that a packet claims, such as "2b" (ISO 19005, "Version and conformance level")."""
    part = properties.get("pdfaid:part", "")
    return f"{part}{properties.get('pdfaid:conformance', '').lower()}"[:8] if part else ""


def _bytes(stream: pikepdf.Object) -> bytes:
    filters = stream.get("/Filter")
    if isinstance(filters, pikepdf.Array):
        filters = filters[0] if len(filters) == 1 else filters if len(filters) else None
    raw = stream.read_raw_bytes()
    if filters is None:
        data = bytes(raw)
    elif filters == "/FlateDecode":
        data = zlib.decompressobj().decompress(raw, LONGEST + 1)
    else:
        raise Unreadable("it is packed in an unusual way")
    if len(data) > LONGEST:
        raise Unreadable("it is too long")
    return data if b"\0" in data[:8] else data.rstrip(b"\0")  # zeros at the end are padding, except in UTF-16


def _parsed(data: bytes) -> dict[str, str]:
    reader = _Reader()
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.namespace_prefixes = True
    parser.buffer_text = True
    parser.StartElementHandler = reader.start
    parser.EndElementHandler = reader.end
    parser.CharacterDataHandler = reader.text
    parser.StartDoctypeDeclHandler = _refuse
    parser.EntityDeclHandler = _refuse
    parser.Parse(data, True)
    return {name: "; ".join(values)[:LONGEST_ENTRY] for name, values in reader.found.items()}


def _refuse(*_: object) -> None:
    raise Unreadable("it declares entities, which no packet does")


class _Reader:
    """Properties are what stands right below rdf:Description, as elements or as attributes."""

    def __init__(self) -> None:
        self.found: dict[str, list[str]] = {}
        self._path: list[str] = []
        self._property: str | None = None
        self._below = 0
        """The depth of the property."""

    def start(self, name: str, attributes: dict[str, str]) -> None:
        if len(self._path) > DEEPEST:
            raise Unreadable("its elements are nested too deep")
        if self._property is None and self._path and _is(self._path[-1], "Description"):
            self._property, self._below = _short(name), len(self._path)
        self._path.append(name)
        within_it = _is(name, "Description") or self._property
        for key, value in attributes.items() if within_it else ():
            if not key.startswith((_RDF, _XML)):
                self._keep(self._property or _short(key), value)
            elif _is(key, "resource") and self._property:
                self._keep(self._property, value)

    def end(self, _name: str) -> None:
        self._path.pop()
        if len(self._path) == self._below:
            self._property = None

    def text(self, data: str) -> None:
        if self._property:
            self._keep(self._property, data)

    def _keep(self, name: str, value: str) -> None:
        plain_value = _BLANK.sub(" ", value).strip()
        if plain_value and (name in self.found or len(self.found) < ENTRIES):
            values = self.found.setdefault(name, [])
            if len(values) < ENTRIES:
                values.append(plain_value[:LONGEST_ENTRY])


def _is(name: str, local: str) -> bool:
    return name.startswith(f"{_RDF} {local}")


def _short(name: str) -> str:
    """A name as in the packet, "dc:title"."""
    space, _, rest = name.partition(" ")
    local, _, prefix = rest.partition(" ")
    if not local:
        return name[:80]
    return f"{_USUAL.get(space, prefix)}:{local}".lstrip(":")[:80]
