"""Mistakes in a person's data file, gathered so that all are shown at once."""

from __future__ import annotations

import datetime as dt
import difflib
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from jsonschema.exceptions import ValidationError


class DataMistakes(Exception):
    """A data file that cannot be used; `mistakes` are lines for people, all of them."""

    def __init__(self, mistakes: Iterable[str]) -> None:
        self.mistakes = tuple(mistakes)
        super().__init__("\n".join(self.mistakes))


def plain(data: Any) -> Any:
    """TOML data with its dates as ISO strings, which is what a JSON Schema can speak of."""
    if isinstance(data, dict):
        return {key: plain(value) for key, value in data.items()}
    if isinstance(data, list):
        return [plain(value) for value in data]
    if isinstance(data, dt.date):
        return data.isoformat()
    return data


def against_schema(data: Any, schema: dict[str, Any], where: str) -> list[str]:
    """Every way in which `data` (as made by `plain`) breaks the schema, each a line that begins with `where`."""
    from jsonschema import Draft202012Validator  # noqa: PLC0415 - a tenth of a second that most starts do not need

    errors = sorted(Draft202012Validator(schema).iter_errors(data), key=lambda e: list(map(str, e.absolute_path)))
    return [f"{where}: {_named(data, error)}{_said(error)}" for error in errors]


def nearest(word: str, known: Iterable[str]) -> str:
    """`; did you mean "..."?` with the nearest known name, or nothing if none is near."""
    near = difflib.get_close_matches(word, sorted(known), n=1, cutoff=0.6)
    return f'; did you mean "{near[0]}"?' if near else ""


def _named(data: Any, error: ValidationError) -> str:
    """The place of the error, with the id of the entry that it stands in where there is one."""
    words: list[str] = []
    here = data
    for step in error.absolute_path:
        here = here[step]
        if isinstance(step, int):
            name = here.get("id") if isinstance(here, dict) else None
            words.append(str(name) if name else f"number {step + 1}")
        else:
            words.append(str(step))
    return " > ".join(words) + ": " if words else ""


def _said(error: ValidationError) -> str:
    rule: Any = error.schema
    wanted: Any = error.validator_value
    given: Any = error.instance
    if error.validator == "additionalProperties" and isinstance(error.instance, dict):
        known = rule.get("properties", {})
        strange = [key for key in error.instance if key not in known]
        return " and ".join(f'"{key}" is unknown{nearest(key, known)}' for key in strange)
    if error.validator == "oneOf":
        return f"it needs exactly one of: {'; '.join(' with '.join(o.get('required', [])) for o in wanted)}"
    if error.validator == "required":
        missing = [key for key in wanted if key not in given]
        return f"{' and '.join(missing)} {'is' if len(missing) == 1 else 'are'} missing"
    if error.validator == "enum":
        return f'"{error.instance}" is unknown; known are {", ".join(map(str, wanted))}'
    return error.message
