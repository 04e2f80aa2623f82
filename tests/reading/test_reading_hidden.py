"""Text that nobody sees: white, covered, never painted, or beside the page. ISO 32000-1, 9.3.6 and 14.11.2."""

from __future__ import annotations

import io

import pikepdf
import pytest

from preflight.facts import PT_PER_CM

CM = PT_PER_CM


def _white(canvas) -> None:
    canvas.setFillColorRGB(1, 1, 1)
    canvas.drawString(5 * CM, 20 * CM, "white words on white")


def _covered(canvas) -> None:
    canvas.drawString(5 * CM, 20 * CM, "a secret supplier")
    canvas.rect(4 * CM, 19 * CM, 10 * CM, 2 * CM, stroke=0, fill=1)


@pytest.mark.parametrize("paint", [_white, _covered], ids=["white", "under a black box"])
def test_text_without_contrast_is_hidden(draw, page_of, paint):
    (line,) = page_of(draw(paint)).lines
    assert (line.visible, line.hidden) == (False, "no contrast")


def _not_painted(canvas) -> None:
    text = canvas.beginText(5 * CM, 20 * CM)
    text.setTextRenderMode(3)
    text.textOut("never painted")
    canvas.drawText(text)


def test_text_that_is_never_painted_is_hidden(draw, page_of):
    (line,) = page_of(draw(_not_painted)).lines
    assert (line.visible, line.hidden) == (False, "not painted")


def _box_behind(canvas) -> None:
    canvas.setFillColorRGB(0, 0, 0)
    canvas.rect(4 * CM, 19 * CM, 10 * CM, 2 * CM, stroke=0, fill=1)
    canvas.setFillColorRGB(1, 1, 1)
    canvas.drawString(5 * CM, 20 * CM, "white words on black")


def _pale(canvas) -> None:
    canvas.setFillColorRGB(0.9, 0.9, 0.9)
    canvas.drawString(5 * CM, 20 * CM, "pale words")


def _dots(canvas) -> None:
    canvas.drawString(5 * CM, 20 * CM, ". . . .")


@pytest.mark.parametrize("paint", [_box_behind, _pale, _dots], ids=["on black", "pale", "dots"])
def test_what_can_be_seen_is_not_hidden(draw, page_of, paint):
    assert [line.hidden for line in page_of(draw(paint)).lines] == [""]


def test_words_outside_the_crop_box_are_kept_apart(draw, page_of):
    def paint(canvas) -> None:
        canvas.drawString(5 * CM, 20 * CM, "on the page")
        canvas.drawString(5 * CM, 2 * CM, "beside the page")

    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(draw(paint))) as pdf:
        pdf.pages[0].CropBox = [0, 5 * CM, 21 * CM, 29.7 * CM]
        pdf.save(out, static_id=True)
    page = page_of(out.getvalue())
    assert [line.text for line in page.lines] == ["on the page"]
    assert page.off_page == "beside the page"
