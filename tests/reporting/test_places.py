"""Where a finding shows: short, and enough to go there."""

from __future__ import annotations

import msgspec
import pytest

from preflight.facts import Box
from preflight.reporting.places import WHOLE_FOLDER, where
from preflight.reporting.report import Document, PaperRow, Place

DIGIT = Box(4.5, 10.2, 4.9, 10.6)
PAGE = Box(0.5, 0.5, 20.0, 29.0)
MIXED = (
    Document("all.pdf", "", 1, "application/pdf", 9, (PaperRow("claims", 1, 2, ""), PaperRow("drawings", 3, 9, ""))),
)


@pytest.fixture
def said(report):
    """The places in words, of a finding that shows at these places."""
    any_finding = report("everything").findings[0]

    def words(*places: Place, documents=()) -> list[str]:
        return where(msgspec.structs.replace(any_finding, file=None, places=places), documents)

    return words


def at(page: int | None = None, box: Box | None = None, file: str = "drawings.pdf", role: str | None = None) -> Place:
    return Place(file, "", role, page, box)


def test_without_a_place_it_is_the_folder(said):
    assert said() == [WHOLE_FOLDER]


def test_a_file_alone(said):
    assert said(at()) == ["drawings.pdf"]


def test_a_small_thing_is_found_with_a_ruler(said):
    assert said(at(3, DIGIT)) == ["drawings.pdf, page 3, 10.2 cm from the top and 4.5 cm from the left"]


def test_of_a_long_line_its_height_is_told(said):
    assert said(at(3, Box(2.5, 8.1, 19.0, 8.5))) == ["drawings.pdf, page 3, 8.1 cm from the top"]


def test_a_box_of_the_whole_page_says_nothing_more_than_the_page(said):
    assert said(at(3, PAGE)) == ["drawings.pdf, page 3"]


def test_pages_are_gathered_whatever_their_order(said):
    assert said(at(7), at(2), at(4), at(3)) == ["drawings.pdf, pages 2 to 4 and 7"]


def test_several_things_on_a_page_are_counted(said):
    others = [Box(n, 1, n + 1, 2) for n in range(3)]
    assert said(*(at(2, box) for box in others)) == ["drawings.pdf, page 2 (3 places)"]


def test_a_line_for_each_file(said):
    assert said(at(1), at(2, file="claims.pdf"), at(5)) == ["drawings.pdf, pages 1 and 5", "claims.pdf, page 2"]


def test_the_paper_is_named_where_a_file_holds_several(said):
    places = at(1, file="all.pdf", role="claims"), at(2, file="all.pdf", role="claims")
    assert said(*places, documents=MIXED) == ["all.pdf, pages 1 to 2 (claims)"]


def test_more_than_twelve_pages_are_counted(said):
    odd = [at(page) for page in range(1, 61, 2)]
    assert said(*odd) == ["drawings.pdf, pages 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21, 23 and 18 more"]


def test_a_long_run_of_pages_is_short_and_stays_whole(said):
    assert said(*(at(page) for page in range(1, 61))) == ["drawings.pdf, pages 1 to 60"]


def test_more_than_twelve_files_are_counted(said):
    lines = said(*(at(1, file=f"{n:02}.pdf") for n in range(1, 43)))
    assert len(lines) == 13
    assert lines[-1] == "and 30 more files"


def test_a_finding_without_places_uses_its_own(report):
    finding = msgspec.structs.replace(report("everything").findings[0], places=(), file="a.pdf", page=2, box_cm=None)
    assert where(finding, ()) == ["a.pdf, page 2"]
