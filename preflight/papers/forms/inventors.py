"""The inventors that a cover sheet, data sheet or letter names, with their residences."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from itertools import combinations, pairwise

import msgspec

from preflight.facts import Block, Box, Field, Line, Page
from preflight.papers.forms import form_words as label
from preflight.papers.forms.columns import cells_parted, heads_parted
from preflight.papers.forms.labels import Filled, filled, is_label, parted, unnumbered
from preflight.papers.forms.persons import Inventor, is_name, is_region, person, residence
from preflight.papers.model import Paper, Said
from preflight.papers.words.lettering import Row, flat, keyed, rows
from preflight.papers.words.printed import beside, lines_on

ROW_PITCH = 1.7
"""A table of inventors ends where the next row begins more than so many cm below. House value."""
HEADER_DEPTH = 1.2
"""The heads of its columns stand within so many cm of each other's height. House value."""
COLUMN_SLACK = 0.4
"""A cell begins within so many cm of where the cell above it begins. House value."""
NEARLY = 0.15
"""Cells of one column begin within so many cm of each other where they are set flush left. House value."""
HEAD_WORDS = 7
"""The first line of a column's head has at most so many words. House value."""
HEAD_HEIGHT = 1.8
"""The head of a column is no higher than so many cm. House value."""
WRAPPED = 0.55
"""A row this close (cm) under another, without a name, continues it. House value."""

_COLUMNS = {
    "given": re.compile(rf"(?:{label.GIVEN})"),
    "family": re.compile(rf"(?:{label.FAMILY})"),
    "name": re.compile(
        r"(?:full |legal )*name(?: of (?:the )?inventor s?)?|inventors?(?: s)?(?: full| legal)?(?: names?)?"
    ),
    "residence": re.compile(r"(?:place of )?residence(?: .*)?"),
    "city": re.compile(rf"(?:{label.CITY})"),
    "region": re.compile(rf"(?:{label.STATE}|{label.COUNTRY})"),
}
_ROW_NUMBERS = re.compile(r"^(?:No|Nr|Item)\.?\s+(?=\S)|^#\s*(?=\S)", re.IGNORECASE)
"""The head of a narrow column of numbers before the names, which looks like one line with the next head."""
_STOP = re.compile(
    r"^(?:additional|title|direct|correspondence|enclosed|method|fee|the address|application|note|send|docket"
    r"|dear|to whom|sirs?|madam|sincerely|respectfully|very truly|yours|kind regards|signed|signature)\b"
)


def inventors(paper: Paper) -> tuple[Inventor, ...]:
    """Form fields speak first, then a table with heads of columns, then names after a label. Empty if none is found."""
    found = tuple(_from_fields(paper))
    heads: dict[str, Line] = {}
    for page in paper.pages if not found else ():
        heads, foot = _heads_for(paper, page, heads)
        found += tuple(_from_table(paper, page, heads, foot)) if heads else ()
    return found or tuple(one for page in paper.pages for one in _from_labels(paper, page))


def _inventor(
    paper: Paper, page: int, box: Box | None, cells: Mapping[str, str], columns: tuple[str, ...]
) -> Inventor | None:
    name = cells.get("name", "") or " ".join(cells[key] for key in ("given", "family") if cells.get(key))
    if not name:
        return None
    said = Said(name, paper.file, paper.role, page, box)
    where = ", ".join(cells[key] for key in ("residence", "city", "region") if cells.get(key))
    if "given" not in cells and "family" not in cells:
        one = person(name if "residence" in cells or "city" in cells or not where else f"{name}, {where}", said)
        name, said = (one.name, said) if one else (name, said)
        where = where or (one.residence or "" if one else "")
    at = residence(where)
    city = cells.get("city") or at.city
    return Inventor(
        name,
        cells.get("given"),
        cells.get("family"),
        where or None,
        city,
        cells.get("region") or at.region,
        said,
        columns,
    )


def _from_fields(paper: Paper) -> Iterator[Inventor]:
    grouped: dict[tuple[int, float], dict[str, Field]] = {}
    known = {field.name: _field_column(field) for field in paper.fields if field.kind in ("text", "choice")}
    columns = tuple(sorted({column for column in known.values() if column}))
    for field in paper.fields:
        column = known.get(field.name)
        if column and field.value and field.kind in ("text", "choice"):
            grouped.setdefault(_field_row(field), {}).setdefault(column, field)
    for (page, _), row in sorted(grouped.items()):
        if not ({"given", "family", "name"} & set(row)):
            continue
        cells = {column: flat(field.value or "") for column, field in row.items()}
        box = Box.around(field.box for field in row.values() if field.box)
        one = _inventor(paper, page, box, cells, columns)
        if one:
            yield one


def _field_column(field: Field) -> str | None:
    """Which column of the table of inventors a field belongs to, by its description or else its name."""
    for text in (field.label, field.name):
        whole = label.spaced(text)
        words = re.sub(r"\b(?:row )?\d+\b", " ", whole).strip()
        words = re.sub(r"^inventors? (?=\S)", "", " ".join(words.split()))
        for column, pattern in _COLUMNS.items():
            plain_name = column == "name" and "inventor" not in whole
            if words and pattern.fullmatch(words) and not plain_name:
                return column
    return None


def _field_row(field: Field) -> tuple[int, float]:
    page = field.page or 0
    if field.box:
        return page, round(field.box.middle[1] / 0.4)
    number = re.search(r"(\d+)\D*$", field.name)
    return page, float(number.group(1)) if number else 0.0


def _heads_for(paper: Paper, page: Page, before: dict[str, Line]) -> tuple[dict[str, Line], float]:
    """The heads of a page's columns and where they end; those of the page before, where its table goes on without."""
    every = [head for line in lines_on(paper, page) for head in heads_parted(line)]
    heads = _heads(every)
    if heads:
        return heads, _foot(page, heads)
    for row in rows(every):
        lefts = [line.box.left for line in row.lines]
        if len(lefts) == len(before) and all(
            abs(left - head.box.left) <= COLUMN_SLACK for left, head in zip(lefts, before.values(), strict=True)
        ):
            return before, row.box.top
    return {}, 0.0


def _from_table(paper: Paper, page: Page, heads: Mapping[str, Line], foot: float) -> Iterator[Inventor]:
    every = lines_on(paper, page)
    below = _table_rows(every, heads, foot)
    starts = _column_starts(below, heads)
    begins = _begins(below, every, heads)
    table: list[tuple[dict[str, str], Box]] = []
    for row in below:
        lines = tuple(cell for line in row.lines for cell in cells_parted(line, begins, every))
        cells = _cells(msgspec.structs.replace(row, lines=lines), tuple(heads), starts)
        continues = table and not {"given", "family", "name"} & set(cells)
        if continues and row.box.top - table[-1][1].bottom < WRAPPED:
            _extend(table[-1][0], cells)
        elif cells:
            table.append((cells, row.box))
    for cells, box in table:
        one = _inventor(paper, page.number, box, cells, tuple(heads))
        if one and is_name(one.name):
            yield one


def _table_rows(every: list[Line], heads: Mapping[str, Line], foot: float) -> list[Row]:
    """The rows under the heads, as far as they follow each other closely and are no other label."""
    found: list[Row] = []
    bottom = foot
    for row in rows(line for line in every if line.box.top >= foot - 0.05 and line not in heads.values()):
        gap = row.box.top - bottom
        if gap > ROW_PITCH or _STOP.match(keyed(row.text)) or is_label(row.text):
            break
        if not _is_note(row):
            found.append(row)
        bottom = row.box.bottom
    return found


def _column_starts(below: list[Row], heads: Mapping[str, Line]) -> list[float]:
    """Where each column but the first begins: as a full row shows, else half-way between two heads."""
    cells = ([line for line in row.lines if not line.text.strip(" .").isdigit()] for row in below)
    full = next((row for row in cells if len(row) == len(heads)), None)
    if full is not None:
        return [line.box.left - COLUMN_SLACK for line in full[1:]]
    return [(first.box.right + second.box.left) / 2 for first, second in pairwise(heads.values())]


def _begins(below: list[Row], every: list[Line], heads: Mapping[str, Line]) -> list[float]:
    """Where columns begin (cm), as far as it is seen twice: by cells under each other, or by a head of its own."""
    row = min((line.box.top for line in heads.values()), default=0.0)
    own = [line.box.left for line in every if abs(line.box.top - row) <= HEADER_DEPTH and line in heads.values()]
    if len(own) == len(heads):
        own += [line.box.left for line in every if abs(line.box.top - row) < WRAPPED]
    lefts = [line.box.left for row in below for line in row.lines if not line.text.strip(" .").isdigit()]
    first = min(lefts, default=0.0)
    seen = [left for left in lefts if sum(abs(left - other) < NEARLY for other in [*lefts, *own]) > 1]
    found: list[float] = []
    for left in sorted([*seen, *own]):
        if left > first + COLUMN_SLACK and (not found or left - found[-1] >= NEARLY):
            found.append(left)
    return found


def _is_note(row: Row) -> bool:
    """A second line of a column's head, such as "(City and either State or Foreign Country)"."""
    return row.text.startswith(("(", "[")) or row.text.endswith("])")


def _extend(cells: dict[str, str], more: Mapping[str, str]) -> None:
    for column, text in more.items():
        cells[column] = f"{cells.get(column, '')} {text}".strip()


def _heads(every: list[Line]) -> dict[str, Line]:
    """The heads of the columns, leftmost first; empty unless a name and a place, or both names, have one."""
    for start in every:
        near = [line for line in every if 0 <= line.box.top - start.box.top <= HEADER_DEPTH]
        found: dict[str, Line] = {}
        for line in sorted(near, key=lambda ln: ln.box.left):
            words = keyed(_ROW_NUMBERS.sub("", unnumbered(line.text)))
            column = next((name for name, pattern in _COLUMNS.items() if _heads_column(pattern, words)), None)
            if column and column not in found and ":" not in line.text:
                found[column] = line
        if {"given", "family"} & set(found):
            found.pop("name", None)  # the heading "Inventors" over the table
        names, places = {"given", "family", "name"} & set(found), {"residence", "city", "region"} & set(found)
        if any(_over(one.box, two.box) for one, two in combinations(found.values(), 2)):
            continue  # labels under each other, with their values beside them
        if (names and places) or {"given", "family"} <= names:
            return found
    return {}


def _over(one: Box, two: Box) -> bool:
    """Whether two boxes stand over each other in one column, at different heights."""
    apart = one.bottom <= two.top or two.bottom <= one.top
    return apart and one.left < two.right and two.left < one.right


def _heads_column(pattern: re.Pattern[str], words: str) -> bool:
    """Whether folded words are the head of a column, or the first line of a head that goes on below."""
    begins = re.match(rf"(?:{pattern.pattern})(?= |$)", words)
    return bool(pattern.fullmatch(words) or (begins and len(words.split()) <= HEAD_WORDS and "inventor" not in words))


def _foot(page: Page, heads: Mapping[str, Line]) -> float:
    """Where the heads end: each may run over several lines of its cell."""
    cells = [block.box for block in page.blocks for line in heads.values() if _is_head(block, line)]
    return max([line.box.bottom for line in heads.values()] + [box.bottom for box in cells])


def _is_head(block: Block, line: Line) -> bool:
    return block.box.touches(line.box) and flat(block.lines[0]) == flat(line.text) and block.box.height < HEAD_HEIGHT


def _cells(row: Row, columns: tuple[str, ...], starts: list[float]) -> dict[str, str]:
    """The texts of a row by column."""
    cells: dict[str, str] = {}
    for line in row.lines:
        at = sum(1 for start in starts if line.box.left >= start)
        text = unnumbered(line.text).strip(" _")
        if text and not text.isdigit():  # the number of the row, in a column of its own
            _extend(cells, {columns[at]: text})
    return cells


def _from_labels(paper: Paper, page: Page) -> list[Inventor]:
    """Names after "Inventor:", "Inventors", "Name:" under such a heading, with what is labelled as their residence."""
    found: list[Inventor] = []
    opened: float | None = None
    every = [part for whole in lines_on(paper, page) for part in parted(whole)]
    taken: list[Line] = []
    for line in every:
        said = filled(line)
        if any(line is one for one in taken):
            continue
        if opened is not None and not said.text and (column := _column_of(said.label)):
            value = beside(every, line)
            if value is not None and not is_label(value.text):
                taken.append(value)
                said = Filled(said.label, flat(value.text).strip(" _"))
            if (value is None or said.text) and _in_cells(paper, page, value or line, column, said.text, found):
                continue
        if re.fullmatch(rf"{label.INVENTORS}|{label.FIRST_INVENTOR}", said.label):
            opened = line.box.left
            found += _people(paper, page, line, said.text)
        elif opened is None:
            continue
        elif said.label and not _continues(paper, page, line, said, found):
            if line.box.left <= opened + 1.0:
                opened = None
        elif _STOP.match(keyed(line.text)) or flat(line.text).startswith("/"):
            opened = None  # a letter begins, ends or is signed
        elif not said.label:
            _unlabelled(paper, page, line, found)
    return found


def _column_of(words: str) -> str | None:
    """Which part of an inventor folded words ask for in a form of labels with cells beside them."""
    return next((key for key in ("given", "family", "city", "region") if _COLUMNS[key].fullmatch(words)), None)


def _in_cells(paper: Paper, page: Page, line: Line, column: str, text: str, found: list[Inventor]) -> bool:
    """Take in what stands in the cell beside a label, or that it is empty where others of this inventor are filled.

    False where the part belongs to no inventor whose name was found in such a cell.
    """
    if column == "given":
        if text:
            found.append(Inventor(text, given=text, place=_place(paper, page, line), columns=("given",)))
        return bool(text)
    if not found or not found[-1].columns:
        return False
    one = found[-1]
    columns = tuple(dict.fromkeys((*one.columns, column)))
    if column == "family":
        found[-1] = msgspec.structs.replace(
            one, name=f"{one.name} {text}".strip(), family=text or None, columns=columns
        )
        return True
    where = ", ".join(part for part in (one.residence, text) if part)
    city = text or None if column == "city" else one.city
    region = ", ".join(part for part in (one.region, text) if part) if column == "region" else one.region
    found[-1] = msgspec.structs.replace(one, residence=where or None, city=city, region=region or None, columns=columns)
    return True


def _continues(paper: Paper, page: Page, line: Line, said: Filled, found: list[Inventor]) -> bool:
    """Take in a labelled name or place; False if the label is about something else."""
    if re.fullmatch(rf"{label.NAME}", said.label):
        found += _people(paper, page, line, said.text)
    elif re.fullmatch(label.GIVEN, said.label) and said.text:
        found.append(Inventor(said.text, given=said.text, place=_place(paper, page, line)))
    elif re.fullmatch(label.FAMILY, said.label) and said.text and found:
        last = found[-1]
        found[-1] = Inventor(f"{last.given or last.name} {said.text}", last.given, said.text, place=last.place)
    elif re.fullmatch(rf"{label.RESIDENCE}|{label.CITY}|{label.STATE}|{label.COUNTRY}", said.label):
        if found and said.text:
            found[-1] = _placed(found[-1], said)
    else:
        return False
    return True


def _placed(one: Inventor, said: Filled) -> Inventor:
    where = f"{one.residence}, {said.text}" if one.residence else said.text
    at = residence(where)
    city, region = at.city, at.region
    if re.fullmatch(label.CITY, said.label):
        city, region = said.text, one.region
    elif re.fullmatch(rf"{label.STATE}|{label.COUNTRY}", said.label):
        city, region = one.city, said.text if not one.region else f"{one.region}, {said.text}"
    return Inventor(one.name, one.given, one.family, where, city, region, one.place)


def _unlabelled(paper: Paper, page: Page, line: Line, found: list[Inventor]) -> None:
    text = unnumbered(line.text)
    at = residence(text)
    if found and found[-1].residence is None and at.region and is_region(at.region.split(",")[0]) and "," in text:
        one = found[-1]
        found[-1] = Inventor(one.name, one.given, one.family, text, at.city, at.region, one.place)
    elif len(text.split()) >= 2:
        found += _people(paper, page, line, text)


def _people(paper: Paper, page: Page, line: Line, text: str) -> list[Inventor]:
    every = (person(part, _place(paper, page, line)) for part in split_people(text))
    return [one for one in every if one]


def _place(paper: Paper, page: Page, line: Line) -> Said:
    return Said(flat(line.text), paper.file, paper.role, page.number, line.box)


def split_people(text: str) -> list[str]:
    """Several people in one line, parted: "A (x), B (y)", "A; B", "A and B", "A, B and C" where none is a place."""
    plain = flat(text)
    if ";" in plain:
        return [part for part in plain.split(";") if part.strip()]
    if re.search(r"\)\s*(?:,|and\b|&)", plain):
        return [part for part in re.split(r"(?<=\))\s*(?:,\s*(?:and\s)?|and\s|&)\s*", plain) if part.strip()]
    both = [part for part in re.split(r",?\s+(?:and|&)\s+", plain) if part.strip()]
    names = [name.strip() for part in both for name in part.split(",")]
    if all(is_name(name) and len(name.split()) >= 2 and not is_region(name) for name in names):
        return names
    return both
