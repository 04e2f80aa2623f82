"""Where sentences end; not at short forms, initials, decimals and marks of lists."""

from __future__ import annotations

import re
from collections.abc import Iterator

_SHORT_FORMS = frozenset(
    re.findall(
        r"\S+",
        """
        fig figs no nos eg e.g i.e ie etc al approx ca cf viz vs vol ed eds eq eqs eqn ref refs sec secs para paras
        dr mr mrs ms prof st inc corp co ltd jr sr dept ser pat appl u.s u.k u.s.c c.f.r p.c.t jan feb mar apr jun
        jul aug sep sept oct nov dec sp spp var subsp max min temp wt mol approx resp incl excl ex tab pl pp ph.d
        seq in ft lb lbs oz gal hr hrs sec dia i.d o.d r.p.m a.m p.m
        """,
    )
)
"""Words before a full stop that ends no sentence, without their last stop."""
_STOP = re.compile(r"(?P<word>[^\s()\[\]\"']*)[.!?](?P<close>[\"')\]]*)(?=\s+[\"'(\[]?(?P<next>[A-Z\u00c0-\u00de\[]))")
_WORD_BEFORE = re.compile(r"(?<![\w-])([a-z][a-z-]+)\s$")
_CLOSED = re.compile(r"(?P<word>[^\W\d_][\w-]*)(?:\s?[(\[][^()\[\]]{1,60}[)\]]|\s\d+[A-Za-z]?'+|['\"]+)$")
"""A word with what is closed behind it: "the ramp (20)", "the slicer 10'", 'the "rails"'."""
_COUNTED = frozenset(
    re.findall(r"\S+", "step steps stage phase example table section part item clause aspect option and")
)
"""A number behind such a word may begin what follows."""


def breaks(text: str) -> Iterator[int]:
    """The offsets right behind each sentence but the last."""
    for found in _STOP.finditer(text):
        word = found.group("word").casefold()
        if not word:
            short = not _ends_closed(text, found.start())
        else:
            short = not _ends_by_number(text, found) if word.isdigit() else _is_short(word)
        if not short or found.group(0)[len(found.group("word"))] != ".":
            yield found.end()


def _ends_by_number(text: str, found: re.Match[str]) -> bool:
    """Whether a number ends a sentence: "on the shaft 14. A spring"; not so "1. A", "No. 5. A", "Step 2. Mix"."""
    before = _WORD_BEFORE.search(text, max(0, found.start() - 40), found.start())
    return before is not None and before.group(1).casefold() not in _COUNTED


def _ends_closed(text: str, stop: int) -> bool:
    """Whether a sentence ends behind a bracket or a prime: "the ramp (20). The cam"; not so "step (a). Mix"."""
    before = _CLOSED.search(text[max(0, stop - 80) : stop])
    return before is not None and before.group("word").casefold() not in _COUNTED


def _is_short(word: str) -> bool:
    tail = re.sub(r"^.*[-/]", "", word)
    return (
        len(word) == 1 or word in _SHORT_FORMS or tail in _SHORT_FORMS or bool(re.fullmatch(r"(?:[a-z]\.)+[a-z]", word))
    )


def sentences(text: str) -> Iterator[tuple[int, str]]:
    """Each sentence with the offset at which it begins."""
    start = 0
    for end in (*breaks(text), len(text)):
        piece = text[start:end]
        lead = len(piece) - len(piece.lstrip())
        if piece.strip():
            yield start + lead, piece.strip()
        start = end
