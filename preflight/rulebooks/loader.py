"""Reads a rulebook strictly: whatever is unknown or does not fit is refused, all mistakes at once."""

from __future__ import annotations

import hashlib
import string
import tomllib
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any, Protocol

import msgspec

from preflight.datafiles import DataMistakes, against_schema, nearest, plain, schema
from preflight.rulebooks.model import ORDER, Requirement, Rulebook

ALWAYS_SAID = ("what", "measured", "required")
"""Words that every message may use."""
ANY_SORT = "*"
"""A check whose sorts are named by the rulebook itself declares this one."""


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


def load(folder: Path, checks: Iterable[KnownCheck], roles: Iterable[str]) -> Rulebook:
    """The rulebook in the TOML files of `folder`; raises DataMistakes with every mistake in any of them."""
    data, mistakes, digest = _read(folder)
    if not data["rulebook"]:
        mistakes.append(f"{folder.name}: no file has a [rulebook] table")
    if not mistakes:
        mistakes += _against_the_code(data["requirement"], {c.name: c for c in checks}, frozenset(roles))
    if mistakes:
        raise DataMistakes(mistakes)
    entries = [
        {("limits" if k == "with" else k): v for k, v in e.items() if k != "_where"} for e in data["requirement"]
    ]
    whole = {**data["rulebook"], "requirements": entries, "fees": data["fee"], "sha256": digest}
    return msgspec.convert(whole, Rulebook)


def _read(folder: Path) -> tuple[dict[str, Any], list[str], str]:
    """All files together as plain data, the mistakes of form, and a digest that ignores line ends."""
    head: dict[str, Any] = {}
    requirements: list[dict[str, Any]] = []
    fees: list[dict[str, Any]] = []
    mistakes: list[str] = []
    digest = hashlib.sha256()
    for path in sorted(folder.glob("*.toml")):
        where = f"{folder.name}/{path.name}"
        raw = path.read_bytes().replace(b"\r\n", b"\n")
        digest.update(path.name.encode() + b"\0" + raw + b"\0")
        try:
            data = plain(tomllib.loads(raw.decode("utf-8")))
        except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
            mistakes.append(f"{where}: {error}")
            continue
        wrong = against_schema(data, schema("rulebook"), where)
        mistakes += wrong
        head |= data.get("rulebook", {})
        if not wrong:
            requirements += [{**entry, "_where": where} for entry in data.get("requirement", [])]
            fees += data.get("fee", [])
    return {"rulebook": head, "requirement": requirements, "fee": fees}, mistakes, digest.hexdigest()


def _against_the_code(
    entries: list[dict[str, Any]], checks: Mapping[str, KnownCheck], roles: frozenset[str]
) -> Iterator[str]:
    """Mistakes that a schema cannot see: names of checks, limits, sorts, words, roles, other requirements."""
    ids = [entry["id"] for entry in entries]
    for entry_id, times in Counter(ids).items():
        if times > 1:
            yield f"{entry_id}: stands {times} times"
    for entry in entries:
        where = f"{entry['_where']}: {entry['id']}"
        for other in entry.get("yields_to", []):
            if other not in ids:
                yield f'{where}: yields_to "{other}" is unknown{nearest(other, ids)}'
        for role in (*entry.get("applies_to", []), *entry.get("when", {}).get("role", [])):
            if role not in roles:
                yield f'{where}: role "{role}" is unknown{nearest(role, roles)}'
        yield from (f"{where}: {mistake}" for mistake in _certainty(entry))
        if name := entry.get("check"):
            if name not in checks:
                yield f'{where}: check "{name}" is unknown{nearest(name, checks)}'
            else:
                yield from (f"{where}: {mistake}" for mistake in _against_check(entry, checks[name]))


def _against_check(entry: dict[str, Any], known: KnownCheck) -> Iterator[str]:
    try:
        msgspec.convert(entry.get("with", {}), known.takes)
    except msgspec.ValidationError as error:
        yield f'with, for check "{known.name}": {str(error)[:1].lower()}{str(error)[1:]}'
    texts = [entry["message"]]
    for grade in entry.get("levels", []):
        sort = grade.get("sort")
        if sort is not None and sort not in known.sorts and ANY_SORT not in known.sorts:
            yield f'levels: check "{known.name}" has no sort "{sort}"{nearest(sort, known.sorts)}'
        texts.append(grade.get("message", ""))
    words = (*ALWAYS_SAID, *known.says)
    for text in texts:
        for _, field, _, _ in string.Formatter().parse(text):
            if field is not None and field not in words:
                yield f'message: "{{{field}}}" is unknown to check "{known.name}"{nearest(field, words)}'


def _certainty(entry: dict[str, Any]) -> Iterator[str]:
    """What rests on memory alone may advise or ask, never fail a bundle."""
    if "check" not in entry or any(c["known"] != "memory" for c in entry["citations"]):
        return
    for level in (entry, *entry.get("levels", [])):
        if ORDER.index(level["filing"]) > ORDER.index("advice") or ORDER.index(level["examination"]) > ORDER.index(
            "advice"
        ):
            yield "it rests on memory alone, so it can be advice at most"
            return


def as_struct(requirement: Requirement, known: KnownCheck) -> Any:
    """The limits of a requirement in the form that its check takes."""
    return msgspec.convert(requirement.limits, known.takes)
