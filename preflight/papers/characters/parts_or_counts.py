"""Whether a name and the numbers behind it are a part with its characters, or count, date or cite something."""

from __future__ import annotations

import re
from collections.abc import Sequence

from preflight.papers.characters import part_words as of
from preflight.papers.characters.deeds import in_a_row_of_deeds, is_verb_alone, is_verb_form
from preflight.papers.characters.groups import YEAR, Group, counts_things, is_plural, measured_with
from preflight.papers.characters.phrases import THREAD
from preflight.papers.characters.tokens import Token
from preflight.papers.words.units import UNITS

LETTERED = re.compile(r"(?:[A-Z]{1,2}\d{1,3}[a-z]?|[A-Z]-\d{2,4}[A-Z]?)'*")
"""A part of a circuit, a mirror M2: letters first. Steps (S10) have the same form."""


_SYMBOLS = frozenset("E C N O F Si Al Ti Fe Ni Cu Zn Ga Ge As Ag Au Pt Pb".split())  # noqa: SIM905
"""Behind these stand orbitals, and behind E additives."""


def can_be_a_part(words: Sequence[Token], article: str, every: Sequence[Token], group: Group, stop: int) -> bool:
    """Whether the last word names a part, and the numbers behind it do not count, date or cite."""
    numbers = [character for character, _ in group.characters]
    last = words[-1].text
    if re.fullmatch("[A-Z][a-z]?", last) and re.fullmatch(r"\d[spdf]|\d{3}[a-z]?", numbers[0]) and last in _SYMBOLS:
        return False  # "the Si 2p line", "the additive E 330"
    if len(words) > 1 and len(words[-1].text) == 1:
        words = words[:-1]
    head = words[-1].low
    if len(head) < 2:
        return False
    opens = stop < 0 or every[stop].text == "."
    if head in of.NO_NAMES or (head in UNITS and not article and len(words) == 1 and not opens) or "/" in head:
        return False
    if not article and len(numbers) == 1 and THREAD.fullmatch(numbers[0]):
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
    if group.bracketed and re.fullmatch("[0-3]{3}", numbers[0]) and {word.low for word in words} & of.OF_CRYSTALS:
        return False  # "crystal planes (110)"
    if head in of.SINGLED_OUT or (head in of.MEASURES and measured_with(every, group.last)):
        return False
    if len(numbers) == 1 and (is_plural(head) or head == "top") and counts_things(every, group.last):
        return False
    if head == "top" and group.last + 1 < len(every) and every[group.last + 1].low in ("are", "were", "have"):
        return False
    if YEAR.fullmatch(numbers[0]) and not article and (words[-1].text[0].isupper() or head in of.OFTEN_COUNTED):
        return False
    gas = numbers[0].lower() in of.GASES and (group.bracketed or not article)
    if gas or (group.bracketed and of.STRANDS.issuperset(numbers)):
        return False  # "an inert gas (N2 or Ar)", "sequence (5' to 3')"
    if group.bracketed and stop >= 0 and every[stop].text in of.OPERATORS:
        return False  # "N = k x T (1)"
    if "/" in every[group.first].text and not (is_plural(head) and article):
        return False
    return not (head in of.SCREWS and LETTERED.fullmatch(numbers[0]))


def is_counted_thing(words: Sequence[Token], article: str, numbers: Sequence[str]) -> bool:
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
