"""Reference characters within the text: one part, one character; each with its name before it stands alone."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence

from preflight.checks.api import NoLimits, Outcomes, Place, Seen, check
from preflight.checks.inside import listed
from preflight.checks.unreadable import each_sheet, unread_papers
from preflight.facts import Page
from preflight.papers import (
    Described,
    Filing,
    Mention,
    NameUse,
    Paper,
    TwoNames,
    characters_on,
    described,
    flat_text,
    modified_parts,
    slips,
    strings_on,
    two_names,
    used_early,
)

FEW = 4
"""More questions of one sort are one. House value."""
NAMED = 8
"""So many of a group are named, the rest is counted."""
LONGEST = 3
"""A reference character of letters has at most so many. House value."""
TEXT = ("specification", "claims")


def _place(one: Mention) -> Place:
    return Place(file=one.file, page=one.page, box=one.box, role=one.role)


def _use(use: NameUse) -> str:
    often = "once" if use.times == 1 else f"{use.times} times"
    return f'"{use.name}" ({often}, first on page {use.mentions[0].page})'


@check(
    "one-part-one-character",
    of=Filing,
    takes=NoLimits,
    sorts=("two names", "many names", "two characters", "two drawn"),
    says=("one", "other"),
)
def one_part_one_character(filing: Filing, _: NoLimits) -> Outcomes:
    """Hold the names of each reference character of the text against each other, and its characters for one name."""
    yield from unread_papers(filing.with_role(*TEXT))
    text = described(paper for paper in filing.with_role(*TEXT) if not paper.text_unread)
    doubted = {clash.character: clash for clash in two_names(text)}
    drawn = [one.text for paper in filing.with_role("drawings") for page in paper.pages for one in characters_on(page)]
    yield from _proper(text, set(doubted))
    yield from (_two_names(clash, "") for clash in doubted.values() if clash.sure)
    yield from _asked([_two_names(clash, "two names") for clash in doubted.values() if not clash.sure])
    for slip in slips(text, drawn):
        yield Seen(
            what=f"{slip.name} {slip.character}",
            held=False,
            measured=slip.character,
            sort="two drawn" if slip.drawn else "two characters",
            at=_place(slip.odd.mentions[0]),
            also=(_place(slip.usual.mentions[0]),),
            words={"one": f"{slip.name} {slip.instead}", "other": f"{slip.name} {slip.character}"},
        )


def _proper(text: Described, doubted: set[str]) -> Iterator[Seen]:
    """One outcome for all that is as it should be: hundreds of names are one thing that was looked at."""
    fine = [one for one in text.mentions if one.text not in doubted]
    if fine:
        yield Seen(what="reference characters", held=True, at=_place(fine[0]))


def _two_names(clash: TwoNames, sort: str) -> Seen:
    return Seen(
        what=clash.character,
        held=False,
        measured=clash.character,
        sort=sort,
        at=_place(clash.other.mentions[0]),
        also=(_place(clash.one.mentions[0]),),
        words={"one": _use(clash.one), "other": _use(clash.other)},
    )


def _asked(questions: Sequence[Seen]) -> Iterator[Seen]:
    """Each by itself; more than a few together, for then it is the writer's way."""
    if len(questions) <= FEW:
        yield from questions
        return
    places = tuple(dict.fromkeys(one.at for one in questions))
    names = listed((one.what for one in questions), NAMED)
    yield Seen(
        what="reference characters", held=False, measured=names, sort="many names", at=places[0], also=places[1:]
    )


@check("modified-part", of=Filing, takes=NoLimits, sorts=("once",), says=("one", "other"))
def modified_part(filing: Filing, _: NoLimits) -> Outcomes:
    """Look for a part and a modification of it under one reference character."""
    texts = filing.with_role("specification")
    yield from unread_papers(texts)
    text = described(paper for paper in texts if not paper.text_unread)
    found = modified_parts(text)
    yield from _proper(text, {clash.character for clash in found})
    yield from (_two_names(clash, "" if clash.sure else "once") for clash in found)


@check("named-before-used", of=Filing, takes=NoLimits, says=("name",))
def named_before_used(filing: Filing, _: NoLimits) -> Outcomes:
    """Look for reference characters that stand without a name before the text has named them."""
    texts = filing.with_role("specification")
    yield from unread_papers(texts)
    text = described(paper for paper in texts if not paper.text_unread)
    early = used_early(text)
    yield from _proper(text, {one.bare.text for one in early})
    if early:
        yield Seen(
            what="reference characters",
            held=False,
            measured=listed((one.bare.text for one in early), NAMED),
            at=_place(early[0].bare),
            also=tuple(_place(one.bare) for one in early[1:]),
            words={"name": listed((f"{one.named.name} {one.named.text}" for one in early), NAMED)},
        )


@check("claims-bracketed", of=Filing, takes=NoLimits)
def claims_bracketed(filing: Filing, _: NoLimits) -> Outcomes:
    """See whether the reference characters in the claims, of parts that the description names, stand in parentheses."""
    claims = filing.with_role("claims")
    yield from unread_papers(claims)
    parts = described(paper for paper in filing.with_role("specification") if not paper.text_unread)
    for paper in (paper for paper in claims if not paper.text_unread):
        meant = [one for one in described([paper]).mentions if parts.names_for_sure(one.text)]
        plain = [one for one in meant if not one.bracketed]
        if meant:
            yield Seen(
                what="reference characters",
                held=not plain,
                measured=listed((f"{one.name} {one.text}" for one in plain), NAMED),
                at=_place((plain or meant)[0]),
                also=tuple(dict.fromkeys(_place(one) for one in plain[1:])),
            )


@check("english-letters", of=Paper, takes=NoLimits)
def english_letters(paper: Paper, _: NoLimits) -> Outcomes:
    """Look for reference characters of the sheets in letters that are neither English nor Greek."""
    yield from each_sheet(paper, _letters)


def _letters(page: Page) -> Outcomes:
    short = [one for one in strings_on(page) if one.sure and _is_lettered(flat_text(one.text))]
    strange = [one for one in short if any(_is_strange(letter) for letter in flat_text(one.text))]
    if short:
        yield Seen(
            what="reference character",
            held=not strange,
            measured=listed((flat_text(one.text) for one in strange), NAMED),
            at=Place(page=page.number, box=(strange or short)[0].box),
            also=tuple(Place(page=page.number, box=one.box) for one in strange[1:]),
        )


def _is_lettered(text: str) -> bool:
    plain = text.rstrip("'")
    if re.fullmatch(r"[\u00d8\u00f8]\d+", plain):
        return False  # a diameter
    return 0 < len(plain) <= LONGEST and plain.isalnum() and any(letter.isalpha() for letter in plain)


def _is_strange(letter: str) -> bool:
    if letter.isascii() or not letter.isalpha():
        return False
    return not unicodedata.name(letter, "").startswith(
        ("GREEK", "MICRO", "OHM", "ANGSTROM", "LATIN SMALL LETTER DOTLESS")
    )
