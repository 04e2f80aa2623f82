"""Which places of a report become pictures, and that nothing else changes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

import msgspec
from hypothesis import given
from hypothesis import strategies as st

from preflight.facts import Box, Clipping, Cut, FileFacts, Page
from preflight.reporting.pictured import AROUND, MOST, MOST_BYTES, MOST_PAGES, MOST_PLACES, SMALL, with_pictures
from preflight.reporting.report import Finding, PagePicture, PaperRow, Place, Question, Report

SHEET = (21.59, 27.94)
EVERYTHING = msgspec.json.decode((Path(__file__).parent / "reports" / "everything.json").read_bytes(), type=Report)
FILES = [FileFacts("drawings.pdf", 9, "0" * 64, pages=tuple(Page(n, *SHEET) for n in range(1, 100)))]
Cuts = Mapping[str, Sequence[Cut]]


def clip(cuts: Cuts) -> dict[tuple[str, Cut], bytes]:
    """Whatever is asked for."""
    return {(file, cut): cut.form.encode() for file, some in cuts.items() for cut in some}


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


def shown(report: Report) -> list[tuple[str, int]]:
    return [(one.file, one.page) for one in report.page_pictures]


PAPERS = (PaperRow("drawings", 7, 9, "declared"), PaperRow("other", 10, 10, "declared"))
DRAWINGS = msgspec.structs.replace(EVERYTHING.documents[0], file="drawings.pdf", papers=PAPERS)
FEW = msgspec.structs.replace(EVERYTHING, documents=(DRAWINGS,), by_hand=())


def test_no_page_is_drawn_unless_pages_are_asked_for():
    assert with_pictures(with_places(FEW, [place()]), FILES, clip, "places").page_pictures == ()
    assert with_pictures(with_places(FEW, [place()]), FILES, clip, "none") == with_places(FEW, [place()])


def test_the_first_page_of_each_paper_then_the_pages_with_findings_each_once():
    found = with_places(
        FEW, [place(3), place(3, Box(1, 1, 2, 2)), place(7)], [place(2, None), place(1, file="other.pdf")]
    )
    made = with_pictures(found, FILES, clip, "findings")
    assert shown(made) == [("drawings.pdf", 7), ("drawings.pdf", 10), ("drawings.pdf", 3), ("drawings.pdf", 2)]
    assert made.page_pictures[0] == PagePicture("drawings.pdf", 7, *SHEET, b"webp")


def test_of_a_finding_on_many_pages_the_first_few():
    made = with_pictures(with_places(FEW, [place(page) for page in range(20, 60)]), FILES, clip, "findings")
    assert len(shown(made)) == len(PAPERS) + MOST_PLACES


def test_every_page_if_all_are_asked_for_and_never_more_than_a_page_can_hold():
    assert len(shown(with_pictures(with_places(FEW), FILES, clip, "all"))) == 99
    long = [FileFacts("drawings.pdf", 9, "0" * 64, pages=tuple(Page(n, *SHEET) for n in range(1, 2000)))]
    assert len(shown(with_pictures(with_places(FEW), long, clip, "all"))) == MOST_PAGES["all"]


def test_what_does_not_fit_is_left_out_and_what_is_smaller_still_comes():
    sizes = {7: 100, 10: MOST_BYTES["findings"], 3: 50}

    def large(cuts: Cuts) -> dict[tuple[str, Cut], bytes]:
        return {(f, cut): b"x" * sizes[cut.page] for f, some in cuts.items() for cut in some if cut.form == "webp"}

    made = with_pictures(with_places(FEW, [place(3)]), FILES, large, "findings")
    assert shown(made) == [("drawings.pdf", 7), ("drawings.pdf", 3)]


side = st.floats(-3, 30, allow_nan=False)


@given(st.lists(st.tuples(side, side, side, side), max_size=6))
def test_what_is_cut_lies_on_the_sheet_and_has_a_size(corners):
    boxes = [Box(min(a, c), min(b, d), max(a, c), max(b, d)) for a, b, c, d in corners]
    asked: list[Cut] = []

    def keep(cuts: Cuts) -> dict[tuple[str, Cut], bytes]:
        asked.extend(cut for some in cuts.values() for cut in some)
        return {}

    findings = [[place(box=box)] for box in boxes]
    with_pictures(with_places(EVERYTHING, *findings), FILES, keep)
    for cut in asked:
        assert 0 <= cut.box.left < cut.box.right <= SHEET[0]
        assert 0 <= cut.box.top < cut.box.bottom <= SHEET[1]
