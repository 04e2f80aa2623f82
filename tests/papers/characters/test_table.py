"""The table of reference characters of whole filings."""

from __future__ import annotations

from preflight.papers import character_table
from preflight.testing.building import filing

TEXT = [
    "BRIEF DESCRIPTION OF THE DRAWINGS",
    "FIG. 1 is a view of a lock.",
    "FIG. 2 is another view.",
    "DETAILED DESCRIPTION",
    "FIG. 1 shows a lock 10 with a latch 18 and a spring 20.",
    "As FIG. 2 shows, latches 18 close the lock 10; FIG. 3 is not drawn.",
]


def sheet(label: str, *characters: str) -> dict:
    placed = [{"text": text, "at": [5.0 + 2 * n, 8.0]} for n, text in enumerate(characters)]
    return {"text": [*placed, {"text": label, "at": [9.0, 22.0], "size": 20}]}


def table(*sheets: dict, text: list[str] = TEXT):
    drawings = [{"role": "drawings", "pages": list(sheets)}] if sheets else []
    return character_table(filing({"papers": [{"pages": ["\n".join(text)]}, *drawings]}))


def row(found, character):
    return next(one for one in found.characters if one.character == character)


def test_names_with_their_number_and_the_first_place():
    latch = row(table(), "18")
    assert latch.names == (("latch", 1), ("latches", 1))
    assert (latch.first.file, latch.first.page) == ("specification.pdf", 1)


def test_where_it_is_used_and_drawn():
    found = table(sheet("FIG. 1", "10", "18"), sheet("FIG. 2", "18", "30"))
    assert row(found, "18").figures_in_text == ("FIG. 1", "FIG. 2", "FIG. 3")
    assert row(found, "18").figures_drawn == ("FIG. 1", "FIG. 2")
    assert row(found, "20").figures_drawn == ()
    assert (row(found, "30").names, row(found, "30").first) == ((), None)
    assert not any(one.doubtful for one in found.characters)


def test_figures_in_text_drawings_and_brief_description():
    found = table(sheet("FIG. 1", "10"), sheet("FIG. 2", "18"))
    assert [(one.label, one.described, one.drawn, one.brief) for one in found.figures] == [
        ("FIG. 1", True, True, True),
        ("FIG. 2", True, True, True),
        ("FIG. 3", True, False, False),
    ]


def test_two_views_on_a_sheet_with_their_labels_below():
    text = [
        {"text": "10", "at": [5.0, 5.0]},
        {"text": "FIG. 1", "at": [8.0, 10.0], "size": 20},
        {"text": "18", "at": [5.0, 12.0]},
        {"text": "FIG. 2", "at": [8.0, 22.0], "size": 20},
    ]
    found = table({"text": text})
    assert row(found, "10").figures_drawn == ("FIG. 1",)
    assert row(found, "18").figures_drawn == ("FIG. 2",)


def test_a_sheet_without_a_label_is_named_by_its_page():
    assert row(table({"text": ["10", "18"]}), "10").figures_drawn == ("sheet 1",)


def test_a_doubtful_reading_stays_doubtful():
    reading = {"text": "18", "box": [5.0, 8.0, 5.6, 8.4], "mean": 0.85, "lowest": 0.8}
    label = {"text": "FIG. 1", "box": [9.0, 22.0, 11.0, 22.6], "mean": 0.99, "lowest": 0.99}
    found = table({"readings": [reading, label], "marks": [[4.0, 4.0, 16.0, 23.0]]})
    assert (row(found, "18").figures_drawn, row(found, "18").doubtful) == (("FIG. 1",), True)


def test_a_sheet_that_was_not_read_leaves_open_what_it_shows():
    found = table({"readings_unread": "no engine is installed"})
    assert [(one.file, one.page, one.why) for one in found.unread] == [("drawings.pdf", 1, "no engine is installed")]
    assert {one.drawn for one in found.figures} == {None}
    assert row(found, "18").figures_in_text


def test_a_scanned_text_leaves_open_what_it_says():
    scan = {"pictures": [{"box": [0.0, 0.0, 21.59, 27.94]}], "ink": [2.6, 2.6, 19.0, 25.0]}
    papers = [{"pages": [scan]}, {"role": "drawings", "pages": [sheet("FIG. 1", "10")]}]
    found = character_table(filing({"papers": papers}))
    assert [one.role for one in found.unread] == ["specification"]
    assert row(found, "10").first is None


def test_parts_of_circuits_are_known_where_the_text_names_them():
    found = table(sheet("FIG. 1", "R1", "X9"), text=["A resistor R1 is shown in FIG. 1."])
    assert [(one.character, one.figures_drawn) for one in found.characters] == [("R1", ("FIG. 1",))]


def test_nothing_at_all():
    found = character_table(filing({"papers": []}))
    assert (found.characters, found.figures, found.free, found.drawings) == ((), (), (), False)


def test_what_only_the_picture_of_a_scan_says_is_marked():
    scan = filing({"papers": [{"pages": [{"writing": TEXT}]}, {"role": "drawings", "pages": [sheet("FIG. 1", "10")]}]})
    assert row(character_table(scan), "10").names == ()
    found = character_table(scan, from_pictures=True)
    assert (row(found, "10").names, row(found, "10").from_picture) == ((("lock", 2),), True)
    assert [one.why for one in found.unread] == ["it is a scan; what is told of it was read from its picture"]


def test_what_characters_of_the_file_say_is_not_marked():
    papers = {"papers": [{"pages": ["\n".join(TEXT)]}]}
    assert not any(one.from_picture for one in character_table(filing(papers), from_pictures=True).characters)
