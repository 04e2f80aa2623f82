"""Where the text uses one character for two parts, two for one, or a character before its name.

English cannot always be decided: what is sure is told apart from what a person should see side by side. How the
numbers run (even, odd, by hundreds) is nobody's fault and is not looked at.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

import msgspec

from preflight.papers.characters.described import Described, Mention
from preflight.papers.characters.naming import (
    GENERIC,
    STEPS,
    head_of,
    modified_from,
    near,
    opposite,
    same_part,
    singular,
)

OFTEN = 2
"""Two names clash for sure only when each stands so often. House value."""
RARE = 2
"""A character that stands so seldom, and is never introduced, may be a slip of the pen. House value."""
USUAL = 4
"""... where its name stands so often with another character. House value."""

By = dict[str, list[Mention]]


class NameUse(msgspec.Struct, frozen=True):
    """A name with the places at which it stands, in the order of the text; other forms of it are counted in."""

    name: str
    mentions: tuple[Mention, ...]

    @property
    def times(self) -> int:
        """How often it is used."""
        return len(self.mentions)


class TwoNames(msgspec.Struct, frozen=True):
    """One character with two names that are not plainly one part. `sure`: nobody would take them for one."""

    character: str
    one: NameUse
    other: NameUse
    sure: bool


class Slip(msgspec.Struct, frozen=True):
    """A character that seems to be written for another one: "the latch 81" once, "the latch 18" twelve times."""

    name: str
    usual: NameUse
    character: str
    odd: NameUse
    instead: str
    drawn: bool = False
    """Whether a sheet shows the odd one too."""


def by_character(text: Described) -> By:
    """The mentions of each character, in the order in which the characters first stand in the text."""
    found: By = defaultdict(list)
    for mention in text.mentions:
        found[mention.text].append(mention)
    return dict(found)


def two_names(text: Described) -> tuple[TwoNames, ...]:
    """Characters with names that are unlike: the two most used ones of each."""
    return tuple(clash for every in by_character(text).values() if (clash := _clash(every)))


def _clash(mentions: Sequence[Mention]) -> TwoNames | None:
    if any(head_of(one.name) in STEPS for one in mentions) or re.match(r"S\d", mentions[0].text):
        return None
    families = sorted(_families(mentions), key=lambda use: -use.times)
    if len(families) > 1 and (others := [use for use in families[1:] if _is_said(use)]):
        main, other = families[0], others[0]
        often = min(main.times, other.times) >= OFTEN and _is_said(main)
        alike = near(main.name, other.name)
        return TwoNames(mentions[0].text, main, other, sure=often and not alike)
    return _opposed(mentions)


def _is_said(use: NameUse) -> bool:
    """Whether it surely is a name: with an article or in brackets, not what a rare verb left over."""
    return any(one.article or one.bracketed for one in use.mentions)


def _families(mentions: Sequence[Mention]) -> list[NameUse]:
    """The mentions gathered by part, as far as their names may be names of one."""
    names = list(dict.fromkeys(one.name for one in mentions))
    groups: list[list[str]] = []
    for name in sorted(names, key=lambda name: head_of(name) in GENERIC):
        akin = [group for group in groups if any(same_part(name, other) for other in group)]
        akin = akin[:1] if head_of(name) in GENERIC else akin  # what may be any part joins no two of them
        merged = [name, *(other for group in akin for other in group)]
        groups = [group for group in groups if group not in akin] + [merged]
    return [_use([one for one in mentions if one.name in group]) for group in groups]


def _use(mentions: Sequence[Mention]) -> NameUse:
    names = [one.name for one in mentions]
    return NameUse(max(dict.fromkeys(names), key=names.count), tuple(mentions))


def _opposed(mentions: Sequence[Mention]) -> TwoNames | None:
    """ "upper wall 20" and "lower wall 20": one number for two parts that differ in place."""
    alone = [one for one in mentions if not one.listed and one.article and singular(one.head) == one.head]
    names = list(dict.fromkeys(one.name for one in alone))
    for n, name in enumerate(names):
        for other in names[:n]:
            if opposite(name, other):
                first, second = ([one for one in alone if one.name == said] for said in (other, name))
                return TwoNames(mentions[0].text, _use(first), _use(second), sure=False)
    return None


def slips(text: Described, drawn: Iterable[str] = ()) -> tuple[Slip, ...]:
    """Characters that no sentence introduces, under a name that usually has another character.

    Parts of one kind may share a name ("valve 20", "valve 22"): only a rare one that is spoken of as if known counts.
    """
    characters, shown = by_character(text), set(drawn)
    users: dict[str, set[str]] = defaultdict(set)
    for mention in text.mentions:
        users[mention.name].add(mention.text)
    found = (
        msgspec.structs.replace(slip, drawn=character in shown)
        for character, mentions in characters.items()
        if _is_rare(mentions)
        for slip in _slip(character, mentions, users[mentions[0].name] - {character}, characters)
    )
    return tuple(slip for slip in found if not slip.drawn or _is_introduced(slip.usual))


def _is_introduced(use: NameUse) -> bool:
    return any(one.article in ("a", "an") for one in use.mentions)


def _is_rare(mentions: Sequence[Mention]) -> bool:
    one_name = len({one.name for one in mentions}) == 1
    known = all(one.article in ("the", "said") and not one.listed for one in mentions)
    return len(mentions) <= RARE and one_name and known and head_of(mentions[0].name) not in STEPS


def _slip(character: str, mentions: Sequence[Mention], others: set[str], every: By) -> Iterator[Slip]:
    if len(others) != 1:
        return
    (other,) = others
    name = mentions[0].name
    usual = [one for one in every[other] if one.name == name]
    if len(usual) >= USUAL and not _is_variant(character, other):
        yield Slip(name, NameUse(name, tuple(usual)), character, NameUse(name, tuple(mentions)), other)


def _is_variant(one: str, other: str) -> bool:
    """Whether one is made of the other: 12a, 12', 12-1 of 12, or 112 in the hundred of another embodiment."""
    a, b = (re.match(r"\d+", text) for text in (one, other))
    if a is None or b is None:
        return True
    return a.group() == b.group() or int(a.group()) % 100 == int(b.group()) % 100


class Early(msgspec.Struct, frozen=True):
    """A character that stands without a name before it gets one."""

    bare: Mention
    named: Mention


def used_early(text: Described) -> tuple[Early, ...]:
    """Each such character once, within the paper that names it first."""
    first: dict[str, Mention] = {}
    for mention in text.mentions:
        first.setdefault(mention.text, mention)
    found: dict[str, Early] = {}
    for bare in text.bare:
        named = first.get(bare.text)
        itself = named and (head_of(named.name) in STEPS or re.match(r"S\d", named.text))  # "At S43"
        if named and not itself and named.file == bare.file and named.role == bare.role and bare.at < named.at:
            found.setdefault(bare.text, Early(bare, named))
    return tuple(found.values())


def modified_parts(text: Described) -> tuple[TwoNames, ...]:
    """Characters of a part and of what is called its modification; sure where both stand more than once.

    A character with a prime beside one without is the modification's own: "a modified drum 106'".
    """
    found = []
    every = by_character(text)
    for character, mentions in every.items():
        if character.endswith("'") and character.rstrip("'") in every:
            continue
        names = list(dict.fromkeys(one.name for one in mentions))
        pairs = [(name, other) for name in names for other in names if modified_from(name, other)]
        for name, other in pairs[:1]:
            first, second = (_use([one for one in mentions if one.name == said]) for said in (other, name))
            found.append(TwoNames(character, first, second, sure=min(first.times, second.times) >= OFTEN))
    return tuple(found)
