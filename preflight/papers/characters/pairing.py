"""Part names and reference characters, as an English reader pairs them: "the sliding latch 18", "walls 20-26", "(16)".

The reader goes from each character to the left and takes the words of the noun phrase, up to the word at which no name
can go on. No grammar is known, only which words stand where: `part_words`.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

import msgspec

from preflight.papers.characters import part_words as of
from preflight.papers.characters.deeds import opens_a_deed
from preflight.papers.characters.designations import before_designation, name_behind
from preflight.papers.characters.groups import Group, group_at, is_plural, is_quantity
from preflight.papers.characters.numbering import as_the_text_goes
from preflight.papers.characters.pairs import Bare, Capitals, Opens, Pair, Paired
from preflight.papers.characters.part_lists import Item, part_lists
from preflight.papers.characters.parts_or_counts import can_be_a_part, is_counted_thing
from preflight.papers.characters.phrases import phrase_before
from preflight.papers.characters.tokens import Token, tokens
from preflight.papers.characters.unnamed import is_noun, unexplained, unnamed

_CUT = re.compile(r"(\d{1,2})-\1")
FEW = 2


def paired(text: str) -> Paired:
    """The pairs of a plain text in their order. The work grows with the length of the text."""
    lists = part_lists(text)
    every = tokens(_blanked(text, lists))
    pairs = [Pair(name, character, start) for name, character, start, _ in lists]
    bare: list[Bare] = []
    ranges: list[tuple[int, int]] = []
    unclear: list[str] = []
    at, behind = 0, None
    while at < len(every):
        if every[at].kind not in ("character", "range"):
            at += 1
            continue
        group = group_at(every, at)
        if not is_quantity(every, group):
            found = _named(every, group)
            if not found and (said := name_behind(every, group, behind)):
                words, behind = said
                found = _pairs(words[1:], words[0].low, group)
            pairs += found
            ranges += group.spans if found and not found[0].counted else []
            bare += () if found else unnamed(every, group)
            unclear += () if found else unexplained(every, group)
        at = group.last + 1
    pairs.sort(key=lambda pair: pair.at)
    sure, doubted, counted = as_the_text_goes(pairs)
    unclear += [pair.character for pair in counted if len(pair.character) >= FEW or " " in pair.name]
    named = {pair.character for pair in sure}
    amounts = frozenset(token.text for token in every if token.text.isdecimal() and token.text not in named)
    cuts = frozenset(token.text.partition("-")[0] for token in every if _CUT.fullmatch(token.text))
    return Paired(sure, tuple(bare), tuple(ranges), doubted, amounts, cuts, tuple(dict.fromkeys(unclear)))


def _blanked(text: str, lists: Sequence[Item]) -> str:
    """The text with blanks in place of what the lists hold, every letter at its place."""
    pieces, before = [], 0
    for _, _, start, end in sorted(lists, key=lambda item: item[2]):
        pieces += [text[before:start], " " * (end - max(start, before))]
        before = max(end, before)
    return "".join([*pieces, text[before:]])


def _named(every: Sequence[Token], group: Group) -> list[Pair]:
    at = group.first - 1
    if group.bracketed:
        at -= 1
    while at >= 0 and every[at].text in ('"', "'", "\u201c"):
        at -= 1
    if _stands_beside(every, group, at):
        at -= 1
    if at > 0 and every[at].low in of.GATHERED and every[at - 1].text == ",":
        at -= 2  # "three points, collectively 14, are"
    outright = before_designation(every, at)
    words, stop = phrase_before(every, at if outright is None else outright)
    article = every[stop].low if stop >= 0 and every[stop].low in of.ARTICLES else ""
    if stop >= 0 and every[stop].possessive:
        article = "its"
    while words and words[0].low in of.NOT_OF_THE_NAME and len(words) > 1:
        article = "the" if words[0].low in ("said", "same") else article
        words = words[1:]
    if not words or not can_be_a_part(words, article, every, group, stop):
        return []
    if (
        stop > 0
        and every[stop].text == "."
        and words[0].text[0].islower()
        and re.fullmatch("[A-Z]", every[stop - 1].text)
    ):
        return []  # "E. coli BL21"
    person = article in ("a", "an") and words[-1].low in of.PERSONS and not _word_goes_on(every, group)
    counted = not person and is_counted_thing(words, article, [character for character, _ in group.characters])
    if counted and len(group.characters[0][0]) < FEW and len(words) < FEW:
        return []  # "table 3"; "score lines 9" may be a part
    if apart := _told_apart(every, stop, words, group):
        return [pair for name, one in apart for pair in _pairs(name, article, one)]
    opens = stop < 0 or every[stop].text == "."
    deed = stop > 0 and every[stop].low == "to" and opens_a_deed(every, stop)
    return _pairs(words, article, group, opens="." if opens else "to" if deed else "", counted=counted)


def _word_goes_on(every: Sequence[Token], group: Group) -> bool:
    """Whether a noun may follow: "a patient 2 score", not "a user 2 speaks"."""
    return group.last + 1 < len(every) and is_noun(every[group.last + 1])


def _told_apart(
    every: Sequence[Token], stop: int, words: Sequence[Token], group: Group
) -> list[tuple[list[Token], Group]]:
    """Each with its own adjective: "the first and second gears 30, 32"; nothing where there are not as many."""
    if len(words) < FEW or words[0].low not in of.TELLING_APART or group.spans:
        return []
    adjectives, at, joined = [words[0]], stop, False
    while at > 0 and (every[at].text == "," or every[at].low in ("and", "or")):
        joined |= every[at].text != ","
        at -= 1
        if every[at].low in of.TELLING_APART:
            adjectives.insert(0, every[at])
            at -= 1
    if not joined or len(adjectives) != len(group.characters):
        return []
    each = zip(adjectives, group.characters, strict=True)
    return [([adjective, *words[1:]], msgspec.structs.replace(group, characters=[one])) for adjective, one in each]


def _pairs(
    words: Sequence[Token], article: str, group: Group, *, opens: Opens = "", counted: bool = False
) -> list[Pair]:
    name = " ".join(word.low for word in words)
    several = len(group.characters) > 1
    last = words[-1].text
    inside = last[0].isupper() and last[1:2] != "-" and (len(words) > 1 or opens != ".")  # but "the T-handle 9"
    capitals: Capitals = "all" if last.isupper() else "first" if inside else ""
    return [
        Pair(name, character, start, article, group.bracketed, several, capitals, opens, counted)
        for character, start in group.characters
    ]


def _stands_beside(every: Sequence[Token], group: Group, at: int) -> bool:
    """Whether several characters stand behind a comma beside what they name: "two arms, 12 and 14, turn"."""
    if at < 1 or every[at].text != "," or len(group.characters) < FEW or not is_plural(every[at - 1].low):
        return False
    closed = group.last + 1 < len(every) and every[group.last + 1].kind == "mark"
    return closed and every[at - 1].kind == "word"
