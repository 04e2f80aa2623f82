"""Small steps through a document that may be broken, endless or in circles: every step has a bound."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import TypeVar

import pikepdf

from preflight.reading.structure.opening import TROUBLES, OpenPdf, plain, spelled

DEEPEST = 32
"""Levels of a tree."""
MOST = 5_000
"""Things of one kind that are kept of one file."""
LONGEST = 200
"""Characters kept of a name, a comment or a script."""

Found = TypeVar("Found")
Known = tuple[int, int]


class TimeIsUp(Exception):
    """The reading takes too long."""


@dataclass
class Tour:
    """One way through an opened file, part by part, until the monotonic clock says `until`."""

    opened: OpenPdf
    until: float
    troubles: dict[str, dict[str, None]] = field(default_factory=dict)
    """By part, why it may not be complete, each reason once."""
    _part: str = ""

    @property
    def root(self) -> pikepdf.Object:
        """The catalogue."""
        return self.opened.pdf.Root

    @property
    def unread(self) -> dict[str, str]:
        """The reasons of each part in one string."""
        return {part: "; ".join(whys) for part, whys in self.troubles.items()}

    def trouble(self, why: str) -> None:
        """Notes why the present part may not be complete."""
        self.troubles.setdefault(self._part, {})[why] = None

    def look_at_the_clock(self) -> None:
        """Raises TimeIsUp."""
        if time.monotonic() > self.until:
            raise TimeIsUp

    def one(self, part: str, what: str, read: Callable[[Tour], Found], otherwise: Found) -> Found:
        """What `read` gives; `otherwise` if an object is broken."""
        return next(iter(self.every(part, what, (read(tour) for tour in (self,)))), otherwise)

    def every(self, part: str, what: str, found: Iterator[Found]) -> tuple[Found, ...]:
        """The first MOST of them. More, a broken object and the end of the time are trouble of the part."""
        self._part = part
        kept: list[Found] = []
        try:
            for one in found:
                if len(kept) == MOST:
                    self.trouble(f"{what} are more than {MOST}")
                    break
                kept.append(one)
        except TimeIsUp:
            self.trouble(f"{what} were not all looked at: it took too long")
        except TROUBLES as error:
            self.trouble(f"{what} could not all be read (qpdf: {plain(error)})")
        return tuple(kept)

    def annotations(self) -> Iterator[tuple[int, pikepdf.Object]]:
        """Every annotation with the number of its page."""
        for number, page in enumerate(self.opened.pages, start=1):
            self.look_at_the_clock()
            for annotation in dictionaries(page.obj.get("/Annots")):
                yield number, annotation

    def name_tree(self, tree: object, what: str) -> Iterator[tuple[str, pikepdf.Object]]:
        """The names and values of a name tree (ISO 32000-1, 7.9.6)."""
        waiting, seen = [(tree, 0)], set[Known]()
        while waiting:
            self.look_at_the_clock()
            node, depth = waiting.pop()
            if not isinstance(node, pikepdf.Dictionary):
                continue
            if depth > DEEPEST or node.objgen in seen:
                self.trouble(f"the list of {what} loops or is too deep")
                continue
            seen |= {node.objgen} - {(0, 0)}
            pairs = items(node.get("/Names"))
            for name, value in zip(pairs, pairs, strict=False):
                yield text(name), value
            waiting += [(kid, depth + 1) for kid in items(node.get("/Kids"))]


def items(array: object) -> Iterator[pikepdf.Object]:
    """What an array holds; nothing if it is none."""
    if isinstance(array, pikepdf.Array):
        yield from array


def dictionaries(array: object) -> Iterator[pikepdf.Object]:
    """The dictionaries in an array."""
    yield from (item for item in items(array) if isinstance(item, pikepdf.Dictionary))


def inner(holder: object, *keys: str) -> pikepdf.Object | None:
    """What stands under a path of keys; None where the path breaks off."""
    for key in keys:
        if not isinstance(holder, pikepdf.Dictionary | pikepdf.Stream):
            return None
        holder = holder.get(key)
    return holder if isinstance(holder, pikepdf.Object) else None


def text(value: object) -> str:
    """The first characters of a string, a name or a stream of text, on one line; else nothing."""
    if isinstance(value, pikepdf.Stream):
        value = pikepdf.String(value.read_bytes()[: 4 * LONGEST])
    if isinstance(value, pikepdf.Name):
        characters = spelled(value)
    elif isinstance(value, pikepdf.String):
        characters = _characters(value)
    else:
        return ""
    return " ".join("".join(c if c.isprintable() else " " for c in characters[: 4 * LONGEST]).split())[:LONGEST]


def _characters(string: pikepdf.String) -> str:
    try:
        return str(string)
    except UnicodeDecodeError:  # it says that it is UTF-8, and is not
        return bytes(string).decode("latin-1")


def flags(holder: pikepdf.Object, key: str) -> int:
    """A whole number made of bits; 0 if there is none."""
    value = holder.get(key, 0)
    return value if isinstance(value, int) else 0


def target(spec: object) -> str:
    """The name of the file that a file specification means (ISO 32000-1, 7.11), or nothing."""
    if isinstance(spec, pikepdf.Dictionary):
        return next((name for key in ("/UF", "/F", "/Unix", "/DOS", "/Mac") if (name := text(spec.get(key)))), "")
    return text(spec)
