"""Patterns as a firm writes them, and text as people write it."""

from __future__ import annotations

import re
from collections.abc import Iterable

from preflight.facts import Page
from preflight.papers import flat_text

_BETWEEN = re.compile(r"[\s._/\-]+")


def must_be_patterns(*patterns: str) -> None:
    """Raises ValueError for one that is none, so that the rules are refused when they are loaded."""
    for pattern in patterns:
        try:
            re.compile(pattern)
        except re.error as error:
            message = f"{pattern!r} is no pattern: {error}"
            raise ValueError(message) from error


def numbers_in(text: str, docket: str) -> tuple[str, ...]:
    """The docket numbers in a text, each as often as it stands there once.

    Case counts for nothing, and blanks, dots, underscores, slashes and all kinds of dash count as one hyphen. A number
    is whole: no letter or digit touches it. Where the pattern has a group, that is the number, and the rest a suffix.
    """
    hyphened = _BETWEEN.sub("-", flat_text(text)).upper()
    every = re.finditer(rf"(?<![^\W_])(?:{docket})(?![^\W_])", hyphened, re.IGNORECASE)
    return tuple(dict.fromkeys(found[1] if found.re.groups else found[0] for found in every))


def phrases_in(text: str, phrases: Iterable[str], unless: Iterable[str] = ()) -> tuple[str, ...]:
    """Those phrases that stand in a text as whole words; hyphens bind words, "new" does not stand in "new-born"."""
    plain = flat_text(text)
    for harmless in unless:
        plain = _whole(harmless).sub("|", plain)
    return tuple(phrase for phrase in phrases if _whole(phrase).search(plain))


def is_blank(page: Page) -> bool:
    """Whether there is nothing at all on a page that could be drawn."""
    return page.ink is None and page.unread is None and not page.lines


def _whole(phrase: str) -> re.Pattern[str]:
    words = r"[\s\-]+".join(map(re.escape, flat_text(phrase).split()))
    return re.compile(rf"(?<![\w'\-]){words}(?![\w'\-])", re.IGNORECASE)
