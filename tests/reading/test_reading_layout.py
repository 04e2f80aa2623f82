"""Blocks: only for pages that look like a form, where they are displayed."""

from __future__ import annotations

import io

import pikepdf
import pytest

from preflight.reading import layout


def _form(canvas) -> None:
    for n, label in enumerate(("Title of invention:", "First inventor:", "Docket number:")):
        canvas.drawString(72, 700 - 80 * n, label)
        canvas.drawString(72, 684 - 80 * n, f"answer {n}")


def test_a_page_with_labels_has_blocks(draw, facts_of):
    (page,) = facts_of(draw(_form)).pages
    assert ("Title of invention:", "answer 0") in [block.lines for block in page.blocks]


def test_a_page_of_prose_has_none(draw, facts_of):
    (page,) = facts_of(draw(lambda c: c.drawString(72, 700, "The hinge is described: it turns."))).pages
    assert page.blocks == ()


def test_a_page_with_a_field_has_blocks(draw, facts_of):
    def paint(canvas) -> None:
        canvas.drawString(72, 700, "Title")
        canvas.acroForm.textfield(name="t", x=72, y=600, width=100, height=20)

    assert facts_of(draw(paint)).pages[0].blocks[0].lines == ("Title",)


@pytest.mark.parametrize("rotate", [0, 90, 180, 270])
def test_blocks_stand_where_the_lines_stand(draw, facts_of, rotate: int):
    with pikepdf.open(io.BytesIO(draw(_form))) as pdf:
        pdf.pages[0].MediaBox = pikepdf.Array([-20, -30, 600, 850])
        pdf.pages[0].CropBox = pikepdf.Array([10, 20, 580, 800])
        pdf.pages[0].Rotate = rotate
        out = io.BytesIO()
        pdf.save(out)
    (page,) = facts_of(out.getvalue()).pages
    words = {line.text: line for line in page.lines}
    assert page.blocks
    for block in page.blocks:
        for text in block.lines:
            if text in words:
                assert block.box.grown(0.15).touches(words[text].box)


def test_a_page_that_the_analysis_cannot_read_has_none(draw, facts_of, monkeypatch):
    def fail(*_: object, **__: object) -> None:
        raise RecursionError

    monkeypatch.setattr(layout.PDFPageInterpreter, "process_page", fail)
    facts = facts_of(draw(_form))
    assert facts.unread is None
    assert facts.pages[0].blocks_unread == "pdfminer could not lay it out (RecursionError)"
    assert facts.pages[0].blocks == ()


def test_pages_that_are_not_laid_out_in_time_say_so(draw, facts_of, monkeypatch):
    monkeypatch.setattr(layout, "SECONDS", -1.0)
    facts = facts_of(draw(_form, lambda c: c.drawString(72, 700, "Prose: it turns.")))
    assert facts.unread is None
    first, second = (page.blocks_unread for page in facts.pages)
    assert "took longer" in (first or "")
    assert second is None, "it looks like no form"
