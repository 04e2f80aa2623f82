"""The record: two pages or fewer whatever the report holds, all of it in print or counted, and read back by another
program."""

from __future__ import annotations

import io
import json
import re
import unicodedata
from pathlib import Path
from typing import Any

import msgspec
import pikepdf
import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from pdfminer.high_level import extract_text

from preflight.reporting.record import MOST_PAGES, to_record
from preflight.reporting.report import RECORD_CREATOR, Document, PaperRow, Report
from preflight.reporting.sheets_of_paper import Row, Section, drawn, row, wrapped

BUNDLES = Path(__file__).parents[1] / "bundles" / "golden"


def pages(made: bytes) -> int:
    with pikepdf.open(io.BytesIO(made)) as pdf:
        return len(pdf.pages)


def words(made: bytes) -> str:
    return " ".join(extract_text(io.BytesIO(made)).split())


def heavy(whole: Report, files: int, name: str, times: int) -> Report:
    documents = tuple(
        Document(f"{name}{n}.pdf", f"{n:064x}", 99, "application/pdf", 9, (PaperRow("drawings", 1, 9, ""),))
        for n in range(files)
    )
    findings = tuple(msgspec.structs.replace(f, id=f"{f.id}{n}") for n in range(times) for f in whole.findings)
    void = whole.void * times
    return msgspec.structs.replace(
        whole, documents=documents, findings=findings, void=void, by_hand=whole.by_hand * times
    )


def test_it_says_what_was_checked_by_what_and_what_was_accepted(report):
    whole = report("everything")
    said = words(to_record([whole]))
    off = next(f for f in whole.findings if f.signed_off)
    for part in (
        whole.headline,
        "folder: DEMO-001",
        "with: preflight 0.1.0",
        "edition of 25 November 2026",
        f"accepted by {off.signed_off.by} on 24 November 2026: {off.signed_off.reason}",
        *(f.id for f in whole.findings),
        *(d.sha256 for d in whole.documents if d.sha256),
        *(void.why for void in whole.void),
        "Looked at by (initials, date):",
        "Not legal advice.",
    ):
        assert part in said, part


def sample(name: str) -> Report:
    """The golden report of a sample bundle, with something in the place of what is masked there."""
    data = json.loads((BUNDLES / name).read_bytes().replace(b'"..."', b'"masked"'))
    data["created"] = "2026-11-25T23:40:00+00:00"
    for place in (*(p for f in data["findings"] for p in f["places"]), *data["by_hand"]):
        place["picture"] = None
    return msgspec.convert(data, Report)


@pytest.mark.parametrize("name", sorted(path.name for path in BUNDLES.glob("*.json")))
def test_of_an_ordinary_folder_nothing_is_cut_or_left_out(name):
    whole = sample(name)
    made = to_record([whole])
    said = words(made)
    assert pages(made) <= MOST_PAGES
    assert "left out here" not in said
    for finding in whole.findings:
        assert all(part in said for part in (finding.message, f"fix: {finding.fix}", finding.id))
    for part in (*(q.question for q in whole.by_hand), *whole.cautions):
        assert part in said


def test_what_was_found_stands_before_the_cautions_and_what_a_person_answers_on_a_page_of_its_own(report):
    whole = sample("hurried.json")
    first, second = extract_text(io.BytesIO(to_record([whole]))).split("\f")[:2]
    assert 0 < first.index("\nFindings\n") < first.index("\nFiles ") < first.index("\nCautions\n")
    assert second.startswith("Not yet answered\n")
    assert second.count("does not apply; initials, date:") == len(whole.by_hand)


@pytest.mark.parametrize("files", [0, 1, 40, 400])
@pytest.mark.parametrize("name", ["paper", "a name that goes on and on " * 9, "x" * 250])
def test_however_much_there_is_it_is_two_pages_and_what_is_left_out_is_counted(report, files, name):
    whole = heavy(report("everything"), files, name, 6)
    made = to_record([whole])
    said = words(made)
    assert pages(made) <= MOST_PAGES
    shown = len(set(re.findall(r"\b[0-9a-f]{64}\b", said)))
    left = sum(int(n) for n in re.findall(r"Files .*?and (\d+) more, left out here", said.split(" Cautions ")[0]))
    assert shown + left == files
    accepted = len(re.findall(r"accepted by", said))
    assert accepted >= 1
    assert "Looked at by (initials, date):" in said, "the end of the record is there too"


def test_forty_files_have_all_their_digests_in_an_ordinary_record(report):
    whole = heavy(report("clean_pass"), 40, "a name that goes on and on " * 9, 1)
    said = words(to_record([whole]))
    assert all(document.sha256 in said for document in whole.documents)


def test_each_office_has_pages_of_its_own(report):
    assert pages(to_record([report("clean_pass"), report("clean_pass")])) == 2 * pages(
        to_record([report("clean_pass")])
    )


def test_it_is_the_same_every_time_and_known_again_as_ours(report):
    made = to_record([report("everything")])
    assert made == to_record([report("everything")])
    assert f"/Creator ({RECORD_CREATOR})".encode() in made


def test_its_typefaces_are_inside_and_it_runs_nothing(report):
    with pikepdf.open(io.BytesIO(to_record([report("hostile_names")]))) as pdf:
        assert set(pdf.Root.keys()) <= {"/Type", "/Pages", "/Outlines", "/PageMode", "/Lang"}
        for page in pdf.pages:
            assert "/Annots" not in page
            used = page.Resources.Font.values()
            embedded = ["/FontFile2" in font.FontDescriptor for font in used if "/FontDescriptor" in font]
            assert embedded
            assert all(embedded)


@pytest.mark.hostile
def test_hostile_names_are_codes_that_can_be_read(report):
    said = words(to_record([report("hostile_names")]))
    assert r"\u202e" in said
    assert not {c for c in said if unicodedata.category(c) in {"Cc", "Cf", "Co", "Cn"}}


@pytest.mark.hostile
@settings(deadline=None, max_examples=60, phases=[Phase.generate])
@given(st.text(max_size=300) | st.text("ab ", max_size=600), st.integers(1, 3), st.floats(60, 500))
def test_wrapped_text_fits_and_loses_nothing_that_is_not_marked(text, most, room):
    lines = wrapped(text, 8, room, most)
    assert 1 <= len(lines) <= most
    joined = "".join("".join(lines).split())
    whole = "".join("".join(wrapped(text, 8, 1e9, 1)).split())
    assert joined == whole or "..." in joined


def test_a_text_of_a_megabyte_is_no_matter():
    assert len(row("long \x1b[31m " * 100_000).lines) == 3


@given(st.lists(st.integers(0, 200), min_size=1, max_size=6), st.integers(1, 3))
@settings(deadline=None, max_examples=20, suppress_health_check=[HealthCheck.too_slow], phases=[Phase.generate])
def test_no_more_pages_than_asked_for(numbers: list[int], most: int):
    one: Any = row("word")
    sections = [Section("title", (one,) * number, keep=1) for number in numbers]
    made = drawn(sections, most)
    assert len(made) <= most
    shown = sum(isinstance(r, Row) and r == one for page in made for r in page)
    left = sum(int(m[1]) for page in made for r in page if (m := re.match(r"and (\d+) more", r.lines[0].text)))
    assert shown + left == sum(numbers)
