"""Part names and reference characters, as an English reader pairs them: "the sliding latch 18", "walls 20-26", "(16)".

The reader goes from each character to the left and takes the words of the noun phrase, up to the word at which no name
can go on. No grammar is known, only which words stand where: `part_words`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import msgspec

from preflight.papers.characters import part_words as of
from preflight.papers.characters.groups import Group, counts_things, group_at, is_plural, is_quantity
from preflight.papers.characters.name_behind import name_behind
from preflight.papers.characters.numbering import as_the_text_goes
from preflight.papers.characters.part_lists import Item, part_lists
from preflight.papers.characters.tokens import Token, tokens
from preflight.papers.words.units import UNITS

LONGEST = 7
"""A name has at most so many words. House value."""
_NO_VERB = ("ss", "us", "is", "os", "ics", "ions")
YEAR = re.compile(r"(?:19|20)\d\d[a-z]?")
_KIND = re.compile(r"[A-Z]{1,2}\d{1,2}|\d{1,3}[A-Za-z]|[A-Z]{2,}\d+[A-Z]?")
"""What an article stands before is no reference character: "an M6 bolt 82", "a 5G network 24"."""
FEW = 2
LONGEST_SYMBOL = 2
"""Letters of a unit: "a 12 Ah battery"."""
LETTERED = re.compile(r"(?:[A-Z]{1,2}\d{1,3}[a-z]?|[A-Z]-\d{2,4}[A-Z]?)'*")
"""A part of a circuit, a mirror M2: letters first. Steps (S10) have the same form."""


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
    capitals: bool = False
    """Its last word is in capitals: "the CPU 22", but also "HTML 5"."""
    opens: bool = False
    """It opens a sentence, so that its first word may be a deed: "pressing button 12"."""
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


def paired(text: str) -> Paired:
    """The pairs of a plain text in their order. The work grows with the length of the text."""
    lists = part_lists(text)
    every = tokens(_blanked(text, lists))
    pairs = [Pair(name, character, start) for name, character, start, _ in lists]
    bare: list[Bare] = []
    ranges: list[tuple[int, int]] = []
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
        at = group.last + 1
    pairs.sort(key=lambda pair: pair.at)
    sure, doubted = as_the_text_goes(pairs)
    return Paired(sure, tuple(bare), tuple(ranges), doubted)


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
    outright = _before_designation(every, at)
    words, stop = _phrase(every, at if outright is None else outright)
    article = every[stop].low if stop >= 0 and every[stop].low in of.ARTICLES else ""
    if stop >= 0 and every[stop].possessive:
        article = "its"
    while words and words[0].low in of.NOT_OF_THE_NAME and len(words) > 1:
        article = "the" if words[0].low in ("said", "same") else article
        words = words[1:]
    if not words or not _can_be_a_part(words, article, every, group, stop):
        return []
    counted = _is_counted_thing(words, article, [character for character, _ in group.characters])
    if counted and len(group.characters[0][0]) < FEW:
        return []
    return _pairs(words, article, group, opens=stop < 0 or every[stop].text == ".", counted=counted)


def _pairs(words: Sequence[Token], article: str, group: Group, *, opens: bool = False, counted: bool = False) -> list[Pair]:
    name = " ".join(word.low for word in words)
    several = len(group.characters) > 1
    return [
        Pair(name, character, start, article, group.bracketed, several, words[-1].text.isupper(), opens, counted)
        for character, start in group.characters
    ]


def _stands_beside(every: Sequence[Token], group: Group, at: int) -> bool:
    """Whether several characters stand behind a comma beside what they name: "two arms, 12 and 14, turn"."""
    if at < 1 or every[at].text != "," or len(group.characters) < FEW or not is_plural(every[at - 1].low):
        return False
    closed = group.last + 1 < len(every) and every[group.last + 1].kind == "mark"
    return closed and every[at - 1].kind == "word"


def _before_designation(every: Sequence[Token], at: int) -> int | None:
    """Where the name ends in "a lock, generally designated 10"; None where nothing designates."""
    said = set()
    end = at
    while end >= 0:
        if (figure := _figure_before(every, end)) is not None:
            end = figure
        elif every[end].low in of.BETWEEN_NAME_AND_CHARACTER or every[end].text == ",":
            said.add(every[end].low)
            end -= 1
        else:
            break
    outright = said & of.DESIGNATED or (said & of.SHOWN_AT and "at" in said) or {"referred", "as"} <= said
    return _before_own_work(every, end) if outright else None


def _figure_before(every: Sequence[Token], end: int) -> int | None:
    """The token before "in FIG. 1" or "in the drawing"; None where nothing of it ends here."""
    if end > 2 and every[end].kind == "character" and every[end - 1].text == "." and every[end - 2].low == "fig":
        return end - 3
    return end - 1 if every[end].low in ("drawing", "drawings") else None


def _before_own_work(every: Sequence[Token], end: int) -> int:
    """Past "according to a preferred embodiment of the invention"."""
    while end > 0 and every[end].low in of.OWN_WORK:
        while end > 0 and every[end].low not in of.PREPOSITIONS:
            end -= 1
        while end > 0 and every[end].low in of.PREPOSITIONS | {"according", "accordance"}:
            end -= 1
    return end


def _phrase(every: Sequence[Token], at: int) -> tuple[list[Token], int]:
    """The words of the noun phrase that ends at a token, and the token before which it begins."""
    at = _before_short_form(every, at)
    words: list[Token] = []
    if at > 0 and re.fullmatch("[A-Z]", every[at].text) and not _stops(every, at - 1, words):
        words, at = [every[at]], at - 1  # "the valve A 12"
    while at >= 0 and len(words) < LONGEST and not _stops(every, at, words):
        words.insert(0, every[at])
        at -= 1
    bare = _without_verb(every, words, at)
    if len(bare) < len(words):
        return bare, -1
    if words and at > 0 and every[at].low == "of" and every[at - 1].low in of.OF_NOUNS and len(words) < LONGEST:
        start = at - 1
        while start >= 0 and at - start < LONGEST and not _stops(every, start, words):
            start -= 1
        head = every[start + 1 : at + 1]
        if len(head) > 1:
            return [*head, *words], start
    return words, at


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
    opened = before is not None and before.low in of.ARTICLES
    if words and before is not None and _is_adjective(token, before, words, opened=opened):
        return False
    if token.kind != "word" or token.possessive or low in of.STOPS or _ends_an_adverb(every, at):
        return True
    if low in UNITS and before is not None and before.kind in ("character", "number", "range"):
        return True
    if not words:
        return False
    if (low in of.PARTICIPLES or low in of.NEVER_NOUNS) and not opened:
        return True
    relative = before is not None and before.low == "that"  # "a browser that supports it"
    return _is_verb_in_s(low) and (relative or not opened)


def _ends_an_adverb(every: Sequence[Token], at: int) -> bool:
    """Whether an adverb of several words ends here: "in the meantime", "at the same time", "in operation"."""
    low = every[at].low
    if low in of.ADVERBS_WITH_IN:
        return at > 0 and every[at - 1].low == "in"
    if low not in of.ADVERBS_WITH_THE:
        return False
    before = [token.low for token in every[max(0, at - 3) : at]]
    back = before[-2:-1] if before[-1:] in (["this"], ["that"], ["which"]) or low == "meantime" else before[-3:-2]
    fixed = before[-1:] in (["this"], ["that"], ["which"], ["same"]) or low == "meantime"
    return fixed and back in (["in"], ["at"], ["by"])


def _is_adjective(token: Token, before: Token, words: Sequence[Token], *, opened: bool) -> bool:
    """Whether what usually ends a name belongs to it: "a through hole 72", "adjacent cells 8", "a protein A column 9"."""
    if token.low in of.PLACES_AS_ADJECTIVES:
        starts = before.text == "." and token.low in ("adjacent", "opposite") and is_plural(words[-1].low)
        return opened or starts or before.low in of.PREPOSITIONS
    if len(token.text) == 1 and token.text.isupper():
        return before.kind == "word" and before.text[0].islower() and before.low not in of.STOPS
    return opened and token.low in of.WAYS


def _is_verb_in_s(word: str) -> bool:
    """Whether a word in s that is not the last of a name is a verb: "the controller opens valve 22"."""
    return word.endswith("s") and len(word) > 3 and not word.endswith(_NO_VERB) and word not in of.NOUNS_IN_S


def _without_verb(every: Sequence[Token], words: list[Token], stop: int) -> list[Token]:
    """The same without a verb at its start: "to open valve 22", "arms 12 engage pin 14", "by pressing button 32"."""
    before = every[stop] if stop >= 0 else None
    if len(words) < 2 or (before is not None and (before.low in of.ARTICLES or before.possessive)):
        return words
    first = words[0].low
    behind = (
        before.low if before is not None and before.kind == "word" else before.text if before is not None else "start"
    )
    if first.endswith("ly") and first not in of.NOUNS_IN_LY:
        return _without_verb(every, words[1:], stop)
    if before is not None and (before.kind in ("character", "range", "number") or _closes(every, stop)):
        if (words[0].text[0].isupper() and len(words[0].text) > LONGEST_SYMBOL) or "-" in first.rstrip("s"):
            return words  # "No. 2 Morse taper 78", "size 312 zinc-air battery 21"
        return _without_verb(every, words[1:], -1) if _may_follow_a_part(first) else words[1:]
    if behind in of.MODALS:
        verb = next((n for n, word in enumerate(words) if word.low not in of.NOT_OF_THE_NAME), 0)
        return words[verb + 1 :] or words
    if first.endswith("ing") and _is_verb_in_ing(first, behind):
        return words[1:]
    plural = before is not None and before.kind == "word" and behind not in of.STOPS | of.NEVER_NOUNS
    plural = plural and not _is_predicate(every, stop)
    verb = first in of.VERBS and (plural or (behind == "to" and _opens_a_deed(every, stop)))
    return words[1:] if verb or first in of.NEVER_NOUNS else words


def _is_predicate(every: Sequence[Token], at: int) -> bool:
    """Whether a word in s is the verb of what stands before it: "the mower 400 follows guide wire 424"."""
    behind_subject = at > 0 and (every[at - 1].text in (",", ")") or every[at - 1].kind in ("character", "range"))
    return behind_subject and _is_verb_in_s(every[at].low)


def _opens_a_deed(every: Sequence[Token], to: int) -> bool:
    """Whether a verb may follow "to": "used to drive shaft 10", not "coupled to drive shaft 10"."""
    before = every[to - 1].low if to else ""
    return before in of.BEFORE_A_DEED or not (before.endswith("ed") or before in of.BEFORE_A_PLACE)


def _may_follow_a_part(word: str) -> bool:
    return word.endswith("ly") and word not in of.NOUNS_IN_LY


def _closes(every: Sequence[Token], at: int) -> bool:
    """Whether it is the bracket behind a character: "the arm (14) engages"."""
    return every[at].text == ")" and at > 0 and every[at - 1].kind in ("character", "range")


def _is_verb_in_ing(word: str, behind: str) -> bool:
    if word in of.NOUNS_IN_ING or "-" in word:
        return False
    if behind in of.ALWAYS_VERB_BEHIND:
        return True
    opens = behind in of.VERBS_IN_ING_BEFORE or behind in (".", "start")
    return opens and word not in of.ADJECTIVES_IN_ING


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
    if group.bracketed and not article and LETTERED.fullmatch(numbers[0]) and len(numbers) == 1:
        return False  # "heated gas (CO2)"
    in_row = head.endswith("ing") and _in_a_row_of_deeds(every, group)
    if _is_verb_form(head, article, words, in_row=in_row) or _is_verb_alone(words, every, stop):
        return False
    if words[0].low in of.NO_NAMES and head in of.OFTEN_COUNTED and not article:
        return False  # "HTTP status 429"
    if numbers[0] == "1" and len(numbers) > 1 and is_plural(head) and not article:
        return False  # "prototypes 1, 2 and 3"
    if head in of.SINGLED_OUT:
        return False
    if len(numbers) == 1 and (is_plural(head) or head == "top") and counts_things(every, group.last):
        return False
    if YEAR.fullmatch(numbers[0]) and not article and (words[-1].text[0].isupper() or head in of.OFTEN_COUNTED):
        return False
    if "/" in every[group.first].text and not (is_plural(head) and article):
        return False
    if head in of.SCREWS and LETTERED.fullmatch(numbers[0]):
        return False
    return True


def _in_a_row_of_deeds(every: Sequence[Token], group: Group) -> bool:
    """Whether steps are named by what is done: "rinsing 510, soaping 512 and drying 514"."""
    for at, step in ((group.last + 1, 1), (group.first - 2, -1)):
        while 0 <= at < len(every) and every[at].text in (",", "and"):
            at += step
        deed, number = (at, at + 1) if step > 0 else (at - 1, at)
        joined = at != (group.last + 1 if step > 0 else group.first - 2)
        if joined and 0 <= deed and number < len(every) and every[deed].low.endswith("ing"):
            return every[number].kind == "character"
    return False


def _is_verb_form(head: str, article: str, words: Sequence[Token], *, in_row: bool) -> bool:
    if head.endswith("ed") and head not in of.NOUNS_IN_ED and not (article in ("a", "an") and len(words) == 1):
        return True
    if head.endswith("ly") and head not in of.NOUNS_IN_LY:
        return True
    opened = article in ("the", "a", "an", "said")
    if head.endswith("ing") and head not in of.NOUNS_IN_ING and not opened and len(words) == 1:
        return not in_row
    if head in of.PAST or head in of.NOT_OF_THE_NAME or (head in of.MEASURES and not article):
        return True
    if opened and len(words) == 1:
        return False
    base = {head, head.removesuffix("s"), head.removesuffix("es"), re.sub(r"ies$", "y", head)}
    return bool(base & of.NEVER_NOUNS)


def _is_verb_alone(words: Sequence[Token], every: Sequence[Token], stop: int) -> bool:
    """Whether the one word behind a subject is its verb: "arms 12 engage 14"."""
    if len(words) > 1 or stop < 0:
        return False
    base = {words[0].low, words[0].low.removesuffix("s"), words[0].low.removesuffix("es")}
    subject = every[stop].kind in ("character", "range") or every[stop].text == ")" or _is_verb_in_s(every[stop].low)
    noun = (
        every[stop].low not in of.STOPS and stop > 0 and every[stop - 1].kind not in ("character", "range")
    )  # "contact 61 touches contact 62"
    plural = every[stop].kind == "word" and noun and is_plural(every[stop].low) and words[0].low in of.VERBS
    return (bool(base & of.VERBS) and every[stop].kind != "word" and subject) or plural or every[stop].low in of.MODALS


def _is_counted_thing(words: Sequence[Token], article: str, numbers: Sequence[str]) -> bool:
    """Whether such things are numbered in every text: "table 3", "step 1", "Group 4", but not "the cover sheet 104"."""
    head = words[-1].low
    small = re.fullmatch(r"\d|[1-9][a-z]", numbers[0]) is not None
    if of.CHEMICAL.fullmatch(head):
        return not article or (small and len(words) == 1)
    if small and head in of.COUNTED_BELOW_TEN and not (head in of.OFTEN_COUNTED and article and len(words) > 1):
        return not (article and head in ("table", "sheet", "line", "channel", "port", "column", "row", "layer"))
    if numbers[0][1:2] == "-":
        return False  # "column C-201"
    if head not in of.OFTEN_COUNTED or (head in of.LIKE_STEPS and not small):
        return False
    capital = words[-1].text[0].isupper() and head in of.MARKED_FIRST
    return (capital and len(words) == 1) or not (article or len(words) > 1)


def _unnamed(every: Sequence[Token], group: Group) -> Iterator[Bare]:
    """Characters that stand for a part by themselves, as far as the words around them show it."""
    before = every[group.first - 1] if group.first else None
    after = every[group.last + 1] if group.last + 1 < len(every) else None
    if before is None or after is None or before.kind == "number" or YEAR.fullmatch(group.characters[0][0]):
        return
    ends = after.text in (".", ",", ";", ")", ":") or after.low in of.AUXILIARIES or after.low in of.MODALS
    leads = before.low in ("at", "by", "of", "to", "from", "with", "and", "or", "between", "against", "on", "as", "(")
    labels = before.low == "at" and after.text in (",", ":", ".", ")")
    if ends and leads:
        yield from (Bare(character, start, labels) for character, start in group.characters)
