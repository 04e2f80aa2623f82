"""What the reader of part names finds: pairs of a name and a character, and characters without a name."""

from __future__ import annotations

from typing import Literal

import msgspec

Opens = Literal["", ".", "to"]
Capitals = Literal["", "first", "all"]


class Pair(msgspec.Struct, frozen=True):
    """One character with the name before it, in lower case. `article` is the word that opens the name, or empty.

    `at` is where the character stands in the text; `bracketed`: (16).
    """

    name: str
    character: str
    at: int
    article: str = ""
    bracketed: bool = False
    listed: bool = False
    """One of several characters behind one name."""
    capitals: Capitals = ""
    """Whether its last word is in capitals, or begins with one within a sentence: "the CPU 22", but also "HTML 5"."""
    opens: Opens = ""
    """Whether it opens a sentence or follows "to", so that its first word may be a deed: "pressing button 12"."""
    counted: bool = False
    """Such things are numbered in every text: "line 12", "port 38"."""

    @property
    def head(self) -> str:
        """The last word of the name."""
        return self.name.rpartition(" ")[2]


class Bare(msgspec.Struct, frozen=True):
    """A character without a name: "the movement of 18 is", "At 302,". `labels`: it opens what it stands for."""

    character: str
    at: int
    labels: bool = False


class Paired(msgspec.Struct, frozen=True):
    """All that a text names. `ranges` are spans whose members need not be named one by one."""

    pairs: tuple[Pair, ...]
    bare: tuple[Bare, ...]
    ranges: tuple[tuple[int, int], ...]
    doubted: tuple[Pair, ...] = ()
    """Those that the rest of the text speaks against: "zone 3" among three-digit numbers, "HTML 5"."""
    amounts: frozenset[str] = frozenset()
    """Whole numbers that stand somewhere in the text and name nothing there: "128 kernels"."""
    cuts: frozenset[str] = frozenset()
    """Numbers at the ends of lines along which sections are cut: 2 of "line 2-2"."""
    unclear: tuple[str, ...] = ()
    """Numbers that stand neither for a quantity nor behind a name of which it is known whether it is a part's."""
