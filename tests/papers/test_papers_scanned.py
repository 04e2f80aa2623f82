"""A scanned text paper as its picture seems to read: only as a whole, upright, its lines of one size."""

from __future__ import annotations

import math

import msgspec
import pytest

from preflight.facts import Box, Reading
from preflight.papers import as_read
from preflight.papers.specification.structure import specification
from preflight.testing import filing

TEXT = ["HOSE GUIDE", "FIELD", "Guides for hoses, in gardens and elsewhere, that swivel.", "BACKGROUND", "Hoses bend."]


def _paper(*pages: object, role: str = "specification"):
    return filing({"papers": [{"role": role, "pages": list(pages)}]})


def test_what_was_read_becomes_lines_and_the_page_no_longer_counts_as_a_scan():
    (paper,) = as_read(_paper({"writing": TEXT})).papers
    assert [line.text for line in paper.pages[0].lines] == TEXT
    assert paper.text_unread is None


def test_title_and_parts_are_found_in_it():
    found = specification(as_read(_paper({"writing": [{"text": TEXT[0], "at": [8.5, 2.6]}, *TEXT[1:]]})))
    assert found.title.value == "HOSE GUIDE"
    assert [section.part for section in found.sections if section.heading] == ["field", "background"]


def test_papers_of_characters_stay_as_they_are():
    assert as_read(_paper({"text": TEXT})) is None


def test_a_page_that_was_not_read_leaves_the_paper_unread():
    """What the rest seems to lack may stand there."""
    scan = {"pictures": [{"box": [0, 0, 21.59, 27.94]}]}
    assert as_read(_paper({"writing": TEXT}, scan)) is None


def test_a_page_that_is_hardly_legible_leaves_the_paper_unread():
    blurred = [*TEXT[1:], {"text": "H0s3 gvde", "mean": 0.5}]
    assert as_read(_paper({"writing": blurred})) is None


def test_a_last_page_with_a_few_lines_counts_though_it_was_read_like_a_drawing():
    last = {
        "pictures": [{"box": [0, 0, 21.59, 27.94]}],
        "readings": [{"text": "It ends here.", "box": [2.5, 2.5, 5, 3.1], "mean": 1, "lowest": 1}],
    }
    (paper,) = as_read(_paper({"writing": TEXT}, last)).papers
    assert [line.text for line in paper.pages[1].lines] == ["It ends here."]


def test_forms_are_left_to_what_reads_forms():
    assert as_read(_paper({"writing": TEXT}, role="cover-sheet")) is None


@pytest.mark.parametrize("skew", [-1.0, 0.6])
def test_lines_of_a_sheet_that_lies_askew_stand_upright(skew):
    """A box round a line askew is higher by what the line rises; the page is Letter, its lines 16 cm long."""
    made = _paper({"writing": TEXT})
    turn = math.radians(skew)
    middle = (21.59 / 2, 27.94 / 2)

    def tilted(number: int) -> Reading:
        across, down = 2.5 + 8 - middle[0], 3 + number - middle[1]
        x = middle[0] + across * math.cos(turn) - down * math.sin(turn)
        y = middle[1] + across * math.sin(turn) + down * math.cos(turn)
        high = 0.6 + 16 * abs(math.sin(turn))
        return Reading(f"line {number} of some text", Box(x - 8, y - high / 2, x + 8, y + high / 2), 0, 1.0, 1.0)

    (paper,) = made.papers
    page = msgspec.structs.replace(paper.pages[0], writing=tuple(map(tilted, range(20))), skew=skew)
    paper = msgspec.structs.replace(paper, pages=(page,))
    (read,) = as_read(msgspec.structs.replace(made, papers=(paper,))).papers
    for number, line in enumerate(read.pages[0].lines):
        assert line.box.left == pytest.approx(2.5, abs=0.02)
        assert line.box.middle[1] == pytest.approx(3 + number, abs=0.02)
    assert len({line.size for line in read.pages[0].lines}) == 1
