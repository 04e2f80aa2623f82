"""The reference characters on the page: a list of names, and tables of characters against figures."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from preflight.reporting.characters_told import UNSURE, all_labels, lacking, where_used
from preflight.reporting.report import Characters, CharacterUse
from preflight.reporting.wording import file_name

ACROSS = 7
"""So many figures stand side by side on a printed sheet."""


class Row(NamedTuple):
    """One reference character, with "both", "text", "drawn" or nothing for each figure of its part."""

    character: str
    names: str
    first: str
    figures: tuple[str, ...]


class Part(NamedTuple):
    """All characters against some of the figures."""

    name: str
    figures: tuple[str, ...]
    rows: tuple[Row, ...]


class Table(NamedTuple):
    """All of it; `remarks` says what could not be read, and what a figure has not."""

    parts: tuple[Part, ...]
    remarks: tuple[str, ...]


def table_of(told: Characters) -> Table:
    """The table in words."""
    return Table(tuple(_parts(told)) if told.characters else (), tuple(_remarks(told)))


def _parts(told: Characters) -> Iterator[Part]:
    labels = all_labels(told)
    missing = "text not read" if _text_unread(told) else "not in the text"
    one_file = len({row.first.file for row in told.characters if row.first}) == 1
    for start in range(0, max(1, len(labels)), ACROSS):
        some = labels[start : start + ACROSS]
        name = f"Reference characters, {some[0]} to {some[-1]}" if some else "Reference characters"
        yield Part(name, tuple(some), tuple(_row(row, some, missing, one_file=one_file) for row in told.characters))


def _row(row: CharacterUse, labels: Iterable[str], missing: str, *, one_file: bool) -> Row:
    names = ", ".join(one.name if one.times == 1 else f"{one.name} ({one.times})" for one in row.names)
    page = f"page {row.first.page}" if row.first else ""
    first = page if one_file or not row.first else f"{file_name(row.first.file)}, {page}"
    figures = tuple(_cell(row, label) for label in labels)
    return Row(row.character, names or "\N{EN DASH}", first or missing, figures)


def _cell(row: CharacterUse, label: str) -> str:
    used = where_used(row, label)
    return f"{used} {UNSURE}" if row.doubtful and label in row.figures_drawn else used


def _text_unread(told: Characters) -> bool:
    """Some of the text could not be read: what does not stand in the rest may stand there."""
    return any(one.role != "drawings" for one in told.unread)


def _remarks(told: Characters) -> Iterator[str]:
    blind = _text_unread(told)
    if not told.drawings:
        yield "no drawings are in the folder: nothing is known of what is drawn"
    for one in told.unread:
        yield f"not read: {file_name(one.file)}, page {one.page}: {one.why}"
    for figure in told.figures:
        if said := lacking(figure.described or blind, figure.drawn, figure.brief or blind):
            yield f"{figure.label}: {said}"
    if any(row.doubtful for row in told.characters):
        yield f"{UNSURE} not read for sure on any sheet: look there"
