"""The parts of a packed file, unpacked only so far as is allowed, and their XML without entities."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from typing import Protocol
from xml.parsers import expat

PARTS = 5_000
"""A package with more parts is not read."""
LONGEST_PART = 48_000_000
"""Bytes of one part, unpacked: the text of 2,000 dense pages has about 20 million."""
LONGEST = 96_000_000
"""Bytes of all parts that are read, unpacked."""
DEEPEST = 400


class Unreadable(Exception):
    """The message says why."""


class Reader(Protocol):
    """What hears the elements of a part; names are a name space, a blank and the local name."""

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        """An element begins."""

    def end(self, name: str) -> None:
        """It ends."""

    def text(self, data: str) -> None:
        """Characters within it."""


class Packed:
    """A package. Raises zipfile.BadZipFile and the like for bytes that are none, Unreadable for too many parts."""

    def __init__(self, data: bytes) -> None:
        self._archive = zipfile.ZipFile(io.BytesIO(data))
        self._left = LONGEST
        self.names = tuple(self._archive.namelist())
        if len(self.names) > PARTS:
            raise Unreadable("it has too many parts")

    def hear(self, name: str, reader: Reader) -> None:
        """Let a reader hear a part. What the package says of its sizes is not believed: the bytes are counted."""
        if name not in self.names:
            raise Unreadable(f"its part {name[:60]} is missing")
        with self._archive.open(name) as stream:
            data = stream.read(min(LONGEST_PART, self._left) + 1)
        if len(data) > min(LONGEST_PART, self._left):
            raise Unreadable("it is too long when unpacked")
        self._left -= len(data)
        _hear(data, reader)


def _hear(data: bytes, reader: Reader) -> None:
    depth = 0

    def start(name: str, attributes: Mapping[str, str]) -> None:
        nonlocal depth
        depth += 1
        if depth > DEEPEST:
            raise Unreadable("its elements are nested too deep")
        reader.start(name, attributes)

    def end(name: str) -> None:
        nonlocal depth
        depth -= 1
        reader.end(name)

    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.CharacterDataHandler = reader.text
    parser.StartDoctypeDeclHandler = _refuse
    parser.EntityDeclHandler = _refuse
    parser.Parse(data, True)


def _refuse(*_: object) -> None:
    raise Unreadable("it declares a document type or entities, which no word processor does")


def local(name: str) -> str:
    """The name without its name space."""
    return name.rpartition(" ")[2]


def attribute(attributes: Mapping[str, str], name: str) -> str:
    """The value of an attribute of this local name; empty if there is none."""
    return next((value for key, value in attributes.items() if local(key) == name), "")


class Saved:
    """The date at which a file was last saved: the text of one element of its properties."""

    def __init__(self, element: str) -> None:
        self._element = element
        self._within = False
        self.when = ""

    def start(self, name: str, _attributes: Mapping[str, str]) -> None:
        """See `Reader`."""
        self._within = local(name) == self._element

    def end(self, _name: str) -> None:
        """See `Reader`."""
        self._within = False

    def text(self, data: str) -> None:
        """See `Reader`."""
        if self._within:
            self.when = (self.when + data)[:40]


def saved(package: Packed, part: str, element: str) -> str:
    """When it was last saved; empty if it does not say so."""
    if part not in package.names:
        return ""
    reader = Saved(element)
    package.hear(part, reader)
    return reader.when.strip()
