"""Numbers of people that must not become public: kinds and places, never the digits."""

from __future__ import annotations

import re
from collections.abc import Iterator

import msgspec

from preflight.facts import Box
from preflight.papers.model import Paper
from preflight.papers.words.lettering import flat
from preflight.papers.words.printed import lines_on

SOCIAL_SECURITY = "social security number"
CARD = "payment card number"

_SOCIAL = re.compile(r"(?<![\w-])(?!000|666|9)\d{3}-(?!00)\d\d-(?!0000)\d{4}(?![\w-])")
"""Three, two and four digits; no such number begins with 000, 666 or 9 or has a group of zeros. From memory."""
_CARD = re.compile(r"(?<![\w.-])(?:\d{4}[ -]?){3}\d{1,7}(?![\w-])|(?<![\w.-])3[47]\d\d[ -]?\d{6}[ -]?\d{5}(?![\w-])")
_ISSUERS = re.compile(r"^(?:4|5[1-5]|2[2-7]|3[47]|6011|65)")
"""First digits of the usual cards, as ISO/IEC 7812 gives them out. From memory."""


class PrivateNumber(msgspec.Struct, frozen=True):
    """The kind of a number and where it stands; the number itself is not kept."""

    kind: str
    page: int
    box: Box


def private_numbers(paper: Paper) -> Iterator[PrivateNumber]:
    """Those in the lines and fields of a paper."""
    for page in paper.pages:
        for line in (*lines_on(paper, page), *(ln for ln in page.lines if ln.visible and ln.turned)):
            for kind in kinds_in(line.text):
                yield PrivateNumber(kind, page.number, line.box)


def kinds_in(text: str) -> tuple[str, ...]:
    """Which kinds of private numbers a text holds."""
    plain = flat(text)
    social = (SOCIAL_SECURITY,) if _SOCIAL.search(plain) else ()
    cards = any(_is_card(re.sub(r"\D", "", found.group())) for found in _CARD.finditer(plain))
    return (*social, *((CARD,) if cards else ()))


def _is_card(digits: str) -> bool:
    return 13 <= len(digits) <= 19 and bool(_ISSUERS.match(digits)) and check_digit_fits(digits)


def check_digit_fits(digits: str) -> bool:
    """The check digit of card numbers: ISO/IEC 7812-1, annex B (every second digit doubled, from the right)."""
    doubled = (int(d) * 2 if at % 2 else int(d) for at, d in enumerate(reversed(digits)))
    return sum(d - 9 if d > 9 else d for d in doubled) % 10 == 0
