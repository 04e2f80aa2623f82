"""A folder of nothing but evil files, with a proper bundle among them: each is told, the proper ones in full."""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import zlib
from pathlib import Path

import pytest
from evil_files import EVIL, HEAVY, raw, write
from small_limits import LIMITS
from watched import check_of

from preflight.reading import Limits

CORPUS = Path(__file__).parents[3] / "shared" / "hostile_pdfs"
PROPER = Path(__file__).parents[2] / "sample_bundles" / "proper"
OVERSHOOT = 200
"""MB that a worker can gain between two looks of the parent, at most so much here."""
SOME_HEAVY = {"calculator-function-that-works-hard", "content-of-eight-gigabytes", "two-forms-show-each-other"}
"""One for each limit; the others are for a run by hand."""
BY_HAND = pytest.mark.skipif("PREFLIGHT_EVIL" not in os.environ, reason="takes minutes; run with PREFLIGHT_EVIL=all")

pytestmark = pytest.mark.hostile


def test_the_files_are_the_same_each_time_and_small():
    for name, maker in EVIL.items():
        data = maker()
        assert len(data) < 1_300_000, name
        assert hashlib.sha256(maker()).digest() == hashlib.sha256(data).digest(), name


@pytest.mark.slow
@pytest.mark.timeout(900)
@pytest.mark.skipif(not CORPUS.is_dir(), reason="the awkward PDFs are not beside this checkout")
def test_the_awkward_pdfs_as_one_folder_are_reported_whole():
    ended, report = check_of(CORPUS, program=("-m", "preflight"))
    assert {path.name for path in CORPUS.iterdir()} == {d["file"] for d in report["documents"]}
    assert all(d["note"] or d["pages"] for d in report["documents"] if d["file"].lower().endswith(".pdf"))
    assert ended.own < 250
    assert ended.child < Limits().memory


def test_a_bomb_holds_what_it_says():
    packed = raw.bomb(3 * raw.MEGABYTE, 0x41, layers=2, around=(b"head", b"tail"))
    assert zlib.decompress(zlib.decompress(packed)) == b"head" + b"A" * 3 * raw.MEGABYTE + b"tail"
    assert len(raw.bomb(8 * raw.GIGABYTE, layers=2)) < 100_000


@pytest.mark.slow
@pytest.mark.timeout(600)
@pytest.mark.parametrize(
    "names",
    [
        pytest.param([name for name in EVIL if name not in HEAVY or name in SOME_HEAVY], id="light"),
        pytest.param(list(EVIL), id="all", marks=BY_HAND),
    ],
)
def test_every_evil_file_is_told_and_the_others_are_reported_in_full(tmp_path: Path, names: list[str], record_property):
    folder = Path(shutil.copytree(PROPER, tmp_path / "bundle"))
    _, alone = check_of(folder)
    write(folder, names)
    ended, report = check_of(folder)
    told = {d["file"]: d for d in report["documents"]}
    for document in alone["documents"]:
        assert told[document["file"]] == document
    for name in names:
        assert told[f"{name}.pdf"]["note"] or told[f"{name}.pdf"]["pages"], name
    refused = {f["file"] for f in report["findings"] if f["requirement"] == "us.pdf.valid" and f["state"] == "broken"}
    ours = {file for file, d in told.items() if d["note"] and re.search("stopped|memory|at most", d["note"])}
    assert ours
    assert not ours & refused, "a limit of ours is no fault of the file"
    assert ended.own < 250
    assert ended.child < LIMITS.memory + OVERSHOOT
    record_property("seconds, MB of the parent, MB of a worker", (ended.seconds, ended.own, ended.child))
