"""Characters that say something else than is seen are not trusted; those that are right are, however odd."""

from __future__ import annotations

import io
import re

import numpy as np
import pikepdf
import pytest
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from preflight.facts import Box, Entry, Line, Page, Picture
from preflight.reading import Limits, images
from preflight.reading.cache import complete
from preflight.reading.frames import Looking, Opened, PageRead, Proved
from preflight.reading.images import GARBLED, needs_proof
from preflight.reading.images.letters import Word
from preflight.reading.images.proving import says_otherwise
from preflight.reading.pages import Document
from preflight.reading.progress import Reading as Progress

pytestmark = pytest.mark.xdist_group("pictures")  # the models are loaded once
with_reader = pytest.mark.skipif(not images.installed(), reason="the reader of pictures is not installed")
LETTER = (612.0, 792.0)
PROSE = (
    "The lever 14 turns about a pin 16 and moves the spring 18, so that the spring",
    "lifts the cover 20 of the box 12, and the box opens without further effort.",
    "A latch 22 holds the cover in its closed position until a force acts on it.",
    "In another embodiment the latch is made of a magnet and a plate of soft iron.",
    "They part as soon as the cover is lifted, and a damper keeps it from falling.",
)
OTHER = tuple(line[::-1] for line in PROSE)
FINNISH = (
    "Vipu kiertyy tapin ymp\u00e4ri ja liikuttaa jousta niin, ett\u00e4 jousi nostaa laatikon kannen.",
    "Salpa pit\u00e4\u00e4 kannen suljettuna, kunnes siihen vaikuttaa riitt\u00e4v\u00e4n suuri voima.",
    "Toisessa suoritusmuodossa salpa koostuu magneetista sek\u00e4 pehme\u00e4st\u00e4 rautalevyst\u00e4.",
)


@pytest.fixture(scope="module", autouse=True)
def _font() -> None:
    pdfmetrics.registerFont(TTFont("Vera", "Vera.ttf"))


def prose(lines=PROSE, font="Vera"):
    def paint(canvas) -> None:
        canvas.setFont(font, 11)
        for number, line in enumerate(lines):
            canvas.drawString(72, 700 - 24 * number, line)

    return paint


def mapped_wrongly(data: bytes, by: int) -> bytes:
    """Letters are said to be others, `by` places on in the alphabet."""

    def moved(match: re.Match[bytes]) -> bytes:
        code = int(match[2], 16)
        letter = chr(code)
        start = 65 if letter.isupper() else 97
        return b"<%s> <%04X>" % (match[1], (code - start + by) % 26 + start if letter.isalpha() else code)

    with pikepdf.open(io.BytesIO(data)) as pdf:
        for item in pdf.objects:
            if isinstance(item, pikepdf.Dictionary) and "/ToUnicode" in item:
                new = re.sub(rb"<(\w\w)> <(\w{4})>", moved, item.ToUnicode.read_bytes())
                item.ToUnicode = pdf.make_stream(new)
        out = io.BytesIO()
        pdf.save(out)
    return out.getvalue()


def without_map(data: bytes) -> bytes:
    """The bare codes are right, but nothing says so."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        for item in pdf.objects:
            if isinstance(item, pikepdf.Dictionary) and "/ToUnicode" in item:
                del item["/ToUnicode"]
                item.FontDescriptor.Flags = 4
        out = io.BytesIO()
        pdf.save(out)
    return out.getvalue()


def scan_with(data: bytes, layer, draw) -> bytes:
    """The first page as a picture, with a text layer in front of it that is painted in nearly no ink."""
    document = Document(data)
    with document.page(1) as page:
        raster = np.ascontiguousarray(page.raster(2550, 3300)[:, :, 0])
    document.close()
    picture = ImageReader(Image.fromarray(raster))

    def paint(canvas) -> None:
        canvas.drawImage(picture, 0, 0, 612, 792)
        canvas.setFillAlpha(0.02)
        layer(canvas)

    return draw(paint, size=LETTER)


@with_reader
def test_letters_that_the_font_maps_to_others_are_not_trusted(draw, facts_of):
    (page,) = facts_of(mapped_wrongly(draw(prose(), size=LETTER), 3)).pages
    assert page.lines[0].text.startswith("Wkh ohyhu")
    assert page.text_unread == GARBLED


@with_reader
@pytest.mark.parametrize("lines", [PROSE, FINNISH])
def test_right_characters_are_trusted_in_any_language(draw, facts_of, lines):
    facts = facts_of(draw(prose(lines), size=LETTER))
    assert facts.pages[0].text_unread is None
    assert complete(facts)


@with_reader
def test_a_font_without_a_map_whose_codes_are_right_is_trusted(draw, facts_of):
    facts = facts_of(without_map(draw(prose(), size=LETTER)))
    assert [font.named for font in facts.structure.fonts] == [False]
    assert needs_proof(facts.pages[0], {1})
    assert facts.pages[0].text_unread is None


@with_reader
def test_a_text_layer_before_a_scan_is_held_against_the_scan(draw, facts_of):
    page = draw(prose(), size=LETTER)
    (proper,) = facts_of(scan_with(page, prose(), draw)).pages
    (another,) = facts_of(scan_with(page, prose(OTHER), draw)).pages
    assert any(line.visible for line in another.lines)
    assert (proper.text_unread, another.text_unread) == (None, GARBLED)


@with_reader
def test_what_was_found_out_is_kept(draw, facts_of):
    assert complete(facts_of(mapped_wrongly(draw(prose(), size=LETTER), 3)))


def _line(text: str) -> Line:
    return Line(text=text, box=Box(3, 3, 18, 3.4), size=12)


def _page(*texts: str, **said: object) -> Page:
    return Page(number=1, width=21.59, height=27.94, ink=Box(3, 3, 18, 22), lines=tuple(map(_line, texts)), **said)


@pytest.mark.parametrize(
    ("page", "unnamed", "needed"),
    [
        (_page(*PROSE), (), False),
        (_page(*PROSE), (1,), True),  # a font that names no characters
        (_page(*PROSE), (2,), False),  # on another page
        (_page(*OTHER), (), True),  # reads like no language
        (_page(*(["acgtacgtac gtacgtacgt acgtacgtac gtacgtacgt 240"] * 9)), (), True),  # costs a look, no more
        (_page(*(["12.5 13.5 14.5 15.5 16.5 17.5"] * 9)), (), False),  # a table of figures
        (_page("FIG. 1", "10", "12"), (1,), False),  # too short to be held against anything
        (_page(*PROSE, pictures=(Picture(Box(0, 0, 21, 27), 2550, 3300, 300.0),)), (), True),
        (_page(*OTHER, text_unread="unknown already"), (), False),
        (_page(unread="it could not be drawn"), (1,), False),
    ],
)
def test_only_what_is_suspicious_is_held_against_its_picture(page, unnamed, needed):
    assert needs_proof(page, unnamed) is needed


def _word(text: str, mean: float = 0.97) -> Word:
    return Word(text, mean, mean, ())


@pytest.mark.parametrize(
    ("said", "seen", "otherwise"),
    [
        (PROSE, [*map(_word, PROSE)], False),
        (PROSE, [*map(_word, OTHER)], True),
        (PROSE, [_word(text, 0.7) for text in OTHER], False),  # only what was read for sure accuses
        (PROSE, [_word(OTHER[0]), *map(_word, PROSE[1:])], False),  # one line may be misread
        (PROSE, [_word(OTHER[0]), _word(OTHER[1]), *map(_word, PROSE[2:])], True),
        (PROSE[:1], [_word(OTHER[0])], True),
        (PROSE[:1], [_word("the")], False),  # hardly anything was read
        ((), [], False),
    ],
)
def test_only_several_sure_readings_of_other_letters_accuse(said, seen, otherwise):
    assert says_otherwise(said, seen) is otherwise


def test_a_worker_lost_over_a_proof_leaves_the_characters_untrusted():
    progress = Progress(Entry("d.pdf", 1, "0" * 64), Limits())
    progress.take(Opened(None, 2))
    for number in (1, 2):
        progress.take(PageRead(Page(number=number, width=21.0, height=29.7)))
    progress.take(Looking((), (1, 2)))
    assert progress.done == 0
    progress.take(Proved(1, None))
    progress.stopped("it took too long")
    assert [page.text_unread for page in progress.facts().pages] == [None, "it took too long"]
    assert progress.finished
