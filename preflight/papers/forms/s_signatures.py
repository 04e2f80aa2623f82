"""The form of a typed signature: one slash, letters or numerals with plain marks, one slash (37 CFR 1.4(d)(2)(i))."""

from __future__ import annotations

import re
from typing import Literal

import msgspec

from preflight.papers.words.lettering import flat

Flaw = Literal["slashes", "empty", "characters"]
"""Not one slash on each side; no letter or numeral between them; other signs than may stand there."""

_SLASHED = re.compile(r"(?<![\w/])(/+)([^/]{0,60})(/+)(?![\w/])")
_OPEN_ENDED = re.compile(r"^/\s*[A-Za-z][^/]{2,40}$")
_NO_SIGNATURE = re.compile(r"\b\d{1,4}/\d{1,2}/\d{1,4}\b|https?://\S+|\b\w+/\w+(?:/\w+)*\b")
"""Dates, addresses of pages, "and/or", names of forms."""
_SOMETHING = re.compile(r"[^\W_]")
# 37 CFR 1.4(d)(2)(i): letters, Arabic numerals, spaces, commas, periods, apostrophes, hyphens
_GOOD = re.compile(r"(?:[^\W_]|[ ,.'\-])+")
_NUMBERED = re.compile(r"#\s*(?=\d)")
"""37 CFR 1.4(d)(2)(ii): the sign may stand before a registration number."""


class Typed(msgspec.Struct, frozen=True):
    """What stands between slashes, or should."""

    content: str
    flaw: Flaw | None = None
    written: str = ""
    """With its slashes, as it stands there."""


def typed_signatures(text: str) -> tuple[Typed, ...]:
    """Everything in one line that stands for a typed signature, in order; no dates, fractions, paths or addresses."""
    plain = _NO_SIGNATURE.sub(" ", flat(text))
    found = tuple(_judged(*match.groups()) for match in _SLASHED.finditer(plain))
    lone = _OPEN_ENDED.match(plain.strip())
    if not found and lone and len(plain.split()) <= 5:
        return (Typed(plain.strip()[1:].strip(), "slashes", plain.strip()),)
    return found


def s_signature(text: str, *, practitioner: bool = False) -> Typed:
    """One string, taken for a typed signature and judged. Only a practitioner may write "#" before a number in it."""
    plain = flat(text)
    found = re.fullmatch(r"(/*)([^/]*)(/*)", plain)
    if found is None:
        return Typed(plain.strip("/ "), "slashes", plain)
    return _judged(*found.groups(), practitioner=practitioner)


def _judged(opening: str, content: str, closing: str, *, practitioner: bool = True) -> Typed:
    inside, written = content.strip(), opening + content + closing
    bare = _NUMBERED.sub("", inside) if practitioner else inside
    flaw: Flaw | None = None
    if (opening, closing) != ("/", "/"):
        flaw = "empty" if opening + closing == "//" and not inside else "slashes"
    elif not inside:
        flaw = "empty"
    elif not _GOOD.fullmatch(bare):
        flaw = "characters"
    elif not _SOMETHING.search(inside):
        flaw = "empty"
    return Typed(inside, flaw, written)
