"""A word processor's file against the PDF that LibreOffice 7.4 made of it.

The pair holds what exporting changes: automatic paragraph and claim numbers, header and footer, a reference that was
out of date, raised and lowered figures, a formula, a symbol, a table, a note, a non-breaking and many soft hyphens,
hidden text. One tracked deletion is printed, struck out: the one difference.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import io
import shutil
import zipfile
from pathlib import Path

import docx
import pytest

from preflight.facts import Entry
from preflight.papers import BUILT_IN_ROLES, Declared, Filing, find_papers
from preflight.papers.sources.belonging import Sourced, sourced
from preflight.reading.document import read
from preflight.reading.frames import Job
from preflight.reading.limits import Limits
from preflight.reading.progress import Reading

PAIRS = Path(__file__).parent / "pairs"
STRUCK = ("... seat 16 is always never wet. It is made ...", "... seat 16 is always wet. It is made ...")


def _facts(path: Path):
    data = path.read_bytes()
    reading = Reading(Entry(path.name, len(data), hashlib.sha256(data).hexdigest()), Limits())
    for answer in read(Job(str(path))):
        reading.take(answer)
    return reading.facts()


@pytest.fixture(scope="module")
def printed():
    return _facts(PAIRS / "valve.pdf")


def _compared(printed, *sources: Path) -> tuple[Sourced, ...]:
    files = (*(_facts(source) for source in sources), printed)
    papers = find_papers(files, BUILT_IN_ROLES, Declared())
    today = dt.date(2026, 11, 26)
    return sourced(Filing("us", "provisional", (), files, papers, today, today))


def _edited(tmp_path: Path, *edits: tuple[str, str]) -> Path:
    """The file after an edit of its XML."""
    out = tmp_path / "valve.docx"
    with zipfile.ZipFile(PAIRS / "valve.docx") as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            text = old.read(name).decode()
            for was, becomes in edits if name == "word/document.xml" else ():
                assert was in text, was
                text = text.replace(was, becomes, 1)
            new.writestr(name, text)
    return out


@pytest.mark.parametrize("name", ["valve.docx", "valve.odt"])
def test_exporting_alone_makes_no_difference(printed, name: str):
    (one,) = _compared(printed, PAIRS / name)
    assert [paper.role for paper in one.papers] == ["specification", "claims", "abstract"]
    assert [
        (d.printed, d.written.replace("always wet. This is a", "always wet. It is made")) for d in one.differences
    ] == [STRUCK]


EDITS = {
    "a word": ((" body 12 of steel", " body 12 of brass"), "12 of steel and", "12 of brass and"),
    "a number": (("hinge 27", "hinge 72"), "hinge 27 turns", "hinge 72 turns"),
    "a word more": (("wherein the seat is made", "wherein the seat is not made"), "seat is made", "seat is not made"),
    "a word less in a cell": (("brass, cast and then", "brass, and then"), "cast", ""),
    "a sentence at the end": (
        ("when the water fails.", "when the water fails. It is small."),
        "water fails.",
        "It is small.",
    ),
}


@pytest.mark.parametrize(("edit", "printed_words", "written_words"), EDITS.values(), ids=EDITS.keys())
def test_an_edit_after_the_export_is_shown_side_by_side(printed, tmp_path, edit, printed_words, written_words):
    (one,) = _compared(printed, _edited(tmp_path, edit))
    (found,) = [d for d in one.differences if (d.printed, d.written) != STRUCK]
    assert printed_words in found.printed
    assert written_words in found.written
    assert found.spot.file == "valve.pdf"


def test_a_paragraph_more_is_one_difference(printed, tmp_path):
    new = (
        "</w:t></w:r></w:p><w:p><w:r><w:t>A further spring 34 lies below the seat 16.</w:t></w:r></w:p><w:p><w:r><w:t>"
    )
    (one,) = _compared(printed, _edited(tmp_path, ("The footnote follows", f"{new}The footnote follows")))
    (found,) = [d for d in one.differences if (d.printed, d.written) != STRUCK]
    assert "A further spring 34 lies below the seat 16." in found.written


def test_the_file_that_was_saved_last_counts(printed, tmp_path):
    """An older draft lies beside the file that the PDF was made from."""
    draft = _edited(tmp_path, (" body 12 of steel", " body 12 of brass")).rename(tmp_path / "valve_draft.docx")
    (one,) = _compared(printed, draft, PAIRS / "valve.docx")
    assert one.source.name == "valve.docx"


def test_a_file_of_another_matter_belongs_to_no_paper(printed, tmp_path):
    letter = docx.Document()
    for _ in range(20):
        letter.add_paragraph("Thank you for choosing us. This letter sets out the terms on which we work for you.")
    letter.save(tmp_path / "letter.docx")
    assert _compared(printed, tmp_path / "letter.docx") == ()


def test_claims_in_a_file_of_their_own_are_compared_with_the_claims_only(printed, tmp_path):
    claims = docx.Document()
    for text in (
        "A valve comprising a body and a spring.",
        "The valve of claim 1, wherein the spring is wound to the left.",
        "The valve of claim 2, wherein the seat is made of rubber.",
    ):
        claims.add_paragraph(text, style="List Number")
    claims.save(tmp_path / "claims.docx")
    shutil.copy(PAIRS / "valve.docx", tmp_path / "valve.docx")
    (one,) = _compared(printed, tmp_path / "claims.docx")
    assert [paper.role for paper in one.papers] == ["claims"]
    assert one.differences == ()


def test_the_pair_is_what_it_says():
    assert zipfile.ZipFile(io.BytesIO((PAIRS / "valve.docx").read_bytes())).testzip() is None
