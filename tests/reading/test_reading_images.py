"""Strings of a drawing read from its picture, against what was drawn: sides, sizes and doubts."""

from __future__ import annotations

import io

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from preflight.facts import CM_PER_PT, Box, Entry, Line, Page, Picture, Reading
from preflight.papers import characters_on, labels_on
from preflight.reading import Limits, images
from preflight.reading.frames import Looked, Looking, Opened, PageRead
from preflight.reading.images.choosing import choose
from preflight.reading.images.letters import Word
from preflight.reading.images.looker import Looker
from preflight.reading.images.need import heads_form, needs_a_look
from preflight.reading.pages import Document
from preflight.reading.progress import Reading as Progress

pytestmark = pytest.mark.xdist_group("pictures")  # the models are loaded once
with_reader = pytest.mark.skipif(not images.installed(), reason="the reader of pictures is not installed")
LETTER, A4 = (612.0, 792.0), (595.3, 841.9)
DIGIT_HEIGHT = 0.703
"""Of Helvetica as PDFium draws it (its stand-in for a font that is not embedded), measured on a rendered "0"."""


def figure(size: float = 20.0):
    """A hatched part with five reference characters on lead lines, a label and a sheet number."""

    def paint(canvas: Canvas) -> None:
        canvas.setLineWidth(1.2)
        canvas.rect(200, 300, 220, 260)
        canvas.circle(310, 430, 60)
        for step in range(0, 200, 12):
            canvas.line(205 + step, 305, 215 + step, 345)
        canvas.setFont("Helvetica", size)
        for text, x, y in (("10", 120, 600), ("12", 480, 560), ("14a", 470, 420), ("16", 120, 380), ("128", 480, 300)):
            canvas.drawString(x, y, text)
            canvas.line(x + (-4 if x > 300 else 2.1 * size), y + 8, 300, 430)
        canvas.setFont("Helvetica-Bold", size * 1.3)
        canvas.drawCentredString(306, 180, "FIG. 3")
        canvas.setFont("Helvetica", size)
        canvas.drawCentredString(306, 700, "2/5")

    return paint


def scanned(data: bytes, *, dpi: int = 300, turn: int = 0, rotate: int = 0, skew: float = 0.0) -> bytes:
    """The first page as one grey picture of this resolution, its picture turned clockwise by `turn` and `skew`."""
    document = Document(data)
    with document.page(1) as page:
        width, height = page.size
        raster = page.raster(round(width / 72 * dpi), round(height / 72 * dpi))[:, :, 0]
    document.close()
    picture = Image.fromarray(np.rot90(raster, k=-turn // 90)).rotate(-skew, Image.Resampling.BICUBIC, fillcolor=255)
    out = io.BytesIO()
    size = (picture.width / dpi * 72, picture.height / dpi * 72)
    canvas = Canvas(out, pagesize=size, invariant=True)
    canvas.setPageRotation(rotate)
    canvas.drawImage(ImageReader(picture), 0, 0, *size)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


@pytest.fixture(scope="module")
def sheet_of(page_of):
    """The page with what is read from its picture."""

    def read(data: bytes) -> Page:
        page = page_of(data)
        document = Document(data)
        readings = Looker(document).look(1, page.width, page.height).readings
        document.close()
        return Page(number=1, width=page.width, height=page.height, readings=readings)

    return read


@with_reader
@pytest.mark.parametrize("turn", [90, 270])
def test_a_figure_is_read_whichever_way_it_lies(draw, sheet_of, turn):
    """37 CFR 1.84(i): a figure may lie on its side; the page's own rotation is another matter."""
    page = sheet_of(scanned(draw(figure(), size=LETTER), turn=turn))
    assert {one.text for one in characters_on(page)} >= {"10", "12", "14a", "16", "128"}
    assert [label.name for label in labels_on(page)] == ["3"]


@with_reader
def test_a_page_turned_by_its_own_entry_is_read_as_displayed(draw, sheet_of):
    page = sheet_of(scanned(draw(figure(), size=LETTER), turn=90, rotate=270))
    assert {one.text for one in characters_on(page)} >= {"10", "12", "14a", "16", "128"}
    assert all(one.turned == 0 for one in characters_on(page))


@with_reader
@settings(max_examples=3, deadline=None)
@example(size=21.0, dpi=300, skew=0.0, turn=270, sheet=LETTER)  # no string is much longer than high, not even the label
@given(
    size=st.floats(12, 26),
    dpi=st.sampled_from([200, 300, 400]),
    skew=st.floats(-1.5, 1.5),
    turn=st.sampled_from([0, 90, 270]),
    sheet=st.sampled_from([LETTER, A4]),
)
def test_heights_agree_with_what_was_drawn(draw, sheet_of, size, dpi, skew, turn, sheet):
    """Within 0.03 cm: 37 CFR 1.84(p)(3) asks for 0.32 cm. Turned by /Rotate, and scanned a little askew."""
    page = sheet_of(scanned(draw(figure(size), size=sheet), dpi=dpi, rotate=turn, skew=skew))
    heights = sorted(one.height for one in characters_on(page) if one.height and one.sure)
    assert len(heights) >= 3
    # the check takes the middle one: at 200 dpi a lead line that is painted out may take the foot of a digit with it
    assert heights[len(heights) // 2] == pytest.approx(size * DIGIT_HEIGHT * CM_PER_PT, abs=0.03)


@with_reader
def test_boxes_stand_where_the_characters_are(draw, sheet_of):
    page = sheet_of(scanned(draw(figure(), size=LETTER)))
    (twelve,) = [one for one in characters_on(page) if one.text == "12"]
    assert twelve.box.left == pytest.approx(480 * CM_PER_PT, abs=0.4)
    assert twelve.box.bottom == pytest.approx((792 - 560) * CM_PER_PT, abs=0.4)


@with_reader
def test_a_page_of_text_is_not_read_as_a_drawing(draw, facts_of):
    def text(canvas):
        canvas.setFont("Helvetica", 12)
        for line in range(30):
            canvas.drawString(
                72, 720 - 20 * line, "The lever turns about a pin and moves the spring, which lifts the cover"
            )

    (page,) = facts_of(scanned(draw(text, size=LETTER))).pages
    assert page.readings is None
    assert page.readings_unread == images.TEXT


@with_reader
def test_the_recogniser_still_has_the_parts_that_are_called_by_private_names():
    """Else the pin of rapidocr has moved: see preflight/reading/images/engine.py."""
    from rapidocr import RapidOCR  # noqa: PLC0415  only where it is installed

    assert callable(RapidOCR._load_det_model)
    assert callable(RapidOCR._load_rec_model)


def test_without_the_reader_it_is_said_how_to_get_it(draw, facts_of, monkeypatch):
    monkeypatch.setattr(images, "installed", lambda: False)
    (page,) = facts_of(scanned(draw(figure(), size=LETTER), dpi=100)).pages
    assert page.ink
    assert "pip install 'filing-bundle-preflight[ocr]'" in page.readings_unread


def _page(**said: object) -> Page:
    return Page(number=1, width=21.59, height=27.94, ink=Box(3, 3, 18, 22), marks=(Box(3, 3, 18, 22),), **said)


def _line(text: str, top: float = 10.0) -> Line:
    return Line(text=text, box=Box(4, top, 6, top + 0.4), size=12)


@pytest.mark.parametrize(
    ("page", "needed"),
    [
        (_page(), True),  # outlines only
        (_page(lines=(_line("FIG. 1"),)), True),  # a label typed below outlines
        (_page(lines=(_line("10"), _line("FIG. 1"))), False),
        (_page(lines=(_line("1/3", 1.0),)), True),
        (_page(lines=tuple(_line("the lever turns about a pin", n) for n in range(12))), False),
        (_page(pictures=(Picture(Box(0, 0, 21, 27), 2500, 3300, 300.0),)), True),
        (_page(lines=(_line("10"),), pictures=(Picture(Box(3, 3, 18, 12), 900, 900, 150.0),)), True),
        (Page(number=1, width=21.59, height=27.94), False),  # blank
        (_page(unread="it could not be drawn"), False),
    ],
)
def test_whether_a_page_needs_a_look(page, needed):
    assert needs_a_look(page) is needed


def _word(text: str, mean: float = 0.99, lowest: float | None = None) -> Word:
    return Word(text, mean, mean if lowest is None else lowest, ())


@pytest.mark.parametrize(
    ("first", "cleaned", "text", "other"),
    [
        (_word("10"), _word("10"), "10", None),
        (_word("-l0"), _word("10"), "10", "-l0"),  # a numeral where none was read
        (_word("300", lowest=0.99), _word("30"), "300", "30"),  # a digit painted out with its lead line
        (_word("510", 0.8, 0.6), _word("10"), "10", "510"),
        (_word("10"), _word(""), "10", None),
        (_word("lO", 0.7, 0.5), _word("10", 0.96), "10", "lO"),
    ],
)
def test_of_two_readings_the_better_counts_and_the_other_is_kept(first, cleaned, text, other):
    chosen = choose(first, cleaned)
    assert chosen.word.text == text
    assert (chosen.other.text if chosen.other else None) == other


def test_a_worker_lost_over_a_picture_costs_that_picture_only():
    progress = Progress(Entry("d.pdf", 1, "0" * 64), Limits())
    progress.take(Opened(None, 2))
    for number in (1, 2):
        progress.take(PageRead(Page(number=number, width=21.0, height=29.7)))
    progress.take(Looking((1, 2)))
    assert progress.done == 0
    progress.take(Looked(1, (Reading("10", Box(1, 1, 2, 2), 0, 0.9, 0.9),)))
    progress.stopped("it took too long")
    first, second = progress.facts().pages
    assert progress.finished
    assert first.readings is not None
    assert first.readings_unread is None
    assert second.readings is None
    assert second.readings_unread == "it took too long"
    assert second.width == 21.0


@pytest.mark.parametrize(
    ("line", "form"),
    [
        ("CERTIFICATION OF MICRO ENTITY STATUS", True),
        ("Application Data Sheet", True),
        ("Fee worksheet", True),
        ("STATEMENT REGARDING FEDERALLY SPONSORED RESEARCH", False),
        ("BACKGROUND", False),
        ("The sheet 12 covers the slot.", False),
    ],
)
def test_what_forms_are_headed_with(line: str, form: bool) -> None:
    """A page with much text is read only under such a heading."""
    assert heads_form(["Docket No. DEMO-0417", line]) == form
