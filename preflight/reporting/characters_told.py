"""The table of reference characters: as text, as JSON (schemas/characters.schema.json), and for a spreadsheet."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Sequence

from preflight.papers import CharacterRow, CharacterTable, FigureRow, NotRead
from preflight.reporting.lines import FAINT, INDENT, STRONG, Sheet, styled
from preflight.reporting.machine import encoded
from preflight.reporting.report import Characters, CharacterUse, FirstNamed, PartName
from preflight.reporting.spreadsheet import harmless
from preflight.reporting.wording import clean, counted, file_name

SCHEMA = "preflight-characters/1"
COLUMNS = ("character", "names", "first file", "first page", "doubtful")
"""Of the spreadsheet, before those of the figures."""
CSV_BEGINS = "\ufeffcharacter,names,first file,first page".encode()
"""By this a file of ours is known again. Spreadsheets see by the mark at its start that it is UTF-8."""
UNSURE = "?"
"""Stands behind what was not read for sure."""
BOTH, TEXT, DRAWN = "both", "text", "drawn"
MARKS = {BOTH: "x", TEXT: "t", DRAWN: "d", "": "."}
"""In the cross-table: in text and drawing, in the text only, drawn only, neither."""
_MARK, _CHARACTER = 4, 8
"""Widths of a column of the cross-table, and of its first."""


def characters_to_json(table: CharacterTable) -> bytes:
    """Pages count from 1. `drawn` is null where a sheet that could not be read may show the figure."""
    told = tell_characters(table)
    data = {
        "schema": SCHEMA,
        "characters": told.characters,
        "figures": told.figures,
        "next_free": [{"hundred": one.hundred, "even": one.even, "odd": one.odd} for one in table.free],
        "unread": told.unread,
    }
    return encoded(data)


def tell_characters(table: CharacterTable) -> Characters:
    """The table as it stands in the report; words from papers are made harmless."""
    return Characters(
        characters=tuple(_use(row) for row in table.characters),
        figures=tuple(FigureRow(clean(one.label), one.described, one.drawn, one.brief) for one in table.figures),
        unread=tuple(NotRead(clean(one.file), one.page, clean(one.role), clean(one.why)) for one in table.unread),
        drawings=table.drawings,
    )


def _use(row: CharacterRow) -> CharacterUse:
    return CharacterUse(
        character=clean(row.character),
        names=tuple(PartName(clean(name), times) for name, times in row.names),
        first=FirstNamed(clean(row.first.file), row.first.page) if row.first else None,
        figures_in_text=row.figures_in_text,
        figures_drawn=row.figures_drawn,
        doubtful=row.doubtful or row.from_picture,
    )


def characters_to_csv(table: CharacterTable) -> bytes:
    """One line a character, one column a figure: "both", "text", "drawn" or nothing. UTF-8, RFC 4180."""
    labels = all_labels(table)
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow([*COLUMNS, *labels])
    for row in table.characters:
        names = "; ".join(f"{name} ({times})" for name, times in row.names)
        first = (row.first.file, str(row.first.page)) if row.first else ("", "")
        cells = [
            row.character,
            names,
            *first,
            "yes" if row.doubtful or row.from_picture else "",
            *(where_used(row, one) for one in labels),
        ]
        writer.writerow([harmless(cell) for cell in cells])
    return out.getvalue().encode("utf-8-sig")


def all_labels(table: CharacterTable | Characters) -> list[str]:
    """The figures, and the sheets without a label on which something stands."""
    figures = [one.label for one in table.figures]
    sheets = sorted({name for row in table.characters for name in row.figures_drawn} - set(figures), key=_number)
    return [*figures, *sheets]


def _number(label: str) -> int:
    found = re.search(r"\d+", label)
    return int(found.group()) if found else 0


def where_used(row: CharacterRow | CharacterUse, label: str) -> str:
    """BOTH, TEXT, DRAWN, or nothing where the figure has it neither way."""
    said, drawn = label in row.figures_in_text, label in row.figures_drawn
    return BOTH if said and drawn else TEXT if said else DRAWN if drawn else ""


def show_characters(table: CharacterTable, folder: str, sheet: Sheet) -> None:
    """Names and places, then figures against characters, then what is free and what was not read."""
    every, figures = counted(len(table.characters), "reference character"), counted(len(table.figures), "figure")
    sheet.hang(styled(f"{file_name(folder)}: {every}, {figures}", STRONG))
    for one in table.unread:
        sheet.hang(f"not read: {clean(one.file)}, page {one.page}: {one.why}")
    if not table.drawings:
        sheet.hang("no drawings are in the folder: nothing is known of what is drawn")
    if table.characters:
        sheet.heading("characters")
        files = {row.first.file for row in table.characters if row.first}
        told = (_told(row, one_file=len(files) == 1) for row in table.characters)
        sheet.rows([("", "names", "first named", "in text", "drawn"), *told])
        _show_cross_table(table, sheet)
        sheet.blank()
        sheet.hang("; ".join(_free(table)), label="next free: ")
    if any(row.doubtful for row in table.characters):
        sheet.hang(styled(f"{UNSURE} behind a figure: not read for sure on any sheet: look there", FAINT))
    if any(row.from_picture for row in table.characters):
        sheet.hang(styled(f"{UNSURE} behind a page: its words were read from a picture: look there", FAINT))


def _told(row: CharacterRow, *, one_file: bool) -> tuple[str, ...]:
    names = ", ".join(name if times == 1 else f"{name} ({times})" for name, times in row.names)
    place = f"page {row.first.page}{UNSURE if row.from_picture else ''}" if row.first else "-"
    first = place if one_file or not row.first else f"{row.first.file}, {place}"
    drawn = _short(row.figures_drawn) + (UNSURE if row.doubtful else "")
    return row.character, names or "(no name)", first, _short(row.figures_in_text) or "-", drawn or "-"


def _short(labels: Sequence[str]) -> str:
    return ", ".join(label.removeprefix("FIG. ") for label in labels)


def _free(table: CharacterTable) -> Iterator[str]:
    for one in table.free:
        series = f" in the {one.hundred}s" if one.hundred else " below 100"
        within = series if len(table.free) > 1 else ""
        yield f"{one.even} (even) or {one.odd} (odd){within}"


def _show_cross_table(table: CharacterTable, sheet: Sheet) -> None:
    """In as many pieces as the width asks for."""
    labels = all_labels(table)
    room = max(1, (sheet.width - INDENT - _CHARACTER) // (_MARK + 2))
    sheet.heading("figures", "x in text and drawing, t in the text only, d drawn only")
    for start in range(0, len(labels), room):
        some = labels[start : start + room]
        heads = [label.removeprefix("FIG. ").replace("sheet ", "sh. ") for label in some]
        cells = [(row.character, *(MARKS[where_used(row, label)] for label in some)) for row in table.characters]
        sheet.rows([("", *heads), *cells])
    for one in table.figures:
        if said := lacking(one.described, one.drawn, one.brief):
            sheet.hang(f"{one.label}: {said}", indent=INDENT)


def lacking(described: bool, drawn: bool | None, brief: bool) -> str:
    """What a figure has not, in words; nothing for one that has all."""
    said = [] if described else ["not named in the text"]
    said += [] if drawn else ["not known whether it is drawn" if drawn is None else "not drawn"]
    said += [] if brief or not described else ["not in the brief description"]
    return ", ".join(said)
