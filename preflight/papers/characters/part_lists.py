"""Lists of reference numerals: "10 frame, 12 wall", one below the other or in a row, the number first or last."""

from __future__ import annotations

import re
from collections.abc import Iterator

from preflight.papers.characters.part_words import STOPS
from preflight.papers.characters.tokens import tokens

_HEADING = re.compile(
    r"\b(?:list|table|key) (?:of|to) (?:the )?(?:reference )?(?:numerals|signs|characters|numbers|parts)\b"
    r"[^\n:.\d]{0,30}[:.]?"
    r"|\b(?:reference|part) (?:numerals?|signs?|characters?|numbers?)(?: list)?(?: used[^\n:.\d]{0,30})?(?:[:.]|\s*\n)"
    r"|\breference (?:numeral|sign|character|number)s? list\b[:.]?",
    re.IGNORECASE,
)
_CHARACTER = r"(?:\d{1,4}[A-Za-z]?|S\d{1,4}|[A-Z]\d{1,3})'{0,2}"
_CHARACTERS = rf"{_CHARACTER}(?:(?:,| and| or|-| to)[ \t]*{_CHARACTER})*"
"""One, or several that share a name: "4a, 4b uprights"."""
_NAME = r"[^\W\d_](?:[^\W\d_]|[ '/-](?=[^\W\d_])){1,60}"
_END = r"[ \t]*(?:[,;.]|(?=\n)|(?=\s\d)|\Z)\s*"
_FIRST = re.compile(rf"\s*\(?(?P<character>{_CHARACTERS})\)?(?:[ \t]*[-:=.]+)?[ \t]+(?P<name>{_NAME}){_END}")
_LAST = re.compile(rf"\s*(?P<name>{_NAME})[ \t]*[-:=.,( \t]+(?P<character>{_CHARACTERS})\)?(?![\w.'-]){_END}")
_LINE = re.compile(
    rf"(?:(?<=\n)|\A)\(?(?P<character>{_CHARACTERS})\)?(?:[ \t]*[-:=]+)?[ \t]+(?P<name>{_NAME})[,;.]?(?=\n|\Z)"
)
FEWEST = 3
"""So many lines of number and name make a list where no heading says so. House value."""
WORDS = 6
"""Names of a list have at most so many words. House value."""

Item = tuple[str, str, int, int]
"""Name, character, where it stands: start and end."""


def part_lists(text: str) -> list[Item]:
    """The items of all lists in a text whose lines are divided by line feeds, in order."""
    items: list[Item] = []
    for heading in _HEADING.finditer(text):
        under = list(_items(text, heading.end()))
        items += under if len(under) > 1 else []
    return items or list(_unheaded(text))


def _items(text: str, at: int) -> Iterator[Item]:
    for shape in (_FIRST, _LAST):
        found = shape.match(text, at)
        if not found:
            continue
        while found and _is_name(found.group("name")):
            yield from _each(found)
            found = shape.match(text, found.end())
        return


def _each(found: re.Match[str]) -> Iterator[Item]:
    """The characters that one line names."""
    name, start = found.group("name").casefold(), found.start("character")
    for token in tokens(found.group("character")):
        yield from ((name, character, start + token.start, found.end()) for character in token.characters)


def _unheaded(text: str) -> Iterator[Item]:
    run: list[re.Match[str]] = []
    for found in [*_LINE.finditer(text), None]:
        follows = found is not None and (not run or found.start() - run[-1].end() <= len(".\n"))
        if found is not None and follows and _is_name(found.group("name")):
            run.append(found)
            continue
        if len(run) >= FEWEST:
            yield from (item for one in run for item in _each(one))
        run = [found] if found is not None and _is_name(found.group("name")) else []


def _is_name(said: str) -> bool:
    words = re.sub(r" (?:of|for|to|with) (?:the|an?) ", " of ", said.casefold()).split()
    return len(words) <= WORDS and not (set(words) - {"of", "for", "to", "with", "and"}) & STOPS
