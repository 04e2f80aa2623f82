"""Reference characters of the text: the name of a part with its number, as an English reader pairs them.

What counts is a number right behind a word that can name a part, with lists and ranges ("walls 20, 22 and 24",
"steps 102-110"). Figures, claims, quantities, dates and citations are no parts.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable, Iterator

import msgspec

from preflight.facts import Box
from preflight.papers.model import Paper
from preflight.papers.pages.setting import body_lines
from preflight.papers.words.lettering import flat
from preflight.papers.words.units import UNITS

_NUMBER = r"(?:\d{1,4}[A-Za-z]?|S\d{2,4}[A-Za-z]?)'{0,3}(?![\w'])(?![.,/:]\d)(?!\s*(?:%|\u00b0))"
_MENTION = re.compile(
    rf"(?<![\w.,/$-])(?P<name>[A-Za-z][A-Za-z'-]*)(?:\s(?P<capital>[A-Z]))?\s\(?(?P<numbers>{_NUMBER}"
    rf"(?:\s?(?:,\s?and|,\s?or|,|and|or|to|through|&|-)\s?{_NUMBER})*)"
)
_RANGE = re.compile(r"(\d{1,4})\s?(?:-|to|through)\s?(\d{1,4})")
_EACH = re.compile(_NUMBER)

_NO_NAMES = frozenset(
    [
        "fig",
        "figs",
        "figure",
        "figures",
        "claim",
        "claims",
        "table",
        "tables",
        "paragraph",
        "paragraphs",
        "page",
        "pages",
        "column",
        "columns",
        "col",
        "sheet",
        "sheets",
        "patent",
        "patents",
        "publication",
        "application",
        "serial",
        "number",
        "numbers",
        "no",
        "nos",
        "example",
        "examples",
        "equation",
        "chapter",
        "volume",
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
        "jan",
        "feb",
        "mar",
        "apr",
        "jun",
        "jul",
        "aug",
        "sep",
        "sept",
        "oct",
        "nov",
        "dec",
        "about",
        "approximately",
        "around",
        "nearly",
        "roughly",
        "least",
        "most",
        "than",
        "over",
        "under",
        "below",
        "above",
        "only",
        "a",
        "an",
        "the",
        "of",
        "to",
        "from",
        "by",
        "between",
        "is",
        "are",
        "was",
        "were",
        "be",
        "been",
        "being",
        "has",
        "have",
        "had",
        "in",
        "on",
        "at",
        "or",
        "and",
        "with",
        "for",
        "as",
        "if",
        "it",
        "that",
        "this",
        "these",
        "those",
        "its",
        "their",
        "each",
        "every",
        "all",
        "any",
        "both",
        "no",
        "not",
        "which",
        "who",
        "when",
        "while",
        "until",
        "since",
        "before",
        "after",
        "into",
        "onto",
        "through",
        "within",
        "without",
        "per",
        "cfr",
        "usc",
        "mpep",
        "iso",
        "iec",
        "ieee",
        "rfc",
        "din",
        "en",
        "version",
        "year",
        "years",
        "day",
        "days",
        "age",
        "aged",
        "exceeds",
        "exceed",
        "equals",
        "equal",
        "up",
        "down",
        "can",
        "could",
        "may",
        "might",
        "will",
        "would",
        "shall",
        "should",
        "must",
        "also",
        "then",
        "thus",
        "another",
        "other",
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "where",
        "but",
        "so",
        "such",
        "like",
        "via",
        "plus",
        "minus",
        "times",
        "using",
        "having",
        "including",
        "comprising",
        "said",
    ]
)
"""Words right before a number that name no part."""


class Mention(msgspec.Struct, frozen=True):
    """A reference character in the text, with the word before it."""

    text: str
    name: str
    file: str
    role: str
    page: int
    box: Box


class Described(msgspec.Struct, frozen=True):
    """All of them. `ranges` are spans whose members need not be named one by one."""

    mentions: tuple[Mention, ...]
    ranges: tuple[tuple[int, int], ...] = ()

    @property
    def texts(self) -> frozenset[str]:
        """The characters."""
        return frozenset(mention.text for mention in self.mentions)

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
        text, starts, places = _running(paper)
        for found in _mentions(text):
            page, box = places[bisect_right(starts, found.start("numbers")) - 1]
            numbers = found.group("numbers")
            name = found.group("name").casefold()
            mentions += [
                Mention(one.group(), name, paper.file, paper.role, page, box) for one in _EACH.finditer(numbers)
            ]
            ranges += [(int(a), int(b)) for a, b in _RANGE.findall(numbers) if int(a) < int(b)]
    return Described(tuple(mentions), tuple(ranges))


def _running(paper: Paper) -> tuple[str, list[int], list[tuple[int, Box]]]:
    """The body as one string, with the place of the line that begins at each offset."""
    text, starts, places = "", [], []
    for page, lines in body_lines(paper).items():
        for line in sorted(lines, key=lambda ln: (round(ln.box.middle[1], 1), ln.box.left)):
            piece = re.sub(r"^\[\d{3,5}\]\s*|^\d{1,3}\.\s+(?=[A-Z])", "", flat(line.text))
            hyphened = re.search(r"[a-z]-$", text) and piece[:1].islower()
            text = text[:-1] if hyphened else text + (" " if text else "")
            starts.append(len(text))
            places.append((page, line.box))
            text += piece
    return text, starts, places


def _mentions(text: str) -> Iterator[re.Match[str]]:
    for found in _MENTION.finditer(text):
        name = found.group("name")
        after = re.match(r"\s?([^\s,.;:()]+)", text[found.end() :])
        quantity = after is not None and after.group(1).casefold() in UNITS
        if name.casefold() not in _NO_NAMES and not quantity and not _is_year(name, found.group("numbers")):
            yield found


def _is_year(name: str, numbers: str) -> bool:
    """Whether "Smith 1998" is a citation: a capital and a year."""
    return name[:1].isupper() and re.fullmatch(r"(?:19|20)\d\d[a-z]?", numbers) is not None
