"""A requirement of the rulebook in words: limits, conditions, consequences, sources."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from preflight.reporting.findings import MEANING, known_as
from preflight.reporting.wording import day, number
from preflight.rulebooks import Citation, Extension, Grade, Requirement

DEALT_WITH = ("measured", "by hand", "not measured")
"""What this version does about a requirement."""


def how_dealt_with(requirement: Requirement) -> str:
    """One of DEALT_WITH."""
    if requirement.check is not None:
        return "measured"
    return "by hand" if requirement.asked_in else "not measured"


def consequences(filing: str, examination: str) -> str:
    """What follows if it is missed, for the filing and for the examination where that differs."""
    said = "nothing follows" if filing == "none" else f"{filing}: {MEANING.get(filing, '')}"  # type: ignore[call-overload]
    return f"{said} (for the examination: {examination})" if examination != filing else said


def condition(grade: Grade) -> str:
    """When a consequence of its own is taken: "below 0.5", "gap"."""
    parts = [
        grade.sort or "",
        f"above {number(grade.above)}" if grade.above is not None else "",
        f"below {number(grade.below)}" if grade.below is not None else "",
    ]
    return ", ".join(part for part in parts if part) or "otherwise"


def limits(requirement: Requirement) -> Iterator[str]:
    """The short ones together; a table has a line for each of its rows."""
    given = requirement.limits
    rows = {name: value for name, value in given.items() if isinstance(value, list) and _tables(value)}
    short = [f"{name.replace('_', ' ')} {_words(value)}" for name, value in given.items() if name not in rows]
    if short:
        yield "; ".join(short)
    for name, value in rows.items():
        yield from (f"{name.replace('_', ' ')}: {_words(row)}" for row in value)


def source(citation: Citation) -> str:
    """The citation with how it is known and when it was last read."""
    verb = {"read": "read", "third party": "seen"}.get(citation.known)
    read = f", {verb} {day(citation.read_on)}" if verb and citation.read_on else ""
    return f"{citation.source}{known_as(citation.known)}{read}"


def sources(citations: Iterable[Citation]) -> Iterator[str]:
    """Each citation, then its figures: those that stand there, those that follow from them, those that are ours."""
    for citation in citations:
        yield source(citation)
        if citation.stands_there:
            yield f"figures that stand there: {', '.join(citation.stands_there)}"
        for name, how in citation.derived.items():
            yield f"{name} follows from them: {how}"
        for name, why in citation.house.items():
            yield f"{name} is ours: {why}"


def added(extension: Extension) -> str:
    """Where a house requirement comes from."""
    offered = f", plug-in {extension.plugin}" if extension.plugin else ""
    return f"{extension.id}: {extension.title}, edition of {day(extension.edition)}{offered}"


def in_force(requirement: Requirement) -> str:
    """Between which days it binds; nothing if always."""
    parts = [
        f"from {day(requirement.since)}" if requirement.since else "",
        f"until {day(requirement.until)}" if requirement.until else "",
    ]
    return " ".join(part for part in parts if part)


def _tables(items: list[Any]) -> bool:
    return bool(items) and all(isinstance(item, Mapping) for item in items)


def _words(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return number(value)
    if isinstance(value, Mapping):
        return "; ".join(f"{key} {_words(item)}" for key, item in value.items())
    if isinstance(value, Iterable) and not isinstance(value, str):
        return _several(list(value))
    return str(value)


def _several(items: list[Any]) -> str:
    """Items of a list; where they are lists themselves they are sizes."""
    if items and all(isinstance(item, list) for item in items):
        return ", ".join(" x ".join(map(_words, item)) for item in items)
    return ", ".join(map(_words, items))
