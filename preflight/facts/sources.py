"""What a word processor's file says, apart from how it looks."""

from __future__ import annotations

import msgspec


class Prose(msgspec.Struct, frozen=True):
    """One paragraph as its writer typed it: numbers that the program puts before it are not in it."""

    text: str
    computed: tuple[tuple[int, int], ...] = ()
    """Where the program works out what is shown (fields, formulas, symbols, marks of notes): offsets, end after the
    last character. Empty ones stand for what has no characters here, such as a picture."""
    cell: bool = False
    """It stands in a table."""


class Source(msgspec.Struct, frozen=True):
    """A word processor's file. Tracked changes are read as accepted, hidden text and comments are left out."""

    body: tuple[Prose, ...] = ()
    """In the order of reading."""
    aside: tuple[Prose, ...] = ()
    """Headers, footers, notes and text boxes: where they come to stand between the others is not known."""
    saved: str = ""
    """When it was last saved, as the file says (ISO 8601); empty if it does not."""
    unread: str | None = None
    """Why none of this could be read."""
