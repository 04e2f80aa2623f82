"""The data of a static XFA form: values that stand in its XML only, by the names of its fields."""

from __future__ import annotations

import re
from collections.abc import Iterator
from xml.etree import ElementTree
from xml.parsers import expat

import pikepdf

LARGEST = 4_000_000
"""Bytes of data that are read."""
DEEPEST = 64
_INDEX = re.compile(r"\[\d+\]")


def xfa_values(form: pikepdf.Dictionary) -> dict[tuple[str, ...], str]:
    """The texts of the data packet by their path of names, without indexes where only one bears the name.

    Empty where there is no such packet, it is too large, or it is no XML; entities of its own are refused.
    """
    data = _packet(form.get("/XFA"), "datasets")
    if data is None or len(data) > LARGEST or b"<!" in data:
        return {}
    try:
        root = ElementTree.fromstring(data)  # noqa: S314 - no declarations: nothing to expand or to fetch
    except (ElementTree.ParseError, expat.ExpatError, ValueError):
        return {}
    return dict(_leaves(root, ()))


def value_of(name: str, values: dict[tuple[str, ...], str]) -> str | None:
    """The value of the field of this full name: the one whose path ends like it, where only one does."""
    parts = tuple(_INDEX.sub("", part) for part in name.split(".") if not part.startswith("#"))
    for count in range(len(parts), 0, -1):
        found = {text for path, text in values.items() if path[-count:] == parts[-count:]}
        if found:
            return found.pop() if len(found) == 1 else None
    return None


def _packet(xfa: object, wanted: str) -> bytes | None:
    """The bytes of a packet out of the array of names and streams."""
    if not isinstance(xfa, pikepdf.Array):
        return None
    items = list(xfa)
    for name, stream in zip(items[::2], items[1::2], strict=False):
        if isinstance(name, pikepdf.String) and str(name) == wanted and isinstance(stream, pikepdf.Stream):
            return stream.read_bytes()
    return None


def _leaves(node: ElementTree.Element, above: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], str]]:
    path = (*above, node.tag.rsplit("}", 1)[-1])
    if len(path) > DEEPEST:
        return
    if len(node) == 0 and node.text and node.text.strip():
        yield path, node.text.strip()
    for child in node:
        yield from _leaves(child, path)
