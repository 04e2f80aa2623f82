"""Mistakes of a rulebook that no schema can see: names of checks, limits, sorts, words, roles, questions, other ids."""

from __future__ import annotations

import string
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Protocol

import msgspec

from preflight.datafiles import nearest
from preflight.rulebooks.model import ORDER

ALWAYS_SAID = ("what", "measured", "required")
"""Words that every message may use."""
ANY_SORT = "*"
"""A check whose sorts are named by the rulebook itself declares this one."""
KEYS = {
    "question": "id",
    "income_limit": "since",
    "holiday": "id",
    "closed_day": "day",
    "period": "id",
    "document_description": "code",
}
"""What tells the entries of a table apart; ids of requirements and notes form one series of their own."""

Entry = Mapping[str, Any]


class KnownCheck(Protocol):
    """What the loader needs to know of a check."""

    @property
    def name(self) -> str:
        """What a requirement calls it."""

    @property
    def takes(self) -> type[Any]:
        """The record of its limits."""

    @property
    def sorts(self) -> tuple[str, ...]:
        """The sorts of outcome that it tells apart."""

    @property
    def says(self) -> tuple[str, ...]:
        """The further words that a message may use."""


def against_the_code(
    data: Mapping[str, list[dict[str, Any]]],
    checks: Mapping[str, KnownCheck],
    roles: frozenset[str],
    others: Iterable[str] = (),
) -> Iterator[str]:
    """All mistakes, each with file and id. `others`: ids elsewhere that a requirement may yield to."""
    requirements, questions = data["requirement"], {q["id"]: q for q in data["question"]}
    ids = [*others, *(entry["id"] for entry in requirements)]
    yield from _standing_twice(data)
    for entry in requirements:
        said = (
            *_against_others(entry, ids),
            *_against_roles((*entry.get("applies_to", []), *entry.get("when", {}).get("role", [])), roles),
            *_certainty(entry),
            *_against_question(entry, questions),
            *_against_check(entry, checks),
        )
        yield from (f"{entry['_where']}: {entry['id']}: {mistake}" for mistake in said)
    for question in data["question"]:
        if not any(entry.get("asked_in") == question["id"] for entry in requirements):
            yield f"{question['_where']}: question {question['id']}: no requirement is asked in it"
        for mistake in _against_roles(_roles_of(question), roles):
            yield f"{question['_where']}: question {question['id']}: {mistake}"
    for entry in data["document_description"]:
        for mistake in _against_roles([entry["role"]], roles):
            yield f"{entry['_where']}: document description {entry['code']}: {mistake}"


def _standing_twice(data: Mapping[str, list[dict[str, Any]]]) -> Iterator[str]:
    ids = [entry["id"] for entry in (*data["requirement"], *data["note"])]
    yield from (f"{one}: stands {times} times" for one, times in Counter(ids).items() if times > 1)
    for entry in (*data["requirement"], *data["note"]):
        for other in sorted(set(entry.get("also", [])) & set(ids)):
            yield f'{entry["_where"]}: {entry["id"]}: also "{other}" has an entry of its own'
    for table, key in KEYS.items():
        named = Counter(entry[key] for entry in data[table])
        yield from (f"{table} {one}: stands {times} times" for one, times in named.items() if times > 1)


def _against_others(entry: Entry, ids: list[str]) -> Iterator[str]:
    for key in ("yields_to", "unread_yields_to"):
        for other in entry.get(key, []):
            if other not in ids:
                yield f'{key} "{other}" is unknown{nearest(other, ids)}'


def _roles_of(question: Entry) -> list[str]:
    shown = [question["shows"]] if "shows" in question else []
    return [*question.get("when", {}).get("role", []), *shown, *question.get("rests_on", [])]


def _against_roles(named: Iterable[str], roles: frozenset[str]) -> Iterator[str]:
    for role in named:
        if role not in roles:
            yield f'role "{role}" is unknown{nearest(role, roles)}'


def _against_question(entry: Entry, questions: Mapping[str, Entry]) -> Iterator[str]:
    """A requirement may narrow the conditions of its question, never widen them."""
    if (name := entry.get("asked_in")) is None:
        return
    if name not in questions:
        yield f'question "{name}" is unknown{nearest(name, questions)}'
        return
    for key, wide in questions[name].get("when", {}).items():
        narrow = entry.get("when", {}).get(key, wide)
        if strange := sorted(set(narrow) - set(wide)):
            yield f"when: {key} {', '.join(strange)} is wider than that of question {name}"


def _against_check(entry: Entry, checks: Mapping[str, KnownCheck]) -> Iterator[str]:
    if (name := entry.get("check")) is None:
        return
    if name not in checks:
        yield f'check "{name}" is unknown{nearest(name, checks)}'
        return
    known = checks[name]
    try:
        msgspec.convert(entry.get("with", {}), known.takes)
    except msgspec.ValidationError as error:
        yield f'with, for check "{name}": {str(error)[:1].lower()}{str(error)[1:]}'
    for grade in entry.get("levels", []):
        sort = grade.get("sort")
        if sort is not None and sort not in known.sorts and ANY_SORT not in known.sorts:
            yield f'levels: check "{name}" has no sort "{sort}"{nearest(sort, known.sorts)}'
    for text in (entry["message"], *(grade.get("message", "") for grade in entry.get("levels", []))):
        yield from _words_of(text, known)


def _words_of(text: str, known: KnownCheck) -> Iterator[str]:
    words = (*ALWAYS_SAID, *known.says)
    for _, field, _, _ in string.Formatter().parse(text):
        if field is not None and field not in words:
            yield f'message: "{{{field}}}" is unknown to check "{known.name}"{nearest(field, words)}'


def _certainty(entry: Entry) -> Iterator[str]:
    """What rests on memory alone may advise or ask, never fail a bundle."""
    if "asked_in" in entry or any(c["known"] != "memory" for c in entry["citations"]):
        return
    for level in (entry, *entry.get("levels", [])):
        if max(ORDER.index(level["filing"]), ORDER.index(level["examination"])) > ORDER.index("advice"):
            yield "it rests on memory alone, so it can be advice at most"
            return
