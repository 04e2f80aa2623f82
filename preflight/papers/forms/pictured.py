"""A form of which there is only a picture, as lines of words: what the reader of pictures saw, set upright.

Nothing that comes from here is asserted. What it seems to say can acquit where it agrees with what is known otherwise;
what it seems to say wrongly, or not at all, is for a person to look at.
"""

from __future__ import annotations

import difflib

import msgspec

from preflight.facts import CM_PER_PT, Box, Line, Page, Reading, Square
from preflight.papers.forms.form_words import ANY
from preflight.papers.model import Paper, is_scanned
from preflight.papers.words.askew import SURE, lean_of, letters_height, upright
from preflight.papers.words.lettering import keyed
from preflight.papers.words.remembered import remembered

ALIKE = 0.8
"""A word of a label is known again if it agrees to this share. House value."""
_LABEL_WORDS = frozenset(
    {"address", "agency", "contract", "correspondence", "customer", "docket", "drawings", "entity", "family", "given"}
    | {"government", "invention", "inventor", "number", "practitioner", "registration", "residence", "sheets"}
    | {"certification", "education", "gross", "higher", "income", "institution", "micro"}
    | {"signature", "signer", "specification", "title"}
)
LEGIBLE = 0.5
"""What is less sure is ink, no words: a signature by hand, a stamp, a smudge; but ... House value."""
MOSTLY, LONG = 0.9, 6
"""... so many letters that are as sure as this on the whole are print with a letter spoilt. House values."""
WIDEST = 1.3
"""A letter is at most so many times as wide as its line is high. House value."""
EMPTY_TICK, FULL_TICK = 0.02, 0.08
"""A frame with less ink inside is empty, with more it is marked; between them a person has to look. House values."""


class Pictured(msgspec.Struct, frozen=True):
    """A paper as its picture seems to read."""

    paper: Paper
    """With lines in place of readings, and no reason left why its words could not be read."""
    doubtful: dict[int, tuple[Box, ...]] = {}
    """By page, where the reader of pictures is not sure, or sees ink that it cannot read."""

    def sure(self, page: int, box: Box | None) -> bool:
        """Whether everything in a place was read for sure; without a place nothing is."""
        return box is not None and not any(one.touches(box) for one in self.doubtful.get(page, ()))


@remembered
def pictured(paper: Paper) -> Pictured | None:
    """What the picture of a form seems to say; None if its words are characters, or were not read."""
    if paper.kind not in ("form", "letter") or not paper.text_unread:
        return None
    seen = [page for page in paper.pages if page.readings and is_scanned(page)]
    if not seen:
        return None
    leans = {page.number: lean_of(page, page.readings or ()) for page in seen}
    pages = tuple(_as_lines(page, leans.get(page.number, 0.0)) for page in paper.pages)
    doubtful = {
        page.number: tuple(upright(one.box, page, leans[page.number]) for one in _doubtful(page)) for page in seen
    }
    return Pictured(msgspec.structs.replace(paper, pages=pages), doubtful)


def _doubtful(page: Page) -> list[Reading | Square]:
    unsure: list[Reading | Square] = [one for one in page.readings or () if one.lowest < SURE or one.other]
    return unsure + [one for one in page.squares if EMPTY_TICK <= one.filled < FULL_TICK]


def _as_lines(page: Page, lean: float) -> Page:
    """The page with its readings as lines, its lean taken out; the picture itself no longer counts as one."""
    squares = tuple(
        Square(upright(one.box, page, lean), one.filled) for one in page.squares if not _is_letter(one, page)
    )
    legible = (one for one in page.readings or () if _legible(one))
    return msgspec.structs.replace(
        page,
        lines=tuple(_line(one, page, lean, squares) for one in legible),
        squares=squares,
        pictures=(),
    )


def _legible(one: Reading) -> bool:
    """Whether a string may be print: a scrawl is read as few letters for its width."""
    text = one.text.strip()
    wide = one.box.width > WIDEST * one.box.height * len(text)
    letters = one.lowest >= LEGIBLE or (one.mean >= MOSTLY and len(text) >= LONG)
    return one.turned == 0 and bool(text) and letters and not wide


def _mended(text: str) -> str:
    """A label whose word lost or changed a letter, as printed; what is no label stays as it was read."""
    words = [_whole(word) for word in text.split()]
    mended = keyed(" ".join(words))
    return " ".join(words) if ANY.fullmatch(mended) or "entity" in mended else text


def _whole(word: str) -> str:
    near = difflib.get_close_matches(word.casefold(), sorted(_LABEL_WORDS), n=1, cutoff=ALIKE)
    return near[0] if near and word.casefold() not in _LABEL_WORDS else word


def _is_letter(square: Square, page: Page) -> bool:
    """Whether a frame lies within words: a bold letter looks like one. A tick box stands before or after them."""
    width = square.box.width
    inside = (one.box for one in page.readings or () if one.box.holds_middle_of(square.box))
    return any(box.left + width < square.box.middle[0] < box.right - width for box in inside)


def _line(one: Reading, page: Page, lean: float, squares: tuple[Square, ...]) -> Line:
    box = upright(one.box, page, lean)
    height = letters_height(box, lean)
    middle = box.middle[1]
    at_left = (s.box for s in squares if s.box.touches(box) and s.box.middle[0] < box.left + s.box.width)
    tick = next(at_left, None)
    left = min(tick.right + 0.01, box.right) if tick else box.left  # the reader's box may take in the tick box before
    return Line(
        _mended(one.text), Box(left, middle - height / 2, box.right, middle + height / 2), round(height / CM_PER_PT)
    )
