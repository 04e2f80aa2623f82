"""Reference characters of the text: where each stands, and the name of the part before it. See `pairing`."""

from __future__ import annotations

import re
from collections.abc import Iterable

import msgspec

from preflight.facts import Box
from preflight.papers.characters.groups import YEAR, is_plural
from preflight.papers.characters.pairing import paired
from preflight.papers.characters.pairs import Paired
from preflight.papers.characters.part_words import OFTEN_COUNTED
from preflight.papers.characters.parts_or_counts import LETTERED
from preflight.papers.model import Paper
from preflight.papers.pages.continuous import Continuous, continuous
from preflight.papers.words.remembered import remembered


class Mention(msgspec.Struct, frozen=True):
    """A reference character in the text, with the name before it in lower case: "sliding latch"."""

    text: str
    name: str
    file: str
    role: str
    page: int
    box: Box
    surely: bool = False
    """An article stands before the name: "the sliding latch 18", "the cover sheet 104", but not "the sheet 3"."""
    article: str = ""
    bracketed: bool = False
    listed: bool = False
    at: int = 0
    """Where it stands in the words of its paper, as `continuous` gives them."""

    @property
    def head(self) -> str:
        """The last word of the name."""
        return self.name.rpartition(" ")[2]


class Described(msgspec.Struct, frozen=True):
    """All of them. `ranges` are spans whose members need not be named one by one.

    `bare` are the characters that stand without a name ("At 302, ..."), their names empty.
    """

    mentions: tuple[Mention, ...]
    ranges: tuple[tuple[int, int], ...] = ()
    bare: tuple[Mention, ...] = ()
    doubted: frozenset[str] = frozenset()
    """Numbers that may name a part, though the rest of the text speaks against it ("zone 3"): they only acquit."""
    cuts: frozenset[str] = frozenset()
    """Numbers at the ends of lines along which sections are cut: 2 of "line 2-2"."""
    amounts: frozenset[str] = frozenset()
    """Numbers that the text holds only as amounts ("128 kernels"), or for what else names no part."""
    unclear: frozenset[str] = frozenset()
    """Numbers of which English does not tell what they stand for: one that is drawn is a question, no fault."""

    @property
    def texts(self) -> frozenset[str]:
        """The characters that are named."""
        return frozenset(mention.text for mention in self.mentions)

    def names_for_sure(self, text: str) -> bool:
        """Whether it is surely meant as a part: with an article or more than once, and no year and no single digit.

        Letters with a number (R1, M8) may be anything, unless they count a step (S10).
        """
        mentions = [one for one in self.mentions if one.text == text]
        lettered = LETTERED.fullmatch(text) is not None and re.fullmatch(r"S\d{2,4}", text) is None
        again = sum(one.head not in OFTEN_COUNTED for one in mentions) > 1
        weak = len(text) < 2 or YEAR.fullmatch(text) is not None or lettered
        return not weak and (again or any(one.surely for one in mentions))

    def gathers(self, text: str) -> frozenset[str]:
        """The lettered characters that one without a letter stands for: "side rails 14a, 14b (side rails 14)"."""
        if not any(is_plural(mention.head) for mention in self.mentions if mention.text == text):
            return frozenset()
        lettered = re.compile(re.escape(text) + r"[A-Za-z]")
        return frozenset(one.text for one in self.mentions if lettered.fullmatch(one.text))

    def _one_of_many(self, text: str) -> bool:
        """Whether it is one of as many as there may be: 120c where the text has 120n, 24-2 where it has 24-N."""
        one = re.fullmatch(r"(\d+)[a-z]|(\d+-)\d+", text)
        base = one and (one.group(1) or one.group(2))
        return any(mention.text in (f"{base}n", f"{base}N") for mention in self.mentions) if base else False

    def holds(self, text: str) -> bool:
        """Whether the text gives this character, by itself, within a range, or without a name.

        A low digit (30 with a low 1) is drawn as 301 as far as letters are read.
        """
        number = re.fullmatch(r"S?(\d+)", text)
        within = number is not None and any(low <= int(number.group(1)) <= high for low, high in self.ranges)
        return (
            within
            or self._one_of_many(text)
            or text in self.doubted
            or any(text in (one.text, one.text.replace("_", "")) for one in (*self.mentions, *self.bare))
        )


def described(papers: Iterable[Paper]) -> Described:
    """The reference characters that these text papers name."""
    mentions: list[Mention] = []
    bare: list[Mention] = []
    ranges: list[tuple[int, int]] = []
    doubted: set[str] = set()
    unclear: set[str] = set()
    amounts: set[str] = set()
    cuts: set[str] = set()
    for paper in papers:
        words, found = continuous(paper), pairs_of(paper)
        mentions += [
            Mention(
                one.character,
                one.name,
                paper.file,
                paper.role,
                *words.at(one.at),
                surely=bool(one.article) and (one.head not in OFTEN_COUNTED or " " in one.name),
                article=one.article,
                bracketed=one.bracketed,
                listed=one.listed,
                at=one.at,
            )
            for one in found.pairs
        ]
        named = {one.character for one in found.pairs}
        bare += [
            Mention(one.character, "", paper.file, paper.role, *words.at(one.at), at=one.at)
            for one in found.bare
            if one.labels or one.character in named
        ]
        doubted |= {one.character for one in found.doubted}
        unclear |= set(found.unclear)
        amounts |= found.amounts
        cuts |= found.cuts
        ranges += found.ranges
    amounts -= {one.text for one in mentions}
    sets = (frozenset(some) for some in (doubted, cuts, amounts, unclear))
    return Described(tuple(mentions), tuple(ranges), tuple(bare), *sets)


@remembered
def pairs_of(paper: Paper) -> Paired:
    """The pairs of one paper, at their places in its continuous words."""
    return paired(by_lines(continuous(paper)))


def by_lines(words: Continuous) -> str:
    """The words with a line feed for the space before each row, so that lists can be seen. Places stay the same."""
    pieces, before = [], 0
    for at, start in enumerate(words.starts):
        if start and words.text[start - 1] == " " and not _goes_on_in_row(words, at):
            pieces += [words.text[before : start - 1], "\n"]
            before = start
    return "".join([*pieces, words.text[before:]])


def _goes_on_in_row(words: Continuous, at: int) -> bool:
    """Whether a line stands in one row with the one before it: the name of a list behind its number."""
    if not words.places:
        return False
    (page, box), (other, now) = words.places[at - 1], words.places[at]
    return page == other and now.left >= box.right and box.top <= now.middle[1] <= box.bottom
