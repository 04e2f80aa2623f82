"""What the report says of a description whose headings are absent. Common practice, no source."""

from __future__ import annotations

import pytest

from preflight.reporting.build import inferred_parts
from preflight.testing import filing

PROSE = "The roller 12 turns on a shaft 14, and the hose runs over the roller 12 from the tap to the lawn."
FIGURES = "FIG. 1 is a side view of the roller.\nFIG. 2 is a front view of the roller."
CLAIMS = "1. A roller comprising a shaft.\n2. The roller of claim 1, wherein the shaft is hollow."
TITLE = "ROLLER FOR A GARDEN HOSE"


def said(*parts: str, **page: str) -> str:
    text = "\n".join((TITLE, *parts))
    return " | ".join(inferred_parts(filing({"papers": [{"pages": [{"text": text.split("\n"), **page}]}]})))


@pytest.mark.parametrize(
    ("parts", "told"),
    [
        (("BACKGROUND", PROSE, "DETAILED DESCRIPTION", PROSE, "CLAIMS", CLAIMS), ()),
        (("BACKGROUND", PROSE, FIGURES, PROSE), ("list of figures",)),
        (("BACKGROUND", PROSE, PROSE, CLAIMS), ("claims",)),
        ((PROSE, FIGURES, PROSE, CLAIMS), ("list of figures", "claims", "no heading that is known")),
        ((PROSE, PROSE), ("no heading that is known",)),
    ],
)
def test_what_no_heading_tells_is_said_for_the_person_to_see(parts, told):
    caution = said(*parts)
    assert all(word in caution for word in told)
    assert bool(caution) == bool(told)


def test_of_a_page_that_could_not_be_read_no_heading_is_missed():
    assert said(PROSE, unread="no text") == ""
