"""Part names and reference characters, as an English reader pairs them: "the sliding latch 18", "walls 20-26", "(16)".

The reader goes from each character to the left and takes the words of the noun phrase, up to the word at which no name
can go on. No grammar is known, only which words stand where: `part_words`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Literal

import msgspec

from preflight.papers.characters import part_words as of
from preflight.papers.characters.deeds import (
    in_a_row_of_deeds,
    is_verb_alone,
    is_verb_form,
    is_verb_in_s,
    opens_a_deed,
    without_verb,
)
from preflight.papers.characters.designations import before_designation, name_behind
from preflight.papers.characters.groups import (
    YEAR,
    Group,
    counted_out,
    counts_things,
    group_at,
    is_plural,
    is_quantity,
    measured_with,
    numbers_a_kind,
)
from preflight.papers.characters.numbering import as_the_text_goes
from preflight.papers.characters.part_lists import Item, part_lists
from preflight.papers.characters.tokens import Token, tokens
from preflight.papers.words.units import UNITS

_KINDS = of.OFTEN_COUNTED - of.PARTS_TOO
_NUMBERED = of.OFTEN_COUNTED | of.MARKED_FIRST | (of.NO_NAMES - {"usb", "hdmi", "pci", "bluetooth"})
LONGEST = 7
"""A name has at most so many words. House value."""
_KIND = re.compile(r"[A-Z]{1,2}\d{1,2}|\d{1,3}[A-Za-z]|[A-Z]{2,}-?\d+[A-Z]?")
"""What an article stands before is no reference character: "an M6 bolt 82", "a 5G network 24"."""
_KIND_ALONE = re.compile(r"[A-Z]{3,}-?\d+[A-Z]?")
"""What is none without an article either: "of DDR5 memory 18"."""
_THREAD = re.compile(r"M(?:3|4|5|6|8|10|12|14|16|20|24|30|36)")
"""The usual metric threads (ISO 261, from memory)."""
_CUT = re.compile(r"(\d{1,2})-\1")
_STEP = re.compile(r"S\d{2,4}[A-Za-z]?")
ENOUGH_DIGITS = 3
"""Of the number of a step: "in operation 810". House value."""
FEW = 2
LETTERED = re.compile(r"(?:[A-Z]{1,2}\d{1,3}[a-z]?|[A-Z]-\d{2,4}[A-Z]?)'*")
"""A part of a circuit, a mirror M2: letters first. Steps (S10) have the same form."""


Opens = Literal["", ".", "to"]
Capitals = Literal["", "first", "all"]


class Pair(msgspec.Struct, frozen=True):
    """One character with the name before it, in lower case. `article` is the word that opens the name, or empty.

    `at` is where the character stands in the text; `bracketed`: (16).
    """

    name: str
    character: str
    at: int
    article: str = ""
    bracketed: bool = False
    listed: bool = False
    """One of several characters behind one name."""
    capitals: Capitals = ""
    """Whether its last word is in capitals, or begins with one within a sentence: "the CPU 22", but also "HTML 5"."""
    opens: Opens = ""
    """Whether it opens a sentence or follows "to", so that its first word may be a deed: "pressing button 12"."""
    counted: bool = False
    """Such things are numbered in every text: "line 12", "port 38"."""

    @property
    def head(self) -> str:
        """The last word of the name."""
        return self.name.rpartition(" ")[2]


class Bare(msgspec.Struct, frozen=True):
    """A character without a name: "the movement of 18 is", "At 302,". `labels`: it opens what it stands for."""

    character: str
    at: int
    labels: bool = False


class Paired(msgspec.Struct, frozen=True):
    """All that a text names. `ranges` are spans whose members need not be named one by one."""

    pairs: tuple[Pair, ...]
    bare: tuple[Bare, ...]
    ranges: tuple[tuple[int, int], ...]
    doubted: tuple[Pair, ...] = ()
    """Those that the rest of the text speaks against: "zone 3" among three-digit numbers, "HTML 5"."""
    amounts: frozenset[str] = frozenset()
    """Whole numbers that stand somewhere in the text and name nothing there: "128 kernels"."""
    cuts: frozenset[str] = frozenset()
    """Numbers at the ends of lines along which sections are cut: 2 of "line 2-2"."""
    unclear: tuple[str, ...] = ()
    """Numbers that stand neither for a quantity nor behind a name of which it is known whether it is a part's."""


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
            bare += () if found else _unnamed(every, group)
            unclear += () if found else _unexplained(every, group)
        at = group.last + 1
    pairs.sort(key=lambda pair: pair.at)
    sure, doubted, counted = as_the_text_goes(pairs)
    unclear += [pair.character for pair in counted if len(pair.character) >= FEW]
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
    outright = before_designation(every, at)
    words, stop = _phrase(every, at if outright is None else outright)
    article = every[stop].low if stop >= 0 and every[stop].low in of.ARTICLES else ""
    if stop >= 0 and every[stop].possessive:
        article = "its"
    while words and words[0].low in of.NOT_OF_THE_NAME and len(words) > 1:
        article = "the" if words[0].low in ("said", "same") else article
        words = words[1:]
    if not words or not _can_be_a_part(words, article, every, group, stop):
        return []
    if (
        stop > 0
        and every[stop].text == "."
        and words[0].text[0].islower()
        and re.fullmatch("[A-Z]", every[stop - 1].text)
    ):
        return []  # "E. coli BL21"
    person = article in ("a", "an") and words[-1].low in of.PERSONS and not _word_goes_on(every, group)
    counted = not person and _is_counted_thing(words, article, [character for character, _ in group.characters])
    if counted and len(group.characters[0][0]) < FEW:
        return []
    if apart := _told_apart(every, stop, words, group):
        return [pair for name, one in apart for pair in _pairs(name, article, one)]
    opens = stop < 0 or every[stop].text == "."
    deed = stop > 0 and every[stop].low == "to" and opens_a_deed(every, stop)
    return _pairs(words, article, group, opens="." if opens else "to" if deed else "", counted=counted)


def _word_goes_on(every: Sequence[Token], group: Group) -> bool:
    """Whether a noun may follow: "a patient 2 score", not "a user 2 speaks"."""
    return group.last + 1 < len(every) and _is_noun(every[group.last + 1])


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


def _phrase(every: Sequence[Token], at: int) -> tuple[list[Token], int]:
    """The words of the noun phrase that ends at a token, and the token before which it begins."""
    at = _before_short_form(every, at)
    words: list[Token] = []
    if at > 0 and re.fullmatch("[A-Z]", every[at].text) and not _stops(every, at - 1, words):
        words, at = [every[at]], at - 1  # "the valve A 12"
    while at >= 0 and len(words) < LONGEST and not _stops(every, at, words):
        words.insert(0, every[at])
        at -= 1
    bare = without_verb(every, words, at)
    if len(bare) < len(words):
        return bare, -1
    if words and at > 0 and every[at].low == "of" and len(words) < LONGEST and _is_named_with_of(every, at - 1):
        start = at - 1
        while start >= 0 and at - start < LONGEST and not _stops(every, start, words):
            start -= 1
        head = every[start + 1 : at + 1]
        if len(head) > 1:
            return [*head, *words], start
    return words, at


def _is_named_with_of(every: Sequence[Token], at: int) -> bool:
    """Whether a noun is named with what follows "of": "the axis of rotation 44", "a first ring of struts 32"."""
    counted = at > 0 and every[at - 1].low in of.ORDINALS and every[at].kind == "word" and every[at].low not in of.STOPS
    return counted or every[at].low in of.OF_NOUNS


def _before_short_form(every: Sequence[Token], at: int) -> int:
    """Past the brackets in "a central processing unit (CPU) 12"."""
    if at < 2 or every[at].text != ")":
        return at
    inside = [back for back in range(at - 1, max(-1, at - 6), -1) if every[back].text == "("]
    if not inside or any(every[n].kind != "word" for n in range(inside[0] + 1, at)):
        return at
    return inside[0] - 1


def _stops(every: Sequence[Token], at: int, words: Sequence[Token]) -> bool:
    """Whether the name cannot go on to this word. `words` is what stands to its right already."""
    token = every[at]
    low = token.low
    before = every[at - 1] if at else None
    if token.kind in ("character", "number") and words and before is not None and before.low in of.ARTICLES:
        return _KIND.fullmatch(token.text) is None
    if words and _is_size_or_version(token, before, words[0]):
        return False
    opened = before is not None and before.low in of.ARTICLES
    if words and (_is_kind(every, at) or numbers_a_kind(every, at) or _KIND_ALONE.fullmatch(token.text)):
        return False
    if not words and low == "number" and _ends_a_name(every, at):
        return False
    if words and before is not None and _is_adjective(token, before, words, opened=opened):
        return False
    if words and opened and len(token.text) >= FEW and token.text.isupper() and words[0].text.islower():
        return False  # "a CAN bus 30", "the OR gate 26"
    if token.kind != "word" or token.possessive or low in of.STOPS or _ends_an_adverb(every, at):
        return True
    if low in UNITS and before is not None and before.kind in ("character", "number", "range"):
        return True
    if not words:
        return False
    if (low in of.PARTICIPLES or low in of.NEVER_NOUNS) and not opened:
        return True
    relative = before is not None and before.low == "that"  # "a browser that supports it"
    return is_verb_in_s(low) and (relative or not opened)


def _is_size_or_version(token: Token, before: Token | None, noun: Token) -> bool:
    """Whether it belongs to the name without an article too: "M8 screws 62", "a USB 3.0 cable 34"."""
    if _THREAD.fullmatch(token.text):
        return noun.low in of.SCREWS
    proper = before is not None and before.kind == "word" and before.text[0].isupper() and before.low not in of.STOPS
    numbered = proper and before is not None and before.low in _NUMBERED
    return proper and not numbered and re.fullmatch(r"\d\.\d", token.text) is not None


def _is_kind(every: Sequence[Token], at: int) -> bool:
    """Whether a number and the word before it tell a kind: "a level 1 cache 22"."""
    if at < FEW or len(every[at].text) > 1 or not every[at].text.isdigit() or every[at - 1].low not in _KINDS:
        return False
    return every[at - 2].low in of.ARTICLES or every[at - 2].text == "."


def _ends_a_name(every: Sequence[Token], number: int) -> bool:
    """Whether a part is called so: "a sequence number 56", not "the serial number 447", "a number 12"."""
    if number < FEW or every[number - 1].kind != "word" or every[number - 2].low not in of.ARTICLES | {"same"}:
        return False
    return every[number - 1].low not in of.STOPS | of.IDENTIFIED_BY_NUMBER | of.NOT_OF_THE_NAME


def _ends_an_adverb(every: Sequence[Token], at: int) -> bool:
    """Whether an adverb of several words ends here: "in the meantime", "at the same time", "in operation"."""
    low = every[at].low
    if low in of.ADVERBS_WITH_IN:
        step = low == "operation" and at + 1 < len(every) and len(every[at + 1].text) >= ENOUGH_DIGITS
        return at > 0 and every[at - 1].low == "in" and not (step and every[at + 1].kind == "character")
    if low not in of.ADVERBS_WITH_THE:
        return False
    before = [token.low for token in every[max(0, at - 3) : at]]
    back = before[-2:-1] if before[-1:] in (["this"], ["that"], ["which"]) or low == "meantime" else before[-3:-2]
    fixed = before[-1:] in (["this"], ["that"], ["which"], ["same"]) or low == "meantime"
    return fixed and back in (["in"], ["at"], ["by"])


def _is_adjective(token: Token, before: Token, words: Sequence[Token], *, opened: bool) -> bool:
    """Whether what usually ends a name belongs to it: "a through hole 72", "a protein A column 9"."""
    if token.low in of.PLACES_AS_ADJECTIVES:
        starts = before.text == "." and token.low in ("adjacent", "opposite") and is_plural(words[-1].low)
        return opened or starts or before.low in of.PREPOSITIONS
    if len(token.text) == 1 and token.text.isupper():
        return before.kind == "word" and before.text[0].islower() and before.low not in of.STOPS
    return opened and token.low in of.WAYS


def _can_be_a_part(words: Sequence[Token], article: str, every: Sequence[Token], group: Group, stop: int) -> bool:
    """Whether the last word names a part, and the numbers behind it do not count, date or cite."""
    numbers = [character for character, _ in group.characters]
    if len(words) > 1 and len(words[-1].text) == 1:
        words = words[:-1]
    head = words[-1].low
    if len(head) < 2:
        return False
    opens = stop < 0 or every[stop].text == "."
    if head in of.NO_NAMES or (head in UNITS and not article and len(words) == 1 and not opens) or "/" in head:
        return False
    if not article and len(numbers) == 1 and _THREAD.fullmatch(numbers[0]):
        return False  # "grease nipples M8"
    if group.bracketed and not article and LETTERED.fullmatch(numbers[0]) and len(numbers) == 1:
        return False  # "heated gas (CO2)"
    in_row = head.endswith("ing") and in_a_row_of_deeds(every, group)
    if is_verb_form(head, article, words, in_row=in_row) or is_verb_alone(words, every, stop):
        return False
    if words[0].low in of.NO_NAMES and head in of.OFTEN_COUNTED and not article:
        return False  # "HTTP status 429"
    if numbers[0] == "1" and len(numbers) > 1 and is_plural(head) and not article:
        return False  # "prototypes 1, 2 and 3"
    if head in of.SINGLED_OUT:
        return False
    if len(numbers) == 1 and (is_plural(head) or head == "top") and counts_things(every, group.last):
        return False
    if head == "top" and group.last + 1 < len(every) and every[group.last + 1].low in ("are", "were", "have"):
        return False
    if YEAR.fullmatch(numbers[0]) and not article and (words[-1].text[0].isupper() or head in of.OFTEN_COUNTED):
        return False
    if group.bracketed and (numbers[0].lower() in of.GASES or of.STRANDS.issuperset(numbers)):
        return False  # "an inert gas (N2 or Ar)", "sequence (5' to 3')"
    if group.bracketed and stop >= 0 and every[stop].text in of.OPERATORS:
        return False  # "N = k x T (1)"
    if "/" in every[group.first].text and not (is_plural(head) and article):
        return False
    return not (head in of.SCREWS and LETTERED.fullmatch(numbers[0]))


def _is_counted_thing(words: Sequence[Token], article: str, numbers: Sequence[str]) -> bool:
    """Whether such things are numbered in every text: "table 3", "step 1", "Group 4", but not "the cover sheet 104"."""
    head = words[-1].low
    small = re.fullmatch(r"\d|[1-9][a-z]", numbers[0]) is not None
    if of.CHEMICAL.fullmatch(head):
        return not article or (small and len(words) == 1)
    if small and head in of.COUNTED_BELOW_TEN and not (head in of.OFTEN_COUNTED and article and len(words) > 1):
        return not (article and head in of.PARTS_TOO)
    if numbers[0][1:2] == "-":
        return False  # "column C-201"
    if head not in of.OFTEN_COUNTED or (head in of.LIKE_STEPS and not small):
        return False
    capital = words[-1].text[0].isupper() and head in of.MARKED_FIRST
    return (capital and len(words) == 1) or not (article or len(words) > 1)


def _is_noun(token: Token) -> bool:
    """Whether a noun follows a step that is none: "of S355 steel", but "S108 adds", "at S208 and"."""
    return token.kind == "word" and token.low not in of.STOPS and not is_verb_in_s(token.low)


def _unexplained(every: Sequence[Token], group: Group) -> list[str]:
    """Numbers without a name, unless a word before them says what they are ("FIG. 12") or they count what follows."""
    at = group.first - 1
    while at > 0 and every[at].kind == "mark":
        at -= 1
    if at > 0 and every[at].low == "of" and every[at - 1].low in of.NUMBERS | of.MEASURES:
        at -= 1
    counts = of.NO_NAMES | of.MEASURES | of.NUMBERS
    told = at >= 0 and (every[at].low in counts or counted_out(every, group.first))
    if (
        told
        or counts_things(every, group.last)
        or measured_with(every, group.last)
        or (group.first and every[group.first - 1].kind == "number")
    ):
        return []
    numbers = [character for character, _ in group.characters]
    return [one for one in numbers if len(one) >= FEW and not YEAR.fullmatch(one)]


def _numbers_a_compound(every: Sequence[Token], group: Group) -> bool:
    """Whether it is the number of a compound: "compound 3", "Compounds 5-7", "4-nitrobenzaldehyde (2)". A scheme of
    reactions is drawn with it.
    """
    at = group.first - (2 if group.bracketed else 1)
    return at >= 0 and (every[at].low in of.COMPOUNDS or of.CHEMICAL.fullmatch(every[at].low) is not None)


def _unnamed(every: Sequence[Token], group: Group) -> Iterator[Bare]:
    """Characters that stand for a part by themselves, as far as the words around them show it."""
    if _numbers_a_compound(every, group):
        yield from (Bare(character, start, labels=True) for character, start in group.characters)
        return
    before = every[group.first - 1] if group.first else None
    after = every[group.last + 1] if group.last + 1 < len(every) else None
    if before is None or after is None or before.kind == "number" or YEAR.fullmatch(group.characters[0][0]):
        return
    further = every[group.first - 2].low if group.first > 1 else ""
    if (before.low == "by" and further in of.CHANGED) or (before.low == "of" and further in of.NUMBERS | of.MEASURES):
        return  # "numerals increased by 100", "an integer of 2 to 6"
    ends = after.text in (".", ",", ";", ")", ":") or after.low in of.AUXILIARIES or after.low in of.MODALS
    leads = before.low in ("at", "by", "of", "to", "from", "with", "and", "or", "between", "against", "on", "as", "(")
    labels = before.low == "at" and after.text in (",", ":", ".", ")")
    if _STEP.fullmatch(group.characters[0][0]) and not _is_noun(after):
        yield from (Bare(character, start, labels=True) for character, start in group.characters)
    elif ends and leads:
        yield from (Bare(character, start, labels) for character, start in group.characters)
