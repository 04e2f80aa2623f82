"""Numbers of a sheet that are no reference characters must not accuse: 37 CFR 1.84(p)(5) speaks of characters only.

Each sheet has a view with named characters on lead lines, one that the description forgot, and data of one kind.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from reportlab.pdfgen.canvas import Canvas

from preflight.facts import PT_PER_CM, Box
from preflight.papers import Described, Matched, Mention, characters_on, match, numbers_on

CM = PT_PER_CM
NAMED, FORGOTTEN = ("10", "12", "14", "16", "18", "20"), "38"
NOWHERE = Box(0.0, 0.0, 1.0, 1.0)
Kind = Callable[[Canvas], None]


def _view(canvas: Canvas) -> None:
    """A part with bores, each with its character on a lead line, in the upper half of A4."""
    canvas.setFont("Helvetica", 14)
    canvas.setLineWidth(1.1)
    canvas.rect(6 * CM, 17 * CM, 9 * CM, 7 * CM)
    for i, name in enumerate((*NAMED, FORGOTTEN)):
        right, high = i % 2, 17.5 + i * 0.93
        across = 7.5 + 0.9 * i
        canvas.circle(across * CM, high * CM, 0.25 * CM)
        end = 16.2 if right else 4.8
        canvas.line((across + (0.25 if right else -0.25)) * CM, high * CM, end * CM, (high + 0.3) * CM)
        place = (end + 0.12) * CM if right else (end - 0.65) * CM
        canvas.drawString(place, (high + 0.15) * CM, name)
    canvas.drawCentredString(10.5 * CM, 15.6 * CM, "FIG. 1")


def screen(canvas: Canvas) -> None:
    """A picture of a screen: a list of calls with counts and times."""
    canvas.rect(5 * CM, 4 * CM, 11 * CM, 9 * CM)
    canvas.setFont("Helvetica", 10)
    for row, (name, count, time, size) in enumerate(
        (
            ("Inbox", "128", "09:41", "42"),
            ("Drafts", "7", "10:05", "311"),
            ("Sent", "954", "23:40", "88"),
            ("All", "61", "08:00", "17"),
        )
    ):
        for column, text in enumerate((name, count, time, size)):
            canvas.drawString((5.6 + 2.7 * column) * CM, (11.5 - 1.6 * row) * CM, text)


def axes(canvas: Canvas) -> None:
    """A diagram with a linear and a logarithmic axis."""
    canvas.lines([(5 * CM, 4 * CM, 16 * CM, 4 * CM), (5 * CM, 4 * CM, 5 * CM, 13 * CM)])
    canvas.setFont("Helvetica", 14)
    for n in range(6):
        canvas.line((5 + 2 * n) * CM, 4 * CM, (5 + 2 * n) * CM, 4.2 * CM)
        canvas.drawCentredString((5 + 2 * n) * CM, 3.2 * CM, str(25 * n))
    for n in range(4):
        canvas.line(5 * CM, (4 + 2.5 * n) * CM, 5.2 * CM, (4 + 2.5 * n) * CM)
        canvas.drawRightString(4.7 * CM, (3.8 + 2.5 * n) * CM, str(10**n))


def dimensions(canvas: Canvas) -> None:
    """Dimension lines with arrow heads, the number in the line or above it."""
    canvas.setFont("Helvetica", 14)
    canvas.setLineWidth(0.6)
    for down, number, above in ((11, "120", False), (8.5, "45", True), (6, "84", False)):
        left, right, middle = 5 * CM, 15 * CM, 10 * CM
        gap = 0 if above else 0.6 * CM
        canvas.lines([(left, down * CM, middle - gap, down * CM), (middle + gap, down * CM, right, down * CM)])
        for end, way in ((left, 1), (right, -1)):
            canvas.lines([(end, down * CM, end + way * 0.3 * CM, (down + s) * CM) for s in (0.1, -0.1)])
            canvas.line(end, (down - 0.5) * CM, end, (down + 0.5) * CM)
        canvas.drawCentredString(middle, (down + (0.12 if above else -0.17)) * CM, number)


def dates(canvas: Canvas) -> None:
    """A calendar and dates."""
    canvas.setFont("Helvetica", 14)
    for n in range(14):
        canvas.drawCentredString((5 + n % 7 * 1.5) * CM, (10 - n // 7 * 1.5) * CM, str(n + 21))
    canvas.drawString(5 * CM, 12 * CM, "12 March 2024   07/25/24   2024-07-25")


def formulas(canvas: Canvas) -> None:
    """Formulas that a view shows."""
    canvas.setFont("Helvetica", 14)
    for row, text in enumerate(("y = 3x + 12", "F = 22 + 7t", "a / 36 = b", "E > 45 J")):
        canvas.drawString(6 * CM, (11 - 1.5 * row) * CM, text)


def listing(canvas: Canvas) -> None:
    """A program with numbered lines."""
    canvas.setFont("Courier", 12)
    code = ("LET A = 5", "FOR I = 1 TO 9", "PRINT A", "NEXT I", "GOTO 110", "END")
    for row, text in enumerate(code):
        canvas.drawString(5 * CM, (12 - row) * CM, f"{100 + 10 * row} {text}")


def table(canvas: Canvas) -> None:
    """A ruled table of counts."""
    canvas.setFont("Helvetica", 14)
    canvas.setLineWidth(0.8)
    canvas.grid([5 * CM, 8 * CM, 11 * CM, 14 * CM], [4 * CM, 6 * CM, 8 * CM, 10 * CM, 12 * CM])
    for n, value in enumerate((31, 77, 402, 58, 93, 610, 44, 82, 39, 65, 71, 207)):
        canvas.drawCentredString((6.5 + n % 3 * 3) * CM, (4.8 + n // 3 * 2) * CM, str(value))


def bars(canvas: Canvas) -> None:
    """A bar graph with its values above the bars."""
    canvas.setFont("Helvetica", 14)
    for n, value in enumerate((31, 77, 52, 93)):
        canvas.rect((5 + 2.5 * n) * CM, 4 * CM, 1.5 * CM, value / 15 * CM)
        canvas.drawCentredString((5.75 + 2.5 * n) * CM, (4.15 + value / 15) * CM, str(value))


def telephone(canvas: Canvas) -> None:
    """The screen of a telephone: framed rows of a day and a count, a heading with a number."""
    canvas.setFont("Helvetica", 14)
    canvas.rect(5 * CM, 3.5 * CM, 8 * CM, 10 * CM)
    canvas.drawCentredString(9 * CM, 12.2 * CM, "Week 42")
    for row, (day, count) in enumerate((("Mon 3", "1"), ("Tue 4", "2"), ("Wed 5", "0"), ("Left", "50"))):
        canvas.rect(5.8 * CM, (10.4 - 1.6 * row) * CM, 6.4 * CM, 1.2 * CM)
        canvas.drawString(6.6 * CM, (10.8 - 1.6 * row) * CM, day)
        canvas.drawString(10.8 * CM, (10.8 - 1.6 * row) * CM, count)


def circuit(canvas: Canvas) -> None:
    """Parts with their values, a chip with its pins, a bus of eight lines."""
    canvas.setFont("Helvetica", 14)
    for at, (name, value) in enumerate((("R1", "10k"), ("C1", "100n"), ("C2", "22u"))):
        canvas.rect((4 + 3.4 * at) * CM, 10 * CM, 0.5 * CM, 1.4 * CM)
        canvas.line((4.25 + 3.4 * at) * CM, 9 * CM, (4.25 + 3.4 * at) * CM, 10 * CM)
        canvas.drawString((4.8 + 3.4 * at) * CM, 11 * CM, name)
        canvas.drawString((4.8 + 3.4 * at) * CM, 10.3 * CM, value)
    canvas.rect(6 * CM, 4 * CM, 4 * CM, 4 * CM)
    for pin in range(6):
        side, row = divmod(pin, 3)
        canvas.drawCentredString((6.5 + 3 * side) * CM, (7 - 1.2 * row) * CM, str(pin + 1))
    canvas.line(10 * CM, 5 * CM, 14 * CM, 5 * CM)
    canvas.line(11.8 * CM, 4.7 * CM, 12.2 * CM, 5.3 * CM)
    canvas.drawCentredString(12.2 * CM, 5.5 * CM, "8")


def chemistry(canvas: Canvas) -> None:
    """A ring with numbered atoms, and what stands over the arrow of a reaction."""
    canvas.setFont("Helvetica", 14)
    for n, (x, y) in enumerate(((0, 1.6), (1.4, 0.8), (1.4, -0.8), (0, -1.6), (-1.4, -0.8), (-1.4, 0.8))):
        canvas.drawCentredString((7 + 1.3 * x) * CM, (9 + 1.3 * y) * CM, str(n + 1))
        canvas.line((7 + x) * CM, (9 + y) * CM, (7 + 0.9 * x) * CM, (9 + 0.9 * y) * CM)
    canvas.drawCentredString(12.5 * CM, 9.4 * CM, "80 \u00b0C, 2 h")
    canvas.line(11 * CM, 9 * CM, 14 * CM, 9 * CM)


def upright_dimensions(canvas: Canvas) -> None:
    """Dimension lines that run down, with level numbers in them, near and far from the line."""
    canvas.setFont("Helvetica", 14)
    for across, number, gap in ((6, "45", 0.45), (10, "120", 0.6), (14, "84", 0.8)):
        canvas.line(across * CM, 4 * CM, across * CM, (8 - gap) * CM)
        canvas.line(across * CM, (8 + gap) * CM, across * CM, 12 * CM)
        canvas.drawCentredString(across * CM, 7.83 * CM, number)


def cutting_line(canvas: Canvas) -> None:
    """Where a section is cut: the number of its view at both ends, on arrows."""
    canvas.setFont("Helvetica", 14)
    for across in (6, 13):
        canvas.line(across * CM, 8 * CM, across * CM, 9 * CM)
        canvas.drawCentredString((across - 0.4) * CM, 8.7 * CM, "2")
    canvas.setDash(12, 4)
    canvas.line(6 * CM, 8 * CM, 13 * CM, 8 * CM)


KINDS = (
    *(screen, axes, dimensions, dates, formulas, listing, table, bars),
    *(telephone, circuit, chemistry, upright_dimensions, cutting_line),
)


def _answers(kind: Kind, draw, page_of) -> tuple[Matched, ...]:
    page = page_of(draw(lambda canvas: (_view(canvas), kind(canvas))))
    mentions = tuple(Mention(name, "part", "spec.pdf", "specification", 1, NOWHERE) for name in NAMED)
    return match(characters_on(page), Described(mentions), numbers_on(page))


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_data_never_accuse_and_what_the_text_forgot_does(kind: Kind, draw, page_of) -> None:
    answers = _answers(kind, draw, page_of)
    assert {one.character.text for one in answers if one.answer == "found"} >= set(NAMED)
    assert [one.character.text for one in answers if one.answer == "not described"] == [FORGOTTEN]


def test_lead_lines_are_seen_and_numbers_without_have_none(draw, page_of) -> None:
    """37 CFR 1.84(q): each character has a lead line, or is underlined where it stands on its part."""

    def more(canvas: Canvas) -> None:
        _view(canvas)
        canvas.drawString(6 * CM, 8 * CM, "52")
        canvas.line(5.95 * CM, 7.9 * CM, 6.6 * CM, 7.9 * CM)
        canvas.drawString(12 * CM, 8 * CM, "54")

    led = {one.text: one.led for one in characters_on(page_of(draw(more)))}
    assert led == {**dict.fromkeys((*NAMED, FORGOTTEN, "52"), True), "54": False}


def test_parts_of_one_number_in_a_column_are_no_scale(draw, page_of) -> None:
    """78a to 78e stand under each other, and the text stops at 78d: 37 CFR 1.84(p)(5)."""

    def column(canvas: Canvas) -> None:
        _view(canvas)
        for n, letter in enumerate("abcde"):
            canvas.rect(6 * CM, (12 - 1.6 * n) * CM, 4 * CM, 1 * CM)
            canvas.line(10 * CM, (12.5 - 1.6 * n) * CM, 11.4 * CM, (12.7 - 1.6 * n) * CM)
            canvas.drawString(11.5 * CM, (12.6 - 1.6 * n) * CM, f"78{letter}")

    page = page_of(draw(column))
    named = (*NAMED, FORGOTTEN, *(f"78{letter}" for letter in "abcd"))
    mentions = tuple(Mention(name, "part", "spec.pdf", "specification", 1, NOWHERE) for name in named)
    answers = match(characters_on(page), Described(mentions), numbers_on(page))
    assert [one.character.text for one in answers if one.answer != "found"] == ["78e"]
    assert [one.character.text for one in answers if one.answer == "not described"] == ["78e"]
