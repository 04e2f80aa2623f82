"""Reference characters: held against the description, and how they are written."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import msgspec

from preflight.checks.api import Measured, NoLimits, Outcomes, Place, Seen, check
from preflight.checks.inside import listed
from preflight.checks.unreadable import each_sheet, unread_papers, unread_sheets
from preflight.facts import Page
from preflight.papers import (
    Character,
    Described,
    Filing,
    Matched,
    Paper,
    characters_on,
    described,
    figure_labels,
    match,
    may_be,
    named_figures,
    numbers_on,
    strings_on,
)
from preflight.papers.characters.drawn_characters import named_on

DESCRIPTION = ("specification", "claims")
SMALLER, FEWEST = 0.85, 2
"""Of the middle height: below it a character is set smaller; in a picture so many must be. House values."""
TELLING = 3
"""So many letters and digits are not read by chance as a character that the text has. House value."""
STEPS = 2
"""So many steps with an S on the sheets show that steps are drawn so. House value."""
FEW = 4
"""More faults of one sort are one finding. House value."""
NAMED = 8
"""So many of a group are named, the rest is counted."""


def _described(filing: Filing) -> Described | None:
    """What the description names; None where there is none, or it cannot be read."""
    texts = filing.with_role("specification")
    if not texts or any(paper.text_unread for paper in texts):
        return None
    return described(filing.with_role(*DESCRIPTION))


def _sheets(filing: Filing) -> Iterator[tuple[Paper, Page]]:
    for paper in filing.with_role("drawings"):
        yield from ((paper, page) for page in paper.pages)


@check(
    "characters-described",
    of=Filing,
    takes=NoLimits,
    sorts=("look", "several", "many"),
    says=("instead",),
    acquits_scans=True,
)
def characters_described(filing: Filing, _: NoLimits) -> Outcomes:
    """Hold each reference character of the sheets against those that the description names."""
    yield from unread_sheets(filing)
    text = _described(filing)
    if text is None:
        yield from unread_papers(filing.with_role("specification"))
        return
    strange: dict[str, list[Place]] = {}
    for paper, page in _sheets(filing):
        matched = match(characters_on(page), text, numbers_on(page))
        for one in matched:
            at = Place(file=paper.file, page=page.number, box=one.character.box, role=paper.role)
            if one.answer == "not described":
                strange.setdefault(one.character.text, []).append(at)
            elif one.answer == "found" or one.instead:
                yield _pointed(one, at)
        yield from _doubtful(paper, page, [one for one in matched if one.answer == "look" and not one.instead])
    yield from gathered(
        Seen(what=name, held=False, measured=name, at=places[0], also=tuple(places[1:]))
        for name, places in strange.items()
    )


def _steps(text: Described) -> list[str]:
    """Steps that the text gives by their numbers alone: "In S435"."""
    return list(dict.fromkeys(one.text for one in text.bare if re.fullmatch(r"S\d{2,4}", one.text)))


def _lacks_a_figure(filing: Filing) -> bool:
    """Whether the text names a figure that no sheet shows: then its characters are missing for the same reason."""
    named = {one.number for one in named_figures(filing.with_role(*DESCRIPTION))}
    drawn = {label.number for paper in filing.with_role("drawings") for label in figure_labels(paper)}
    return bool(drawn) and not named <= drawn


def gathered(faults: Iterable[Seen], few: int = FEW) -> Iterator[Seen]:
    """Each by itself; more than a few together, for then one cause explains them."""
    every = list(faults)
    if len(every) <= few:
        yield from every
        return
    places = tuple(dict.fromkeys(one.at for one in every))
    names = ", ".join(one.what for one in every)
    yield Seen(what="reference characters", held=False, measured=names, sort="many", at=places[0], also=places[1:])


def _pointed(one: Matched, at: Place) -> Seen:
    name, instead = one.character.text, " or ".join(one.instead[:3])
    sort = "" if one.answer == "found" else "look"
    return Seen(what=name, held=not sort, measured=name, sort=sort, at=at, words={"instead": instead})


def _doubtful(paper: Paper, page: Page, some: Iterable[Matched]) -> Iterator[Seen]:
    """Numbers of a sheet that may be data, or that could not be read for sure: one place to look at."""
    every = list(some)
    if every:
        names = listed((one.character.text for one in every), NAMED)
        places = [Place(file=paper.file, page=page.number, box=o.character.box, role=paper.role) for o in every]
        yield Seen(what="numbers", held=False, measured=names, sort="several", at=places[0], also=tuple(places[1:]))


@check(
    "characters-drawn", of=Filing, takes=NoLimits, sorts=("look", "many"), says=("name", "instead"), acquits_scans=True
)
def characters_drawn(filing: Filing, _: NoLimits) -> Outcomes:
    """Look on the sheets for each reference character that the description names."""
    text = _described(filing)
    if text is None or not filing.with_role("drawings"):
        yield from unread_papers(filing.with_role("specification"))
        return
    unread = unread_sheets(filing)
    drawn = [one for _, page in _sheets(filing) for one in characters_on(page)]
    named = [one for _, page in _sheets(filing) for one in named_on(page, text.texts)]
    sure = {one.text for one in drawn} | {one.text for one in named if one.sure or len(one.text) >= TELLING}
    missing: list[Seen] = []
    sure |= {name for name in text.texts if len(text.gathers(name) & sure) > 1}
    surely = [name for name in text.texts if text.names_for_sure(name)]
    surely += _steps(text) if sum(name.startswith("S") for name in sure) >= STEPS else []
    for name in sorted(surely, key=lambda t: (len(t), t)):
        mentions = [mention for mention in (*text.mentions, *text.bare) if mention.text == name]
        first = mentions[0]
        places = [Place(file=m.file, page=m.page, box=m.box, role=m.role) for m in mentions]
        near = () if name in sure else tuple(dict.fromkeys(one.text for one in (*drawn, *named) if may_be(one, name)))
        if name not in sure and not near and unread:
            yield from unread
            return
        one = Seen(
            what=f"{first.name or 'step'} {name}",
            held=name in sure,
            measured=name,
            sort="look" if near else "",
            at=places[0],
            also=tuple(places[1:3]),
            words={"name": f"{first.name or 'step'} {name}", "instead": " or ".join(near[:3])},
        )
        if one.held or near:
            yield one
        else:
            missing.append(one)
    yield from gathered(missing, few=1 if _lacks_a_figure(filing) else FEW)


class Height(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The least height in cm, and how far a height may be misread where characters are outlines and where pixels.

    `share`: what remains of a height when the sheet is made smaller.
    """

    least: float
    outline: float
    scan: float
    share: float = 1.0


@check("character-height", of=Paper, takes=Height)
def character_height(paper: Paper, limit: Height) -> Outcomes:
    """Measure the reference characters of each sheet: their middle height, for strokes may run into one of them, and
    those that are clearly smaller."""
    yield from each_sheet(paper, lambda page: _heights(page, limit))


def _heights(page: Page, limit: Height) -> Outcomes:
    some = [one for one in characters_on(page) if one.height and one.sure]
    some.sort(key=lambda one: one.height or 0.0)
    if some:
        middle = some[(len(some) - 1) // 2]
        usual = _height(middle, limit)
        small = [one for one in some if (one.height or 0.0) < SMALLER * (middle.height or 0.0)]
        odd = [one for one in (_height(other, limit) for other in small) if not one.held]
        yield usual
        if usual.held and len(odd) >= (1 if middle.reading is None else FEWEST):
            yield msgspec.structs.replace(odd[0], also=tuple(one.at for one in odd[1:]))


def _height(one: Character, limit: Height) -> Measured:
    return Measured(
        what="reference characters",
        value=round((one.height or 0.0) * limit.share, 3),
        unit="cm",
        least=limit.least,
        slack=limit.scan if one.reading else limit.outline,
        at=Place(page=one.page, box=one.box),
    )


_ENCLOSED = re.compile(r"^\s*[(\[{\"'\u201c]\s*\d{1,4}[A-Za-z]?'*\s*[)\]}\"'\u201d]\s*$")


@check("characters-plain", of=Paper, takes=NoLimits)
def characters_plain(paper: Paper, _: NoLimits) -> Outcomes:
    """Look for reference characters in brackets or inverted commas."""
    yield from each_sheet(paper, _enclosed)


def _enclosed(page: Page) -> Outcomes:
    written = [one for one in strings_on(page) if one.sure and re.search(r"\d", one.text)]
    odd = [one for one in written if _ENCLOSED.match(one.text)]
    if written:
        first = odd[0] if odd else written[0]
        yield Seen(
            what="reference character",
            held=not odd,
            measured=listed((one.text for one in odd), NAMED),
            at=Place(page=page.number, box=first.box),
            also=tuple(Place(page=page.number, box=one.box) for one in odd[1:]),
        )
