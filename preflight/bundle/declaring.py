"""Writes sign-offs and answers into filing.toml: a person's file, whose comments and order stay as they are."""

from __future__ import annotations

import re
import tomllib
from typing import Any

import msgspec

from preflight.datafiles import DataMistakes, quoted
from preflight.facts.declared import DECLARATION, Answer, SignOff

_LISTS: dict[type[SignOff] | type[Answer], tuple[str, str]] = {
    SignOff: ("signed_off", "finding"),
    Answer: ("answers", "question"),
}
"""In which list of the file an entry stands, and which of its keys names what it speaks of."""
_LEFT_OUT_IF_EMPTY = ("requirement", "message", "note", "files")
_MARK = "\ufeff"
_BEFORE_AN_ENTRY = re.compile(r"(?m)^(.*\S.*)(\n(?:[ \t]*\n)*)(?=\[\[(?:signed_off|answers)\]\])")
"""The last line before an entry that is not blank, and the line ends behind it."""


def with_entry(text: str, entry: SignOff | Answer) -> str:
    """The text of filing.toml with this entry, in the place of an earlier one on the same finding or question.

    Raises DataMistakes if that cannot be done without a change in anything else.
    """
    name, key = _LISTS[type(entry)]
    fields = {k: v for k, v in msgspec.structs.asdict(entry).items() if v or k not in _LEFT_OUT_IF_EMPTY}
    before: list[Any] = tomllib.loads(_bare(text)).get(name, [])
    wanted = [*(one for one in before if one[key] != fields[key]), fields]
    return _edited(text, name, {fields[key]}, key, fields, wanted)


def without_entry(text: str, of: str) -> str:
    """The text without the sign-off or answer on this finding or question.

    Raises KeyError if there is none, DataMistakes if it cannot be taken out without a change in anything else.
    """
    data = tomllib.loads(_bare(text))
    for name, key in _LISTS.values():
        before: list[Any] = data.get(name, [])
        if any(one[key] == of for one in before):
            return _edited(text, name, {of}, key, None, [one for one in before if one[key] != of])
    raise KeyError(of)


def _edited(
    text: str, name: str, gone: set[str], key: str, added: dict[str, Any] | None, wanted: list[dict[str, Any]]
) -> str:
    import tomlkit  # noqa: PLC0415 - only signing and answering wait for it, no other start
    from tomlkit.exceptions import TOMLKitError  # noqa: PLC0415
    from tomlkit.items import Array  # noqa: PLC0415

    line_end = "\r\n" if "\r\n" in text else "\n"
    plain = _bare(text)
    try:
        document = tomlkit.parse(plain)
        entries = document.get(name)
        if entries is None:
            entries = tomlkit.aot()
            document.append(name, entries)
        for place in reversed(range(len(entries))):
            if entries[place][key] in gone:
                del entries[place]
        if added is not None:
            entries.append(_item(added, inline=isinstance(entries, Array)))
        if not entries:
            del document[name]
        made = tomlkit.dumps(document)
    except (TOMLKitError, TypeError, ValueError) as error:
        raise DataMistakes([f"{DECLARATION}: {name} could not be written ({error})"]) from error
    made = _spaced(made.replace("\r\n", "\n")).replace("\n", line_end) if line_end == "\r\n" else _spaced(made)
    _prove(tomllib.loads(plain), tomllib.loads(made), name, wanted)
    return _MARK * text.startswith(_MARK) + (made if plain[:1].isspace() and plain.strip() else made.lstrip())


def _spaced(made: str) -> str:
    """One blank line before each entry; a comment that stands on it keeps its place."""

    def apart(found: re.Match[str]) -> str:
        line, ends = found.groups()
        return f"{line}\n" if line.lstrip().startswith("#") and ends == "\n" else f"{line}\n\n"

    spaced = _BEFORE_AN_ENTRY.sub(apart, made)
    return spaced if tomllib.loads(spaced) == tomllib.loads(made) else made  # what looks like an entry may be quoted


def _item(fields: dict[str, Any], *, inline: bool) -> Any:
    import tomlkit  # noqa: PLC0415 - as above

    table: Any = tomlkit.inline_table() if inline else tomlkit.table()
    if not inline:
        table.trivia.indent = "\n"  # a blank line before it
    for key, value in fields.items():
        table.append(key, tomlkit.value(_written(value)) if isinstance(value, str | dict) else value)
    return table


def _written(value: str | dict[str, str]) -> str:
    """As TOML in which nothing steers an editor or hides in it: a message may quote a paper, a name may be hostile."""
    if isinstance(value, str):
        return quoted(value)
    return f"{{{', '.join(f'{quoted(name)} = {quoted(digest)}' for name, digest in value.items())}}}"


def _prove(before: dict[str, Any], after: dict[str, Any], name: str, wanted: list[dict[str, Any]]) -> None:
    """Everything else is as it was, or nothing is written."""
    expected = {**before, name: wanted}
    if not wanted:
        del expected[name]
    if after != expected:
        raise DataMistakes(
            [f"{DECLARATION}: {name} could not be written without a change elsewhere; write it as [[{name}]] tables"]
        )


def _bare(text: str) -> str:
    return text.removeprefix(_MARK)
