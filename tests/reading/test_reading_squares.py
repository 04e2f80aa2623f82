"""Tick boxes that are drawn: found where they were drawn, and told empty from marked."""

from pathlib import Path

import pytest
from reportlab.lib.pagesizes import letter
from reportlab.pdfgen.canvas import Canvas

from preflight.bundle import read_folder
from preflight.facts import Square
from preflight.reading import read_files

CM = 72 / 2.54


def frames(folder: Path, draw: object) -> tuple[Square, ...]:
    canvas = Canvas(str(folder / "form.pdf"), pagesize=letter)
    draw(canvas)  # type: ignore[operator]
    canvas.save()
    (facts,) = read_files(folder, read_folder(folder).files)
    return facts.pages[0].squares


def box(canvas: Canvas, left: float, top: float, side: float) -> tuple[float, float, float]:
    """A square frame; its lower left corner and side in pt."""
    x, y, width = left * CM, letter[1] - (top + side) * CM, side * CM
    canvas.rect(x, y, width, width, stroke=1, fill=0)
    return x, y, width


@pytest.mark.parametrize("side", [0.3, 0.4, 0.6])
def test_an_empty_frame_and_one_with_a_cross(tmp_path: Path, side: float) -> None:
    def draw(canvas: Canvas) -> None:
        box(canvas, 2, 5, side)
        x, y, width = box(canvas, 2, 7, side)
        canvas.line(x, y, x + width, y + width)
        canvas.line(x, y + width, x + width, y)

    empty, marked = frames(tmp_path, draw)
    assert empty.box.left == pytest.approx(2, abs=0.04)
    assert empty.box.top == pytest.approx(5, abs=0.04)
    assert empty.filled == 0
    assert marked.filled > 0.15


def test_a_tick_that_stands_inside_without_touching(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        x, y, width = box(canvas, 2, 5, 0.5)
        canvas.lines([(x + 3, y + width / 2, x + 6, y + 3), (x + 6, y + 3, x + width - 3, y + width - 3)])

    (frame,) = frames(tmp_path, draw)
    assert frame.filled > 0.05


def test_letters_circles_and_large_boxes_are_no_tick_boxes(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica", 14)
        canvas.drawString(2 * CM, 20 * CM, "ODB 0 8 HERE [ ] (X) 12")
        canvas.circle(3 * CM, 15 * CM, 0.2 * CM)
        canvas.rect(2 * CM, 5 * CM, 3 * CM, 3 * CM)
        canvas.rect(8 * CM, 5 * CM, 3 * CM, 0.4 * CM)

    assert frames(tmp_path, draw) == ()
