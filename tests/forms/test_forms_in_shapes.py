"""Invented forms read in several shapes, against the truth that they were drawn from.

Two of them are read as scans, each in one test: the reader of pictures takes seconds a page. What befalls a scan
besides is read where the slow tests run.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest
from made_forms import DAMAGES, FORMS, made

from preflight.facts import Entry, FileFacts
from preflight.papers import BUILT_IN_ROLES, Declared, FormEntry, Paper, find_papers, form_table, signing
from preflight.reading import Limits
from preflight.reading.document import read
from preflight.reading.frames import Job
from preflight.reading.progress import Reading

ALL = [(name, shape) for name in FORMS for shape in ("fillable", "flattened", "boxed", "letter")]
ALL.remove(("small", "boxed"))
"""So few words in so many boxes look like a drawing, whose picture would be read for seconds."""


def facts(folder: Path, name: str, data: bytes) -> FileFacts:
    (folder / name).write_bytes(data)
    reading = Reading(Entry(name, len(data), hashlib.sha256(data).hexdigest()), Limits())
    for answer in read(Job(str(folder / name), reading.entry.sha256, Limits())):
        reading.take(answer)
    return reading.facts()


def paper_of(folder: Path, name: str, shape: str, damage: str = "", askew: float = 0.7, **other: str) -> Paper:
    file = facts(folder, f"{name}.pdf", made(FORMS[name], shape, damage=damage, askew=askew, **other))
    (paper,) = find_papers([file], BUILT_IN_ROLES, Declared(papers={file.name: FORMS[name].role}))
    return paper


def table(paper: Paper) -> dict[str, FormEntry]:
    return {entry.name: entry for entry in form_table(paper)}


@pytest.mark.parametrize(("name", "shape"), ALL)
def test_every_value_is_read_as_it_was_filled_in(name: str, shape: str, tmp_path: Path) -> None:
    found = table(paper_of(tmp_path, name, shape))
    assert {key: entry.text for key, entry in found.items()} == FORMS[name].truth
    assert all(entry.state == "value" and entry.sure and entry.page == 1 and entry.box for entry in found.values())


@pytest.mark.parametrize("shape", ["fillable", "flattened", "boxed", "letter"])
def test_places_left_empty_are_empty(shape: str, tmp_path: Path) -> None:
    found = table(paper_of(tmp_path, "cover", shape, docket_number="", pages=""))
    assert found["docket number"].state == "empty"
    assert found["pages"].state == "empty"
    assert found["sheets"].text == "3"


@pytest.mark.parametrize("shape", ["flattened", "letter"])
def test_no_signature_is_no_signature(shape: str, tmp_path: Path) -> None:
    paper = paper_of(tmp_path, "micro-income", shape, signature="")
    assert table(paper)["signature"].state == ("empty" if shape == "flattened" else "value")
    assert signing(paper).signed is False


def test_a_scanned_cover_sheet_says_surely_what_is_true_and_the_rest_is_asked(tmp_path: Path) -> None:
    _scanned_says_no_untruth(tmp_path, "cover", fewest=16)


def test_a_scanned_certification_says_surely_what_is_true_and_the_rest_is_asked(tmp_path: Path) -> None:
    _scanned_says_no_untruth(tmp_path, "micro-institution", fewest=6, damage="blurred")


@pytest.mark.slow
@pytest.mark.parametrize("damage", DAMAGES[1:])
@pytest.mark.parametrize(("name", "fewest"), [("cover", 11), ("micro-institution", 6)])
def test_a_bad_scan_says_less_and_no_untruth(name: str, fewest: int, damage: str, tmp_path: Path) -> None:
    _scanned_says_no_untruth(tmp_path, name, fewest, damage=damage, askew=-1.1)


def _scanned_says_no_untruth(folder: Path, name: str, fewest: int, damage: str = "", askew: float = 0.7) -> None:
    """`fewest`: so many values are to be sure, as counted when the test was written."""
    truth = {key: value.casefold() for key, value in FORMS[name].truth.items()}
    paper = paper_of(folder, name, "scanned", damage, askew)
    found = table(paper)
    sure = {key: entry.text.casefold() for key, entry in found.items() if entry.sure}
    assert sure == {key: truth[key] for key in sure}
    assert len(sure) >= fewest
    assert set(truth) <= set(found), "what is not sure is asked, not left out"
    assert all(entry.page == 1 and entry.box for entry in found.values()), "it is asked at its place"
    assert signing(paper).kind == "ink"
    assert signing(paper).signed is None
