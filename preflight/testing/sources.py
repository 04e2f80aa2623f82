"""Rulebooks to walk through in tests, and text made comparable."""

from __future__ import annotations

from functools import cache

from preflight.plugging import built_in_and_installed
from preflight.rulebooks import Requirement, Rulebook


@cache
def rulebook(office: str, kind: str | None = None) -> Rulebook:
    """The rulebook of an office, of the program or of any installed plug-in; the only one if no kind is named."""
    found = [b for (of, for_), b in built_in_and_installed().rulebooks.items() if of == office and kind in (None, for_)]
    if len(found) != 1:
        raise LookupError(f"{len(found)} rulebooks for office {office}, kind {kind or 'any'}")
    return found[0]


def requirements(office: str, kind: str | None = None) -> tuple[Requirement, ...]:
    """All requirements of an office."""
    return rulebook(office, kind).requirements


def flat(text: str) -> str:
    """The text with white space made single spaces."""
    return " ".join(text.split())
