"""The reader of drawings on real sheets of published patents, 1993 to 2014; truth written by eye before any reading."""

from __future__ import annotations

import msgspec
import pytest
from real_sheets import FOLDER, score, together, truths

from preflight.facts import Box, Page
from preflight.papers import Described, Mention, characters_on, match, views_on
from preflight.reading import images
from preflight.reading.images.looker import Looker
from preflight.reading.pages import Document, read_page

pytestmark = [
    pytest.mark.skipif(not truths(), reason="the real sheets are not beside this checkout"),
    pytest.mark.skipif(not images.installed(), reason="the reader of pictures is not installed"),
    pytest.mark.timeout(300),
    pytest.mark.xdist_group("real sheets"),  # they are read once
]
NOWHERE = Box(0.0, 0.0, 1.0, 1.0)


@pytest.fixture(scope="module")
def pages() -> dict[str, Page]:
    return {truth["file"]: _read((FOLDER / truth["file"]).read_bytes()) for truth in truths()}


def _read(data: bytes) -> Page:
    document = Document(data)
    try:
        page = read_page(document, 1, 1.0)
        readings = Looker(document).look(1, page.width, page.height).readings
    finally:
        document.close()
    return msgspec.structs.replace(page, lines=(), readings=readings)


def _description(texts: set[str]) -> Described:
    return Described(tuple(Mention(text, "part", "spec.pdf", "specification", 1, NOWHERE) for text in sorted(texts)))


def _neighbours(truth: dict) -> set[str]:
    """Characters of the other sheets of the document, and invented ones beside those that are drawn."""
    others = {c for other in truths() if other["document"] == truth["document"] for c in other["characters"]}
    return others | {c + end for c in truth["characters"] if c.isdigit() for end in "12"}


def test_each_sheet_is_found_to_need_a_look(pages):
    assert all(images.needs_a_look(page) for page in pages.values())


def test_characters_labels_sheet_numbers_and_directions(pages):
    """Floors of the task: recall .99, precision .97, every label, number and direction."""
    scores = [score(pages[truth["file"]], truth) for truth in truths()]
    whole = together(scores)
    assert whole.recall >= 0.99, whole.missed
    assert whole.precision >= 0.97, whole.wrong
    assert [truth["file"] for truth, one in zip(truths(), scores, strict=True) if not one.labels] == []
    assert [truth["file"] for truth, one in zip(truths(), scores, strict=True) if not one.number] == []
    assert [truth["file"] for truth, one in zip(truths(), scores, strict=True) if not one.direction] == []


def test_with_the_description_each_is_found_or_pointed_at_and_none_accused(pages):
    for truth in truths():
        wanted = set(truth["characters"])
        answers = match(characters_on(pages[truth["file"]]), _description(wanted | _neighbours(truth)))
        seen = {one.character.text for one in answers if one.answer == "found"}
        seen |= {name for one in answers for name in one.instead}
        assert wanted <= seen, truth["file"]
        assert [one.character.text for one in answers if one.answer == "not described"] == []


def test_a_character_that_the_description_leaves_out_never_passes_silently(pages):
    silent = []
    for truth in truths():
        drawn = characters_on(pages[truth["file"]])
        wanted = set(truth["characters"])
        for left_out in wanted & {one.text for one in drawn}:
            answers = match(drawn, _description((wanted | _neighbours(truth)) - {left_out}))
            if not any(one.character.text == left_out and one.answer != "found" for one in answers):
                silent.append((truth["file"], left_out))
    assert silent == []


def test_lines_views_and_edges_of_the_real_sheets_are_not_objected_to(pages):
    """They were printed by the office: lines of 0.25 mm and more, views apart, no dark edge, no JPEG."""
    for name, page in pages.items():
        assert page.usual_width > 0.02, name
        assert not views_on(page).touch, name
        assert page.dark_edges == (), name
        assert page.traces is None, name
