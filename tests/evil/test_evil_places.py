"""Things in the folder that are no proper file, names made to mislead, and files that change while they are read."""

from __future__ import annotations

import contextlib
import datetime as dt
import os
import shutil
import socket
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from evil_files import EVIL
from evil_files.words import NASTY
from watched import check_of

from preflight import engine
from preflight.engine import Request, check_folder
from preflight.plugging import built_in, registry_of
from preflight.reading import read_files
from preflight.reporting import Report

PROPER = Path(__file__).parents[2] / "sample_bundles" / "proper"
NOON = dt.datetime(2026, 11, 25, 17, tzinfo=dt.UTC)
CANARY = "WORDS OF A FILE OUTSIDE"

pytestmark = [
    pytest.mark.hostile,
    pytest.mark.skipif(sys.platform == "win32", reason="there are no such files there"),
]


@pytest.fixture
def bundle(tmp_path: Path) -> Path:
    return Path(shutil.copytree(PROPER, tmp_path / "bundle"))


def test_what_is_no_proper_file_is_named_and_never_waited_for(bundle: Path, tmp_path: Path, draw_words) -> None:
    outside = tmp_path / "outside.pdf"
    outside.write_bytes(draw_words(CANARY))
    (bundle / "link.pdf").symlink_to(outside)
    (bundle / "etc.pdf").symlink_to("/etc/passwd")
    (bundle / "dangling.pdf").symlink_to(bundle / "nowhere.pdf")
    (bundle / "loop.pdf").symlink_to(bundle / "loop.pdf")
    (bundle / "zero.pdf").symlink_to("/dev/zero")
    (bundle / "folder.pdf").mkdir()
    shutil.copy(outside, bundle / "folder.pdf" / "inner.pdf")
    os.mkfifo(bundle / "pipe.pdf")
    with socket.socket(socket.AF_UNIX) as listener:
        with contextlib.chdir(bundle):  # such a path may have about a hundred bytes
            listener.bind("socket.pdf")
        with (bundle / "sparse.pdf").open("wb") as stream:
            stream.truncate(1_000_000_000_000)
        ended, report = check_of(bundle)
    told = {d["file"]: d["note"] for d in report["documents"]}
    assert told == {
        "cover.pdf": None,
        "drawings.pdf": None,
        "micro.pdf": None,
        "specification.pdf": None,
        "dangling.pdf": "it cannot be reached (No such file or directory)",
        "etc.pdf": "not looked at: a link out of the folder",
        "folder.pdf": "not looked at: a sub-folder",
        "link.pdf": "not looked at: a link out of the folder",
        "loop.pdf": "it cannot be reached (Too many levels of symbolic links)",
        "pipe.pdf": "not looked at: neither a file nor a folder",
        "socket.pdf": "not looked at: neither a file nor a folder",
        "sparse.pdf": "it is larger than 4 GB, more than this program reads",
        "zero.pdf": "not looked at: a link out of the folder",
    } | {name: note for name, note in told.items() if name == "README.md"}
    assert CANARY.encode() not in ended.stdout
    broken = {f["file"] for f in report["findings"] if f["requirement"] == "us.pdf.valid" and f["state"] == "broken"}
    assert broken == set(), "what the system does not let us read may be sound"


@pytest.fixture
def draw_words() -> Callable[[str], bytes]:
    def draw(words: str) -> bytes:
        from evil_files.raw import Paper  # noqa: PLC0415

        font = "/Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >>"
        return Paper(f"BT /F 12 Tf 99 700 Td ({words}) Tj ET".encode(), resources=font).bytes()

    return draw


def test_names_made_to_mislead_are_shown_as_they_are(bundle: Path, draw_words) -> None:
    named = [_fit(words) for words in NASTY.values()]
    data = draw_words("It is the name that matters.")
    for name in named:
        (bundle / name).write_bytes(data)
    (bundle / os.fsdecode(b"not\xff\xfeUTF-8\xc3.pdf")).write_bytes(data)
    (bundle / ("n" * 251 + ".pdf")).write_bytes(data)
    _, report = check_of(bundle)
    files = {d["file"] for d in report["documents"]}
    assert {*named} <= files
    unread = {d["file"]: d["note"] for d in report["documents"] if d["note"]}
    assert unread == {
        r"not\udcff\udcfeUTF-8\udcc3.pdf": "its name holds bytes that are no text; rename it and check again"
    }


def _fit(words: str) -> str:
    """The words as a file name: without what no file system takes, halves of characters replaced."""
    taken = words.replace("/", "").replace("\0", "")[:50]
    return f"{taken.encode('utf-8', 'replace').decode()}.pdf"


def _report(folder: Path, monkeypatch: pytest.MonkeyPatch, change: Callable[[Path], object]) -> Report:
    """The report of a folder in which something changes after it was listed and before it is read."""

    def late(*arguments, **more):
        change(folder)
        return read_files(*arguments, **more)

    monkeypatch.setattr(engine, "read_files", late)
    return check_folder(folder, Request(), now=NOON, registry=registry_of(built_in()))


def _unread(report: Report) -> str | None:
    """The file of which is not known whether it is valid."""
    (found,) = [f for f in report.findings if "us.pdf.valid" in (f.requirement, *f.covers)]
    assert (found.state, found.consequence) == ("unread", "notice")
    return found.file


def _grow(folder: Path) -> None:
    with (folder / "drawings.pdf").open("ab") as stream:
        stream.write(b"%more\n")


def _swap(folder: Path) -> None:
    (folder / "drawings.pdf").unlink()
    (folder / "drawings.pdf").symlink_to("/etc/passwd")


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        (_grow, "it was changed while it was being checked"),
        (_swap, "it was changed while it was being checked"),
        (lambda folder: (folder / "drawings.pdf").unlink(), "it could not be read (No such file or directory)"),
    ],
    ids=["it grows", "it becomes a link", "it goes"],
)
def test_a_file_that_changes_while_it_is_read_is_unread_and_not_refused(bundle, monkeypatch, change, reason) -> None:
    report = _report(bundle, monkeypatch, change)
    (document,) = [d for d in report.documents if d.file == "drawings.pdf"]
    assert (document.note, document.pages) == (reason, 0)
    assert _unread(report) == "drawings.pdf"
    assert report.verdict == "fail"


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="nothing is unreadable to the system's own user")
def test_a_file_without_permission_is_unread_and_not_called_empty(bundle, monkeypatch) -> None:
    (bundle / "drawings.pdf").chmod(0)
    report = _report(bundle, monkeypatch, lambda _: None)
    assert _unread(report) == "drawings.pdf"


def test_the_list_of_evil_files_is_whole() -> None:
    assert len(EVIL) >= 90
