"""Which places of a report become pictures, and that nothing else changes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

import msgspec
from hypothesis import given
from hypothesis import strategies as st

from preflight.facts import Box, Clipping, Cut, FileFacts, Page
from preflight.reporting.pictured import AROUND, MOST, MOST_PLACES, SMALL, with_pictures
from preflight.reporting.report import Finding, Place, Question, Report

SHEET = (21.59, 27.94)
EVERYTHING = msgspec.json.decode((Path(__file__).parent / "reports" / "everything.json").read_bytes(), type=Report)
FILES = [FileFacts("drawings.pdf", 9, "0" * 64, pages=tuple(Page(n, *SHEET) for n in range(1, 100)))]
Cuts = Mapping[str, Sequence[Cut]]


def clip(cuts: Cuts) -> dict[tuple[str, Cut], Clipping]:
    """Whatever is asked for."""
    return {(file, cut): Clipping(cut.page, cut.box, b"png") for file, some in cuts.items() for cut in some}


def with_places(report: Report, *findings: Sequence[Place]) -> Report:
    """A report with one finding for each group of places, and no questions."""
    model: Finding = report.findings[0]
    made = tuple(msgspec.structs.replace(model, id=str(n), places=tuple(places)) for n, places in enumerate(findings))
    return msgspec.structs.replace(report, findings=made, by_hand=())


def place(page: int | None = 1, box: Box | None = Box(10, 10, 11, 11), file: str = "drawings.pdf") -> Place:  # noqa: B008
    return Place(file, "0" * 64, "drawings", page, box)


def pictures(report: Report) -> list[Clipping | None]:
    return [one.picture for finding in report.findings for one in finding.places]


def test_a_small_place_is_shown_with_its_surroundings():
    made = with_pictures(with_places(EVERYTHING, [place()]), FILES, clip)
    assert pictures(made) == [Clipping(1, Box(10 - AROUND, 10 - AROUND, 11 + AROUND, 11 + AROUND), b"png")]


def test_a_large_place_a_page_a_paper_and_a_file_that_was_not_read_are_not():
    places = [place(box=Box(1, 1, 2 + SMALL, 2)), place(box=None), place(page=None, box=None), place(file="other.pdf")]
    assert pictures(with_pictures(with_places(EVERYTHING, places), FILES, clip)) == [None] * 4


def test_a_report_stays_small_however_much_is_found():
    many = [[place(page) for page in range(first, first + 9)] for first in range(1, 90, 9)]
    made = pictures(with_pictures(with_places(EVERYTHING, *many, *many, *many), FILES, clip))
    assert sum(one is not None for one in made[:9]) == MOST_PLACES
    assert 0 < len({one for one in made if one}) <= MOST


def test_a_question_shows_the_whole_page_that_it_asks_about():
    asked = Question("first", "us.x", ("us.x",), "Is it whole?", file="drawings.pdf", page=3)
    blind = Question("other", "us.y", ("us.y",), "Is it paid?")
    given_report = msgspec.structs.replace(EVERYTHING, findings=(), by_hand=(asked, blind))
    shown = with_pictures(given_report, FILES, clip).by_hand
    assert [question.picture for question in shown] == [Clipping(3, Box(0, 0, *SHEET), b"png"), None]


def test_a_picture_that_could_not_be_made_is_missing_and_nothing_else():
    plain = with_places(EVERYTHING, [place()])
    assert with_pictures(plain, FILES, lambda _: {}) == plain


side = st.floats(-3, 30, allow_nan=False)


@given(st.lists(st.tuples(side, side, side, side), max_size=6))
def test_what_is_cut_lies_on_the_sheet_and_has_a_size(corners):
    boxes = [Box(min(a, c), min(b, d), max(a, c), max(b, d)) for a, b, c, d in corners]
    asked: list[Cut] = []

    def keep(cuts: Cuts) -> dict[tuple[str, Cut], Clipping]:
        asked.extend(cut for some in cuts.values() for cut in some)
        return {}

    findings = [[place(box=box)] for box in boxes]
    with_pictures(with_places(EVERYTHING, *findings), FILES, keep)
    for cut in asked:
        assert 0 <= cut.box.left < cut.box.right <= SHEET[0]
        assert 0 <= cut.box.top < cut.box.bottom <= SHEET[1]
