"""Reference characters of the text: the name of a part with its number, as an English reader pairs them.

What counts is a number right behind a word that can name a part, with lists and ranges ("walls 20, 22 and 24",
"steps 102-110"). Figures, claims, quantities, dates and citations are no parts.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import msgspec

from preflight.facts import Box
from preflight.papers.model import Paper
from preflight.papers.pages.continuous import continuous
from preflight.papers.words.units import UNITS

_NUMBER = r"(?:\d{1,4}[A-Za-z]?|S\d{2,4}[A-Za-z]?)'{0,3}(?![\w'])(?![.,/:]\d)(?!\s*(?:%|\u00b0))"
_MENTION = re.compile(
    r"(?P<before>(?:\b(?:[Tt]he|[Ss]aid|[Aa]n?|[Ee]ach|[Ii]ts|[Tt]heir)\s(?:[^\W\d_][\w-]*\s){0,3}?)?)"
    rf"(?<![\w.,/$-])(?P<name>[^\W\d_](?:[^\W\d_]|['-](?=\w))*)(?:\s(?P<capital>[A-Z]))?\s\(?(?P<numbers>{_NUMBER}"
    rf"(?:\s?(?:,\s?and|,\s?or|,|and|or|to|through|&|-)\s?{_NUMBER})*)"
)
_RANGE = re.compile(r"(\d{1,4})\s?(?:-|to|through)\s?(\d{1,4})")
_EACH = re.compile(_NUMBER)
_NEXT_WORD = re.compile(r"\s?([^\s,.;:()]+)")

_NO_NAMES = frozenset(
    re.findall(
        r"\S+",
        """
        fig figs figure figures claim claims paragraph paragraphs patent patents publication application serial
        no nos number numbers equation chapter volume edition annex appendix cfr usc mpep iso iec ieee rfc din en
        january february march april may june july august september october november december jan feb mar apr jun
        jul aug sep sept oct nov dec year years day days age aged version versions windows python standard standards
        about approximately around nearly roughly least most than over under below above only exceeds exceed equals
        equal up down can could might will would shall should must also then thus so such like via plus minus times
        a an the of to from by between is are was were be been being has have had in on at or and with for as if it
        that this these those its their each every all any both not which who when while until since before after
        into onto through within without per another other one two three four five six seven eight nine ten where
        but using having including example examples embodiment embodiments variant variants option options identifier
        identifiers alternative alternatives case cases comprising said made makes emits ratio lot batch size
        sizes grade
        """,
    )
)
"""Words right before a number that name no part."""
_OFTEN_COUNTED = frozenset(
    re.findall(
        r"\S+",
        """
        sheet sheets page pages column columns col table tables type class item items
        """,
    )
)
"""Things that are numbered in every text, but may be parts too: "the cover sheet 104"."""


class Mention(msgspec.Struct, frozen=True):
    """A reference character in the text, with the word before it."""

    text: str
    name: str
    file: str
    role: str
    page: int
    box: Box
    surely: bool = False
    """An article stands before the name: "the sliding latch 18", "the cover sheet 104", but not "the sheet 3"."""


class Described(msgspec.Struct, frozen=True):
    """All of them. `ranges` are spans whose members need not be named one by one."""

    mentions: tuple[Mention, ...]
    ranges: tuple[tuple[int, int], ...] = ()

    @property
    def texts(self) -> frozenset[str]:
        """The characters."""
        return frozenset(mention.text for mention in self.mentions)

    def names_for_sure(self, text: str) -> bool:
        """Whether it is surely meant as a part: with an article or more than once, and no year and no single digit."""
        mentions = [one for one in self.mentions if one.text == text]
        year = re.fullmatch(r"(?:19|20)\d\d", text) is not None
        again = sum(one.name not in _OFTEN_COUNTED for one in mentions) > 1
        return len(text) > 1 and not year and (again or any(one.surely for one in mentions))

    def holds(self, text: str) -> bool:
        """Whether the text gives this character, by itself or within a range."""
        number = re.fullmatch(r"S?(\d+)", text)
        within = number is not None and any(low <= int(number.group(1)) <= high for low, high in self.ranges)
        return within or text in self.texts


def described(papers: Iterable[Paper]) -> Described:
    """The reference characters that these text papers name."""
    mentions: list[Mention] = []
    ranges: list[tuple[int, int]] = []
    for paper in papers:
        words = continuous(paper)
        for found in _mentions(words.text):
            page, box = words.at(found.start("numbers"))
            numbers = found.group("numbers")
            name = found.group("name").casefold()
            mentions += [
                Mention(one.group(), name, paper.file, paper.role, page, box, _is_a_part(found))
                for one in _EACH.finditer(numbers)
            ]
            ranges += [(int(a), int(b)) for a, b in _RANGE.findall(numbers) if int(a) < int(b)]
    return Described(tuple(mentions), tuple(ranges))


def _mentions(text: str) -> Iterator[re.Match[str]]:
    for found in _MENTION.finditer(text):
        name = found.group("name")
        after = _NEXT_WORD.match(text, found.end())
        quantity = after is not None and after.group(1).casefold() in UNITS
        if name.casefold() not in _NO_NAMES | UNITS and not quantity and not _is_year(name, found.group("numbers")):
            yield found


def _is_a_part(found: re.Match[str]) -> bool:
    words = found.group("before").split()
    return len(words) > (found.group("name").casefold() in _OFTEN_COUNTED)


def _is_year(name: str, numbers: str) -> bool:
    """Whether "Smith 1998" is a citation: a capital and a year."""
    return name[:1].isupper() and re.fullmatch(r"(?:19|20)\d\d[a-z]?", numbers) is not None
