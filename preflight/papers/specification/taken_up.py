"""Where the description takes up a figure: a sentence that opens upon it, apart from what merely mentions it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import msgspec

from preflight.papers.pages.figures_named import figures_in
from preflight.papers.specification.paragraphs import Paragraph
from preflight.papers.specification.passages import Spot
from preflight.papers.specification.sentences import sentences
from preflight.papers.specification.views import SAYS
from preflight.papers.words.lettering import words

AT_LENGTH = 50
"""So many words belong to a figure, from where it is taken up to where the next one is, if more than a glance is meant.
House value."""
_TURNS = re.compile(
    r"^(?:(?:now|next|then|further|finally)[,\s]+)?"
    r"(?:referring|turning|moving|with (?:continued |further |particular )?reference|we turn"
    r"|attention is (?:now )?directed|reference is (?:now )?made)"
    r"(?:[\s,]+(?:now|next|then|further|first|finally|again|on|more particularly))*[\s,]+to\s+(?=FIG)",
    re.IGNORECASE,
)


class TakenUp(msgspec.Struct, frozen=True):
    """Figures with which a sentence begins ("FIG. 2 shows", "Turning to FIGS. 3A and 3B"); `numbers` without letters.

    `at` is its offset in the paragraph of this index, `compares` whether it names other figures besides.
    """

    numbers: tuple[int, ...]
    paragraph: int
    at: int
    spot: Spot
    compares: bool


def taken_up(paragraphs: Sequence[Paragraph]) -> tuple[TakenUp, ...]:
    """In the order of reading. "As in FIG. 1" and "in FIG. 2" take up nothing: they may compare."""
    return tuple(one for index, paragraph in enumerate(paragraphs) for one in _in(paragraph, index))


def _in(paragraph: Paragraph, index: int) -> Iterator[TakenUp]:
    for at, sentence in sentences(paragraph.text):
        turns = _TURNS.match(sentence)
        named = list(figures_in(sentence))
        if not named or named[0][0] != (turns.end() if turns else 0):
            continue
        if turns or SAYS.match(sentence[named[0][1] :]):
            numbers = tuple(dict.fromkeys(number for number, _ in named[0][2]))
            compares = any(number not in numbers for _, _, others in named[1:] for number, _ in others)
            yield TakenUp(numbers, index, at, paragraph.passage.at(at), compares)


class Mixed(msgspec.Struct, frozen=True):
    """A paragraph that tells at length of one figure, then of another (`second`)."""

    first: int
    second: int
    spot: Spot


def mixed(paragraphs: Sequence[Paragraph], found: Sequence[TakenUp]) -> Iterator[Mixed]:
    """Each such second figure, unless it is compared with others or was taken up before."""
    known: set[int] = set()
    for before, one, after in zip((None, *found), found, (*found[1:], None), strict=False):
        if before and before.paragraph == one.paragraph and not one.compares and not known & set(one.numbers):
            text = paragraphs[one.paragraph].text
            end = after.at if after and after.paragraph == one.paragraph else len(text)
            if all(len(words(text[a:b])) >= AT_LENGTH for a, b in ((before.at, one.at), (one.at, end))):
                yield Mixed(before.numbers[0], one.numbers[0], one.spot)
        known |= set(one.numbers)


class OutOfTurn(msgspec.Struct, frozen=True):
    """A figure that nothing mentions before one with a higher number is taken up."""

    figure: int
    before: int
    spot: Spot


def out_of_turn(paragraphs: Sequence[Paragraph], found: Sequence[TakenUp]) -> Iterator[OutOfTurn]:
    """Each figure once, however it is mentioned first."""
    mentioned: dict[int, tuple[int, int]] = {}
    for index, paragraph in enumerate(paragraphs):
        for at, _, members in figures_in(paragraph.text):
            for number, _ in members:
                mentioned.setdefault(number, (index, at))
    told: set[int] = set()
    for one in found:
        for number in one.numbers:
            if number in told:
                continue
            told.add(number)
            met = mentioned[number]
            higher = (other for other in found if (other.paragraph, other.at) < met and min(other.numbers) > number)
            if passed := next(higher, None):
                yield OutOfTurn(number, min(passed.numbers), one.spot)
