"""What stands on a drawing or a scan, read from its picture."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

import numpy as np

from preflight.reading.images.choosing import Chosen, choose, is_numeral, needs_second
from preflight.reading.images.components import Components
from preflight.reading.images.engine import Engine, Grey, Rect
from preflight.reading.images.letters import Word, spell
from preflight.reading.images.need import heads_form
from preflight.reading.images.specks import strings_of
from preflight.reading.images.views import View, view

HEAD = 0.09
"""Of the height of the page: sheet numbers and headers stand there upright, whichever way the figure lies."""
TALL = 1.9
"""Sides of a box that certainly holds several letters."""
MORE = 1.2
"""So much more tall print than wide: the figure lies on its side."""
ASKED = 8
"""Boxes that are read both ways to find the direction."""
ACROSS, DOWN = 0.12, 0.10
"""Box heights added round a cut-out."""
SPECK_MEAN, SPECK_LOWEST = 0.9, 0.8
TOP, SHORT, HEADINGS = 0.25, 0.75, 8
"""Of the page: the heading of a form stands so high and is no wider; so many short lines are read to find it."""
LINES = 12
"""A page with more lines of print over half of its width is a page of text."""


class Found(NamedTuple):
    """One string on the page, in pixels; `runs` as for a line of text, `height` of its ink, None if not measured."""

    box: Rect
    runs: int
    chosen: Chosen
    height: int | None


def is_text(grey: Grey, boxes: Sequence[Rect], engine: Engine) -> bool:
    """Whether a page drawn at 300 dpi, with print in these boxes, is a page of text and no form."""
    return sum(box.width > grey.shape[1] / 2 for box in boxes) > LINES and not _headed_as_form(grey, boxes, engine)


def read_lines(grey: Grey, boxes: Sequence[Rect], engine: Engine) -> list[tuple[Rect, Word]]:
    """What stands in the boxes of a page of text; it is upright, else they were no lines."""
    words = _words([cut_out(grey, box) for box in boxes], engine)
    return [(box, word) for box, word in zip(boxes, words, strict=True) if word.text]


def look(grey: Grey, boxes: Sequence[Rect], engine: Engine) -> list[Found]:
    """All strings of a drawing or a form drawn at 300 dpi, with print in these boxes."""
    turn = _turn(grey, boxes, engine)
    upright, figure = view(grey, 0), view(grey, turn)
    ink = Components(figure.grey)
    level = [box for box in boxes if turn and _stays_upright(box, grey.shape[0])]
    found = list(_read(figure, [figure.of_page(box) for box in boxes if box not in level], engine, ink))
    specks = list(_specks(figure, found, [figure.of_page(box) for box in level], engine, ink))
    return [*(_read(upright, level, engine, Components(grey)) if level else ()), *found, *specks]


def _headed_as_form(grey: Grey, boxes: Iterable[Rect], engine: Engine) -> bool:
    """Whether a page with much text bears the heading of a form: its topmost short lines are read for that."""
    rows, columns = grey.shape
    top = [box for box in boxes if box.bottom < TOP * rows and box.width < SHORT * columns and box.width > box.height]
    words = _words([cut_out(grey, box) for box in sorted(top, key=lambda b: b.top)[:HEADINGS]], engine) if top else []
    return heads_form(word.text for word in words)


def _stays_upright(box: Rect, rows: int) -> bool:
    return box.bottom < HEAD * rows or box.width > TALL * box.height


def _turn(grey: Grey, boxes: Iterable[Rect], engine: Engine) -> int:
    """By how many degrees clockwise the page must be turned to read the figure."""
    low = [box for box in boxes if box.top > HEAD * grey.shape[0]]
    tall = [box for box in low if box.height > TALL * box.width]
    wide = [box for box in low if box.width > TALL * box.height]
    if sum(b.height / b.width for b in tall) > MORE * sum(b.width / b.height for b in wide):
        return _clearest(grey, tall, (90, 270), engine)
    if not wide and 2 * sum(b.height > b.width for b in low) > len(low):
        return _clearest(grey, low, (0, 90, 270), engine)  # two digits on their side, or one digit upright
    return 0


def _clearest(grey: Grey, boxes: Iterable[Rect], turns: Iterable[int], engine: Engine) -> int:
    """The way in which the tallest of the boxes are read best."""
    some = sorted(boxes, key=lambda b: b.height / b.width)[-ASKED:]

    def mean(turn: int) -> float:
        seen = view(grey, turn)
        return float(np.mean([w.mean for w in _words([cut_out(seen.grey, seen.of_page(b)) for b in some], engine)]))

    return max(turns, key=mean)


def _read(seen: View, boxes: list[Rect], engine: Engine, ink: Components) -> Iterator[Found]:
    words = _words([cut_out(seen.grey, box) for box in boxes], engine)
    again = {i: cut for i, word in enumerate(words) if needs_second(word) and (cut := ink.cleaned(boxes[i]))}
    second = dict(zip(again, _words([cut for cut, _ in again.values()], engine), strict=True))
    for i, (box, word) in enumerate(zip(boxes, words, strict=True)):
        chosen = choose(word, second[i]) if i in second else Chosen(word, None)
        if chosen.word.text:
            height = again[i][1] if i in again else _ink_height(ink, box) if is_numeral(word) else None
            yield Found(seen.on_page(box), seen.runs, chosen, height)


def cut_out(grey: Grey, box: Rect) -> Grey:
    """A place with a little of what is round it."""
    across, down = round(box.height * ACROSS), round(box.height * DOWN)
    return grey[max(0, box.top - down) : box.bottom + down, max(0, box.left - across) : box.right + across]


def _words(cuts: list[Grey], engine: Engine) -> list[Word]:
    return [spell(chances, engine.letters) for chances in engine.read(cuts)]


def _ink_height(ink: Components, box: Rect) -> int | None:
    cleaned = ink.cleaned(box)
    return cleaned[1] if cleaned else None


def _specks(seen: View, found: list[Found], others: list[Rect], engine: Engine, ink: Components) -> Iterator[Found]:
    """Numerals that no box covers, as high as those that were read for sure."""
    sure = [f.height for f in found if f.height and is_numeral(f.chosen.word) and f.chosen.word.lowest >= SPECK_MEAN]
    if not sure:
        return
    covered = [*(seen.of_page(f.box) for f in found), *others]
    boxes = list(strings_of(ink, float(np.median(sure)), covered))
    cuts = [(box, cut) for box in boxes if (cut := ink.cleaned(box))]
    words = _words([cut for _, (cut, _) in cuts], engine)
    for (box, (_, height)), word in zip(cuts, words, strict=True):
        digits = sum(letter.isdigit() for letter in word.text)
        if is_numeral(word) and 2 <= digits <= 4 and word.mean >= SPECK_MEAN and word.lowest >= SPECK_LOWEST:
            yield Found(seen.on_page(box), seen.runs, Chosen(word, None), height)
