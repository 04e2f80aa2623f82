"""The table of reference characters: names, where first named, in which figures described and drawn."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

import msgspec

from preflight.facts import Page
from preflight.papers.characters.clashes import by_character
from preflight.papers.characters.described import Described, Mention, described
from preflight.papers.characters.drawn_characters import characters_on, named_on, numbers_on
from preflight.papers.characters.figure_paragraphs import figures_spoken_of
from preflight.papers.characters.matching import match
from preflight.papers.characters.next_free import NextFree, next_free
from preflight.papers.model import Filing, Paper
from preflight.papers.pages.figures_named import named_figures
from preflight.papers.pages.scanned import as_read, scanned_pages
from preflight.papers.pages.sheets import FigureLabel, labels_on
from preflight.papers.specification.structure import specification
from preflight.papers.words.drawn import sheet_unread

TEXTS = ("specification", "claims")


class CharacterRow(msgspec.Struct, frozen=True):
    """One reference character. `names` with how often each stands; `first` is None where the text never gives it.

    `figures_drawn` are labels ("FIG. 2A"), or "sheet 3" where the sheet shows no label. `doubtful`: it is drawn only
    where the reading was not sure. `from_picture`: the text gives it only on pages that are scans.
    """

    character: str
    names: tuple[tuple[str, int], ...]
    first: Mention | None
    figures_in_text: tuple[str, ...]
    figures_drawn: tuple[str, ...]
    doubtful: bool
    from_picture: bool = False


class FigureRow(msgspec.Struct, frozen=True):
    """One figure: whether the text names it, the sheets show it (None: not known), the brief description has it."""

    label: str
    described: bool
    drawn: bool | None
    brief: bool


class NotRead(msgspec.Struct, frozen=True):
    """A paper or a sheet of which nothing is known, and why."""

    file: str
    page: int
    role: str
    why: str


class CharacterTable(msgspec.Struct, frozen=True):
    """Characters in the order of their numbers, figures in the order of theirs."""

    characters: tuple[CharacterRow, ...]
    figures: tuple[FigureRow, ...]
    free: tuple[NextFree, ...]
    unread: tuple[NotRead, ...]
    drawings: bool
    """Whether there are drawings at all."""


class _Drawn(msgspec.Struct, frozen=True):
    character: str
    figure: str
    sure: bool


def character_table(filing: Filing, *, from_pictures: bool = False) -> CharacterTable:
    """Of the description, the claims and the drawings of a filing, as far as they could be read.

    `from_pictures`: also as the pictures of scanned texts seem to read; what rests on them alone is marked.
    """
    unread = tuple(_unread(filing))
    scans = frozenset[tuple[str, int]]()
    if from_pictures and (seen := as_read(filing)):
        filing, scans = seen, scanned_pages(filing)
        unread = tuple(_though_seen(one, filing) for one in unread)
    texts = [paper for paper in filing.with_role(*TEXTS) if not paper.text_unread]
    text = described(texts)
    drawn = list(_drawn(filing, text))
    found = specification(filing)
    spoken = figures_spoken_of(found) if found else None
    named = by_character(text)
    rows = []
    for character in sorted({*named, *(one.text for one in text.bare), *(one.character for one in drawn)}, key=_order):
        mentions = [*named.get(character, ()), *(one for one in text.bare if one.text == character)]
        uses = [one for one in drawn if one.character == character]
        shows = {one.figure.removeprefix("FIG. ") for one in uses}
        figures = {
            figure
            for one in mentions
            if spoken and one.role == "specification"
            for figure in _spoken(*spoken.at(one.file, one.page, one.box), shows)
        }
        rows.append(
            CharacterRow(
                shown(character),
                tuple(Counter(one.name for one in mentions if one.name).most_common()),
                mentions[0] if mentions else None,
                tuple(f"FIG. {name}" for name in sorted(figures, key=_order)),
                tuple(sorted({one.figure for one in uses}, key=_order)),
                doubtful=bool(uses) and not any(one.sure for one in uses),
                from_picture=bool(mentions) and all((one.file, one.page) in scans for one in mentions),
            )
        )
    return CharacterTable(
        tuple(rows),
        tuple(_figures(filing, texts, bool(unread))),
        next_free(_in_use(text, drawn), text.ranges),
        unread,
        bool(filing.with_role("drawings")),
    )


def shown(character: str) -> str:
    """For people: a low digit stands low."""
    low = str.maketrans("0123456789", "\u2080\u2081\u2082\u2083\u2084\u2085\u2086\u2087\u2088\u2089")
    before, mark, digits = character.partition("_")
    return before + digits.translate(low) if mark else character


def _order(text: str) -> tuple[str, int, str]:
    """By letters before the number, the number, what follows: 9, 10, 10a, R1, S10."""
    found = re.search(r"\d+", text)
    return (text[: found.start()], int(found.group()), text[found.end() :]) if found else (text, 0, "")


def _in_use(text: Described, drawn: Iterable[_Drawn]) -> set[str]:
    """The characters that count when new ones are numbered: not "pin 5" of a chip, unless nothing else is there."""
    sure = {one.character for one in drawn} | {name for name in text.texts if text.names_for_sure(name)}
    return sure or set(text.texts)


def _spoken(named: Iterable[str], before: Iterable[str], shows: set[str]) -> set[str]:
    """A paragraph that names no figure goes on with the one before it, as far as that shows the part."""
    return set(named) or (set(before) & shows)


def _drawn(filing: Filing, text: Described) -> Iterator[_Drawn]:
    """What stands on the sheets and is described, or surely is no data; with the figure whose label is nearest."""
    for paper in filing.with_role("drawings"):
        for page in paper.pages:
            labels = labels_on(page)
            for one in match(characters_on(page), text, numbers_on(page)):
                figure = _figure(page, labels, one.character.box.middle)
                if one.answer == "look":
                    yield from (_Drawn(name, figure, sure=False) for name in one.instead[:1])
                else:
                    yield _Drawn(one.character.text, figure, one.character.sure)
            for named in named_on(page, text.texts):
                yield _Drawn(named.text, _figure(page, labels, named.box.middle), named.sure)


def _figure(page: Page, labels: Sequence[FigureLabel], at: tuple[float, float]) -> str:
    """The label of the view at a place: the nearest one, of those below it where labels stand below their views."""
    if not labels:
        return f"sheet {page.number}"
    across, down = at
    foot = max(one.box.middle[1] for one in labels)
    below = [one for one in labels if one.box.middle[1] >= down]
    under = bool(below) and all(one.box.middle[1] <= foot for one in characters_on(page))
    some = below if under else labels
    nearest = min(some, key=lambda one: (one.box.middle[0] - across) ** 2 + (one.box.middle[1] - down) ** 2)
    return f"FIG. {nearest.name}"


def _figures(filing: Filing, texts: Iterable[Paper], blind: bool) -> Iterator[FigureRow]:
    """`blind`: something could not be read, so that what was not found may still be there."""
    named = {one.name for one in named_figures(texts)}
    found = specification(filing)
    brief = {name for view in found.views for name in view.figures} if found else set()
    sheets = filing.with_role("drawings")
    drawn = {label.name for paper in sheets for page in paper.pages for label in labels_on(page)}
    for name in sorted(named | drawn, key=_order):
        seen = True if name in drawn else None if blind and sheets else False
        yield FigureRow(f"FIG. {name}", name in named, seen, name in brief)


def _unread(filing: Filing) -> Iterator[NotRead]:
    for paper in filing.with_role(*TEXTS):
        if why := paper.text_unread:
            yield NotRead(paper.file, paper.first_page, paper.role, why)
    for paper in filing.with_role("drawings"):
        for page in paper.pages:
            if why := sheet_unread(page):
                yield NotRead(paper.file, page.number, paper.role, why)


def _though_seen(one: NotRead, seen: Filing) -> NotRead:
    """What is told of a scan whose picture could be read."""
    read = any(p.file == one.file and p.role == one.role and not p.text_unread for p in seen.with_role(*TEXTS))
    why = "it is a scan; what is told of it was read from its picture" if read else one.why
    return msgspec.structs.replace(one, why=why)
