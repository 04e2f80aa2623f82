"""A text cut into words, marks and what has the form of a reference character."""

from __future__ import annotations

import re
from typing import Literal

import msgspec

Kind = Literal["word", "character", "range", "number", "mark"]

_PIECE = re.compile(
    r"(?<![\w.])\d{2,4}\((?:\d{1,2}|[a-z])\)(?!\w)|[^\W_]+(?:(?:[-'/_^+]|\.(?=\d)|,(?=\d{3}(?!\d))|:(?=\d))[^\W_]+)*'*|\S"
)
_DIGIT = re.compile(r"\d")
_WORD = re.compile(r"(?:\d+-)?[^\W\d][^\d]*")
"""Letters, and compounds such as 3-way or 12-pin."""
_CHARACTER = re.compile(
    r"(?:\d{1,4}(?:[A-Za-z]|_\d+)?|S\d{1,4}[A-Za-z]?|[A-Z]{1,2}\d{1,3}[a-z]?|[A-Z]-\d{2,4}[A-Z]?"
    r"|\d{1,4}-(?:\d{1,2}|[A-Z]|[nmk])|\d{2,4}\((?:\d{1,2}|[a-z])\))'{0,3}"
)
"""A numeral, perhaps with letter, subscript, primes; a step (S10); a part of a circuit (R1); one of several (12-1,
12(1), 34(a)); a unit of a plant (R-101)."""
_NUMERALS = re.compile(r"(\d{1,4})-(\d{1,4})")
_LETTERED = re.compile(r"(\d{1,4})([A-Za-z])-(\d{1,4})?([A-Za-z])")
_STEPS = re.compile(r"(S)(\d{1,4})-S?(\d{1,4})")
_CIRCUIT = re.compile(r"([A-Z]{1,2})(\d{1,3})-([A-Z]{0,2})(\d{1,3})")
_SLASHED = re.compile(r"(\d{2,4})/(\d{2,4})")
_COUNTS_AFTER = re.compile(r"[$\u20ac\u00a3\u00a5#\u00a7\u00b1~=<>+*^\u00d7\[\-./_\\]")
_COUNTS_BEFORE = re.compile(r"\s?[%\u00b0\u2030]|\"|[.,:/-]\d|[\u00b1\u00d7*=^]|-\w|\]")
_QUOTED = re.compile(r"(?:^|[\s(])\"[^\W\d_][^\"]{0,60}$")
"""A quotation that is still open: what closes it is no sign of inches."""
_DIGITS = 4
"""A numeral has at most so many."""
_MOST = 26
"""A range of letters, or of ones of several, has at most so many members."""


class Token(msgspec.Struct, frozen=True):
    """One piece. `characters` are those that it stands for, `span` is set where it is a range of numbers."""

    kind: Kind
    text: str
    start: int
    end: int
    characters: tuple[str, ...] = ()
    span: tuple[int, int] | None = None
    possessive: bool = False
    low: str = ""
    """The text in lower case."""


def tokens(text: str) -> list[Token]:
    """All of them, in one pass. The text is plain: dashes, quotes and white space as `flat` leaves them."""
    return [_token(found, text) for found in _PIECE.finditer(text)]


def _token(found: re.Match[str], text: str) -> Token:
    said, start, end = found.group(), found.start(), found.end()
    low = said.casefold()
    if said.isalpha():
        return Token("word", said, start, end, low=low)
    if not said[0].isalnum():
        return Token("mark", said, start, end, low=low)
    possessive = said.endswith(("'s", "s'"))
    bare = said.removesuffix("'s")
    if text[start - 1 : start] == "'":
        bare = bare.rstrip("'")
    if _DIGIT.search(bare) and not _is_counted(text, start, end):
        characters, span = _stands_for(bare)
        if characters:
            return Token("range" if span else "character", said, start, end, characters, span, possessive, low)
    return Token("word" if _WORD.fullmatch(bare) else "number", said, start, end, possessive=possessive, low=low)


def _is_counted(text: str, start: int, end: int) -> bool:
    """Whether what touches the number makes it an amount: $18, 15%, 25\u00b0, 0.5, [0012]."""
    before, after = text[max(0, start - 1) : start], text[end : end + 2]
    if after[:1] == '"' and _QUOTED.search(text, max(0, start - 60), start):
        return False
    return _COUNTS_AFTER.match(before) is not None or _COUNTS_BEFORE.match(after) is not None


def _stands_for(piece: str) -> tuple[tuple[str, ...], tuple[int, int] | None]:
    """The characters of one piece, and the ends of a range of numbers; nothing where it is none."""
    if piece.isdigit():
        return ((piece,), None) if len(piece) <= _DIGITS and piece[0] != "0" else ((), None)
    if found := _LETTERED.fullmatch(piece):
        number, first, again, last = found.groups()
        if again in (None, number) and last == "n":
            return (number + first, number + last), None  # as many as there may be: nobody draws them all
        if again in (None, number) and 0 < ord(last) - ord(first) < _MOST:
            return tuple(number + chr(code) for code in range(ord(first), ord(last) + 1)), None
    if found := _STEPS.fullmatch(piece):
        low, high = int(found.group(2)), int(found.group(3))
        return (f"S{found.group(2)}", f"S{found.group(3)}"), (low, high)
    if found := _CIRCUIT.fullmatch(piece):
        kind, first, again, last = found.groups()
        if again in ("", kind) and 0 < int(last) - int(first) < _MOST:
            return (kind + first, kind + last), None
    if found := _NUMERALS.fullmatch(piece):
        first, last = found.groups()
        if first == last:
            return (), None  # where a section is cut: "along line 2-2"
        if int(first) < int(last) and len(last) >= len(first):
            return (first, last), (int(first), int(last))
    if found := _SLASHED.fullmatch(piece):
        low, high = int(found.group(1)), int(found.group(2))
        return (found.groups(), None) if low < high else ((), None)
    return ((piece,), None) if _CHARACTER.fullmatch(piece) and not piece.startswith("0") else ((), None)


def members(first: str, last: str) -> tuple[tuple[str, ...], tuple[int, int] | None]:
    """What lies between the ends of "18a to 18d", "12-1 through 12-4" or "20 to 26", as `_stands_for` does."""
    a, b = re.fullmatch(r"(\d+-)(\d+)", first), re.fullmatch(r"(\d+-)(\d+)", last)
    if a and b and a.group(1) == b.group(1) and 0 < int(b.group(2)) - int(a.group(2)) < _MOST:
        return tuple(f"{a.group(1)}{n}" for n in range(int(a.group(2)), int(b.group(2)) + 1)), None
    characters, span = _stands_for(f"{first}-{last}")
    return (characters, span) if len(characters) > 1 else ((first, last), None)
