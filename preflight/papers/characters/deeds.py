"""Which words before a character are verbs, and so no part of its name: "to open valve 22", "arms 12 engage pin 14"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from preflight.papers.characters import part_words as of
from preflight.papers.characters.groups import Group, counted_out, is_plural
from preflight.papers.characters.tokens import Token

_NO_SUBJECTS = of.STOPS | of.NEVER_NOUNS
_NO_VERB = ("ss", "us", "is", "os", "ics", "ions")
LONGEST_SYMBOL = 2
"""Letters of a unit: "a 12 Ah battery"."""


def without_verb(every: Sequence[Token], words: list[Token], stop: int) -> list[Token]:
    """The same without a verb at its start: "to open valve 22", "arms 12 engage pin 14", "by pressing button 32"."""
    before = every[stop] if stop >= 0 else None
    if len(words) < 2 or (before is not None and (before.low in of.ARTICLES or before.possessive)):
        return words
    first = words[0].low
    behind = (
        before.low if before is not None and before.kind == "word" else before.text if before is not None else "start"
    )
    if first.endswith("ly") and first not in of.NOUNS_IN_LY:
        return without_verb(every, words[1:], stop)
    if before is not None and before.kind == "character" and counted_out(every, stop):
        return words  # "up to 500 candidate items 126"
    if before is not None and (before.kind in ("character", "range", "number") or _closes(every, stop)):
        if (words[0].text[0].isupper() and len(words[0].text) > LONGEST_SYMBOL) or "-" in first.rstrip("s"):
            return words  # "No. 2 Morse taper 78", "size 312 zinc-air battery 21"
        return without_verb(every, words[1:], -1) if _may_follow_a_part(first) else words[1:]
    if behind in of.MODALS:
        verb = next((n for n, word in enumerate(words) if word.low not in of.NOT_OF_THE_NAME), 0)
        return words[verb + 1 :] or words
    if first.endswith("ing") and _is_verb_in_ing(first, behind):
        return words[1:]
    plural = before is not None and before.kind == "word" and behind not in _NO_SUBJECTS
    plural = plural and not _is_predicate(every, stop)
    verb = first in of.VERBS and (plural or (behind == "to" and opens_a_deed(every, stop)))
    return words[1:] if verb or first in of.NEVER_NOUNS else words


def _is_predicate(every: Sequence[Token], at: int) -> bool:
    """Whether a word in s is the verb of what stands before it: "the mower 400 follows guide wire 424"."""
    behind_subject = at > 0 and (every[at - 1].text in (",", ")") or every[at - 1].kind in ("character", "range"))
    return behind_subject and is_verb_in_s(every[at].low)


def opens_a_deed(every: Sequence[Token], to: int) -> bool:
    """Whether a verb may follow "to": "used to drive shaft 10", not "coupled to drive shaft 10"."""
    before = every[to - 1].low if to else ""
    return before in of.BEFORE_A_DEED or not (before.endswith("ed") or before in of.BEFORE_A_PLACE)


def _may_follow_a_part(word: str) -> bool:
    return word.endswith("ly") and word not in of.NOUNS_IN_LY


def _closes(every: Sequence[Token], at: int) -> bool:
    """Whether it is the bracket behind a character: "the arm (14) engages"."""
    return every[at].text == ")" and at > 0 and every[at - 1].kind in ("character", "range")


def is_verb_in_s(word: str) -> bool:
    """Whether a word in s that is not the last of a name is a verb: "the controller opens valve 22"."""
    return word.endswith("s") and len(word) > 3 and not word.endswith(_NO_VERB) and word not in of.NOUNS_IN_S


def _is_verb_in_ing(word: str, behind: str) -> bool:
    if word in of.NOUNS_IN_ING or "-" in word:
        return False
    if behind in of.ALWAYS_VERB_BEHIND:
        return True
    opens = behind in of.VERBS_IN_ING_BEFORE or behind in (".", "start")
    return opens and word not in of.ADJECTIVES_IN_ING


def is_verb_form(head: str, article: str, words: Sequence[Token], *, in_row: bool) -> bool:
    """Whether the last word of a name tells what is done: "connected", "allows", "rinsing" alone and not `in_row`."""
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


def is_verb_alone(words: Sequence[Token], every: Sequence[Token], stop: int) -> bool:
    """Whether the one word behind a subject is its verb: "arms 12 engage 14"."""
    if len(words) > 1 or stop < 0:
        return False
    base = {words[0].low, words[0].low.removesuffix("s"), words[0].low.removesuffix("es")}
    subject = every[stop].kind in ("character", "range") or every[stop].text == ")" or is_verb_in_s(every[stop].low)
    if every[stop].low in ("which", "who") and is_verb_in_s(words[0].low):
        return True  # "each of which measures 12 cell voltages"
    noun = (
        every[stop].low not in of.STOPS and stop > 0 and every[stop - 1].kind not in ("character", "range")
    )  # "contact 61 touches contact 62"
    plural = every[stop].kind == "word" and noun and is_plural(every[stop].low) and words[0].low in of.VERBS
    return (bool(base & of.VERBS) and every[stop].kind != "word" and subject) or plural or every[stop].low in of.MODALS


def in_a_row_of_deeds(every: Sequence[Token], group: Group) -> bool:
    """Whether steps are named by what is done: "rinsing 510, soaping 512 and drying 514"."""
    for at, step in ((group.last + 1, 1), (group.first - 2, -1)):
        while 0 <= at < len(every) and every[at].text in (",", "and"):
            at += step
        deed, number = (at, at + 1) if step > 0 else (at - 1, at)
        joined = at != (group.last + 1 if step > 0 else group.first - 2)
        if joined and deed >= 0 and number < len(every) and every[deed].low.endswith("ing"):
            return every[number].kind == "character"
    return False
