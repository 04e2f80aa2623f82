"""The seal proves what was checked: any change of it, or of the papers, shows."""

from __future__ import annotations

import datetime as dt
import hashlib
import io
import json
import tempfile
import unicodedata
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator, FormatChecker
from rich.console import Console

from preflight.bundle import digests_of, read_folder
from preflight.datafiles import DataMistakes, schema
from preflight.facts import Digests
from preflight.reporting.lines import Sheet
from preflight.reporting.report import Document, Report
from preflight.sent import (
    Differences,
    Seal,
    compare_with_seal,
    make_seal,
    refused,
    replaced,
    seal_from_json,
    seal_to_json,
    told,
)

REPORTS = Path(__file__).parents[1] / "reporting" / "reports"
NOW = dt.datetime(2026, 11, 26, 23, 40, tzinfo=dt.UTC)
NAMES = st.sampled_from(["a.pdf", "b.pdf", "c d.pdf", "claims.pdf"])
ON_DISK = settings(deadline=None, max_examples=50)
FOLDERS = st.dictionaries(NAMES, st.binary(max_size=40), min_size=1)


def report_named(name: str) -> Report:
    return msgspec.json.decode((REPORTS / f"{name}.json").read_bytes(), type=Report)


PASSED = report_named("clean_pass")


def report_on(files: Iterable[Digests]) -> Report:
    """A pass of these files."""
    documents = tuple(Document(one.file, one.sha256, one.bytes, "application/pdf", 1) for one in files)
    return msgspec.structs.replace(PASSED, documents=documents)


def digested(folder: Path) -> list[Digests]:
    return [digests_of(folder, entry.name) for entry in read_folder(folder).files]


def written(files: dict[str, bytes], into: str) -> Path:
    folder = Path(into)
    for name, content in files.items():
        (folder / name).write_bytes(content)
    return folder


def differences(before: dict[str, bytes], after: dict[str, bytes]) -> Differences:
    """Through the disk, for what is proven is proven about files."""
    with tempfile.TemporaryDirectory() as then, tempfile.TemporaryDirectory() as now:
        files = digested(written(before, then))
        seal = seal_from_json(seal_to_json(make_seal(report_on(files), files, None, (), NOW)))
        return compare_with_seal(seal, digested(written(after, now)))


def test_digests_are_those_of_the_standard(tmp_path):
    # FIPS 180-4 examples, "abc": SHA-1, SHA-256, SHA-512
    (tmp_path / "x").write_bytes(b"abc")
    made = digests_of(tmp_path, "x")
    assert made.sha1 == "a9993e364706816aba3e25717850c26c9cd0d89d"
    assert made.sha256 == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert made.sha512.startswith("ddaf35a193617abacc417349ae20413112e6fa4e89a97ea2")
    assert made.bytes == 3


def test_a_file_longer_than_a_piece_is_digested_whole(tmp_path):
    content = bytes(range(256)) * 5000
    (tmp_path / "x").write_bytes(content)
    assert digests_of(tmp_path, "x").sha512 == hashlib.sha512(content).hexdigest()


@ON_DISK
@given(FOLDERS)
def test_the_same_files_are_the_same(files):
    assert differences(files, files) == Differences()


@ON_DISK
@given(FOLDERS, st.data())
def test_any_single_byte_that_changes_in_any_file_is_named(files, data):
    name = data.draw(st.sampled_from(sorted(name for name in files if files[name]) or [""]))
    if not name:
        return
    at = data.draw(st.integers(0, len(files[name]) - 1))
    other = data.draw(st.integers(1, 255))
    content = bytearray(files[name])
    content[at] ^= other
    found = differences(files, files | {name: bytes(content)})
    same_as_another = bytes(content) in [c for n, c in files.items() if n != name]
    assert name in found.changed or same_as_another
    assert not found.same
    assert not found.missing
    assert not found.renamed


@ON_DISK
@given(FOLDERS, st.data())
def test_a_renamed_file_is_told_from_a_changed_one(files, data):
    name = data.draw(st.sampled_from(sorted(files)))
    after = {n: c for n, c in files.items() if n != name} | {"new name.pdf": files[name]}
    assert differences(files, after) == Differences(renamed=((name, "new name.pdf"),))


@ON_DISK
@given(FOLDERS, FOLDERS)
def test_every_file_then_and_now_is_accounted_for_once(before, after):
    found = differences(before, after)
    same = {name for name in before if after.get(name) == before[name]}
    then = Counter([*found.changed, *found.missing, *(a for a, _ in found.renamed), *same])
    now = Counter([*found.changed, *found.added, *(b for _, b in found.renamed), *same])
    assert then == Counter(before.keys())
    assert now == Counter(after.keys())
    assert all(before[a] == after[b] for a, b in found.renamed)
    assert found.same == (before == after)


def test_two_files_that_changed_names_with_each_other_are_renamed():
    found = differences({"a.pdf": b"1", "b.pdf": b"2"}, {"a.pdf": b"2", "b.pdf": b"1"})
    assert found == Differences(renamed=(("a.pdf", "b.pdf"), ("b.pdf", "a.pdf")))


def test_a_file_that_took_the_place_of_another():
    found = differences({"a.pdf": b"1", "b.pdf": b"2"}, {"b.pdf": b"1"})
    assert found == Differences(missing=("b.pdf",), renamed=(("a.pdf", "b.pdf"),))


def small() -> Seal:
    files = [Digests("a.pdf", 1, "0" * 64, "1" * 128, "2" * 40)]
    return make_seal(report_on(files), files, None, ("old",), NOW)


def test_a_file_that_cannot_be_read_is_never_the_same():
    assert compare_with_seal(small(), [], ["a.pdf"]).changed == ("a.pdf",)


def test_what_comes_in_beside_the_papers_is_told_and_so_is_the_declaration():
    found = compare_with_seal(small(), small().files, left_out=["old", "final"], declaration=small().files[0])
    assert (found.added, found.declaration, found.same) == (("final",), True, False)
    only = compare_with_seal(small(), small().files, left_out=["old"], declaration=small().files[0])
    assert only.same
    assert told(only, small()).endswith("filing.toml, which is not uploaded, has changed")


@given(st.data())
def test_a_seal_of_which_any_byte_was_changed_proves_nothing(data):
    raw = bytearray(seal_to_json(small()))
    at = data.draw(st.integers(0, len(raw) - 1))
    raw[at] ^= data.draw(st.integers(1, 255))
    with pytest.raises(DataMistakes):
        seal_from_json(bytes(raw))


@pytest.mark.parametrize("raw", [b"", b"{}", b"[" * 100_000, b"\xff", b"null", b'{"schema": "preflight-report/1"}'])
def test_what_is_no_seal_is_told(raw):
    with pytest.raises(DataMistakes, match="no seal of preflight"):
        seal_from_json(raw)


def test_a_seal_is_as_its_schema_says_and_the_schema_knows_every_key():
    validator = Draft202012Validator(schema("seal"), format_checker=FormatChecker())
    whole = report_named("everything")
    passed = msgspec.structs.replace(
        whole,
        verdict="pass",
        headline="PASS",
        documents=(),
        findings=tuple(f for f in whole.findings if f.signed_off),
    )
    seal = make_seal(passed, [], small().files[0], ("x",), NOW)
    data = json.loads(seal_to_json(seal))
    assert [error.message for error in validator.iter_errors(data)] == []
    assert data["signed_off"]
    assert data["answers"]
    assert data["open_questions"]
    assert set(data) == set(schema("seal")["properties"]) == set(schema("seal")["required"])


def test_only_what_passed_is_sealed():
    with pytest.raises(DataMistakes, match="only what passes is sealed"):
        make_seal(report_named("everything"), [], None, (), NOW)


def test_a_file_that_changed_while_it_was_checked_is_not_sealed():
    files = small().files
    with pytest.raises(DataMistakes, match=r"a\.pdf changed while it was checked"):
        make_seal(report_on(files), [msgspec.structs.replace(files[0], sha256="9" * 64)], None, (), NOW)
    with pytest.raises(DataMistakes, match=r"a\.pdf changed while it was checked"):
        make_seal(report_on(files), [], None, (), NOW)


@pytest.mark.hostile
@settings(deadline=None, max_examples=30)
@given(st.lists(st.text(st.characters(exclude_categories=()), min_size=1, max_size=20), min_size=4, max_size=4))
def test_names_and_words_of_papers_are_harmless_in_what_is_said_of_a_seal(words):
    names = sorted(set(words))
    found = Differences(tuple(names), tuple(names), tuple(names), tuple((a, a) for a in names), declaration=True)
    failed = report_named("everything")
    poisoned = [msgspec.structs.replace(f, message=word) for f, word in zip(failed.findings, words, strict=False)]
    page = io.StringIO()
    sheet = Sheet(Console(file=page, width=80, color_system=None, _environ={}))
    for line in (
        told(found, small()),
        replaced(found, small()),
        *refused(msgspec.structs.replace(failed, findings=tuple(poisoned)), words[0], small()),
    ):
        sheet.hang(line)
    steering = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
    assert not {c for c in page.getvalue() if c != "\n" and unicodedata.category(c) in steering}


def test_what_stands_in_the_way_of_a_seal_is_named_with_the_next_step():
    failed = report_named("everything")
    grave = [f for f in failed.findings if f.signed_off is None and f.consequence != "advice"]
    why, *named, following, signing = refused(failed, "DEMO-001")
    assert why == "not sealed, since only what passes is. In the way:"
    assert all(f"[finding {f.id}]" in line for f, line in zip(grave, named, strict=False))
    assert following == "next: mend the papers (each fix: preflight check DEMO-001), then seal again"
    assert signing.startswith("what may stay as it is: preflight sign DEMO-001 FINDING")
    only = tuple(f for f in grave if f.consequence == "refusal")
    assert "sign" not in list(refused(msgspec.structs.replace(failed, findings=only), "x"))[-1]


def test_one_line_says_it_all_and_names_are_harmless():
    seal = small()
    when = "what passed on 26 November 2026, 23:40 (UTC+00:00)"
    assert told(Differences(), seal) == f"SAME: the one file in the folder is {when}"
    found = Differences(("a\nb.pdf",), ("c.pdf", "d.pdf"), ("\u202ee.pdf",), (("f.pdf", "g  h.pdf"),))
    assert told(found, seal) == (
        f"NOT THE SAME as {when}: changed: a␊b.pdf; missing: c.pdf and d.pdf; "
        'added: \\u202ee.pdf; renamed: f.pdf to "g  h.pdf"'
    )
