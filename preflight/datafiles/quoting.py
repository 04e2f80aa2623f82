"""Strings of a person's TOML file, written so that a reader sees all that stands in them."""

from __future__ import annotations

from collections.abc import Callable


def quoted(text: str, is_seen: Callable[[str], bool] = str.isprintable) -> str:
    """A TOML basic string; characters that are not seen, or steer or hide text, are written as their codes."""
    return '"' + "".join(_escaped(character, is_seen) for character in text) + '"'


def _escaped(character: str, is_seen: Callable[[str], bool]) -> str:
    if character in '"\\':
        return f"\\{character}"
    if is_seen(character):
        return character
    code = ord(character)
    if 0xD800 <= code < 0xE000:  # half of a pair, which TOML cannot hold
        return "\ufffd"
    return f"\\U{code:08X}"
