"""What needs too much is unread by a limit of ours, in plain words; and no file makes a reader reach out."""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from evil_files import write
from watched import ROOT, SMALL

from preflight.facts import Entry, FileFacts
from preflight.reading import Limits, read_files
from preflight.reading.workers import read_all

DOUBLES = ROOT / "tests" / "reading" / "doubles"
SMALL_MEMORY = Limits(seconds=30, page_seconds=15, memory=400, restarts=1)
REACHING = (
    *("reaches-out", "metadata-that-multiplies", "nasty-words-in-utf-16", "outlines-names-and-structure-in-circles"),
    *("font-programs-of-noise", "type1-that-breaks-off", "composite-font-made-of-itself"),
)

pytestmark = pytest.mark.hostile


def _entries(folder: Path) -> list[Entry]:
    paths = sorted(folder.iterdir())
    return [Entry(p.name, p.stat().st_size, hashlib.sha256(p.read_bytes()).hexdigest()) for p in paths]


def _facts_of(folder: Path, name: str) -> FileFacts:
    write(folder, [name])
    (facts,) = read_files(folder, _entries(folder), limits=SMALL_MEMORY, workers=1)
    return facts


TOO_MUCH = re.compile(
    r"reading it needed more than 400 MB of memory and was stopped|reading it needs more memory than is allowed"
)


@pytest.mark.parametrize("name", ["content-of-eight-gigabytes", "object-stream-of-eight-gigabytes"])
def test_a_bomb_that_the_structure_needs_makes_the_file_unread_by_our_limit(tmp_path: Path, name: str) -> None:
    facts = _facts_of(tmp_path, name)
    assert TOO_MUCH.fullmatch(facts.unread or "")
    assert facts.reader_failed


def test_a_bomb_that_only_a_page_shows_costs_that_page(tmp_path: Path) -> None:
    facts = _facts_of(tmp_path, "font-metadata-and-profile-of-gigabytes")
    assert facts.unread is None
    assert all(TOO_MUCH.fullmatch(page.unread or "") for page in facts.pages)


@pytest.mark.parametrize(
    "name", ["image-of-eight-gigabytes", "small-image-of-eight-gigabytes", "attachment-and-script-of-eight-gigabytes"]
)
def test_a_bomb_that_nobody_need_inflate_is_not_inflated(tmp_path: Path, name: str) -> None:
    facts = _facts_of(tmp_path, name)
    assert facts.unread is None
    assert [page.unread for page in facts.pages] == [None]


def test_no_library_asks_for_a_socket_or_a_program(tmp_path: Path, monkeypatch) -> None:
    monkeypatch.syspath_prepend(str(DOUBLES))
    write(tmp_path, REACHING)
    shutil.copy(tmp_path / "reaches-out.pdf", tmp_path / "connects.pdf")
    every = read_all(tmp_path, _entries(tmp_path), limits=Limits(), workers=2, reader="cannot_connect")
    stopped = [facts.name for facts in every if "stopped unexpectedly" in (facts.unread or "")]
    assert stopped == ["connects.pdf"], "only the one that does it on purpose"


@pytest.mark.skipif(shutil.which("strace") is None, reason="strace is not on this machine")
def test_no_call_of_the_system_reaches_out_of_the_folder(tmp_path: Path) -> None:
    folder, log = tmp_path / "bundle", tmp_path / "log"
    folder.mkdir()
    write(folder, REACHING[:2])
    calls = "trace=socket,connect,sendto,execve,openat,open,creat,unlink,unlinkat,rename,mkdir,symlink"
    line = [sys.executable, "-P", str(SMALL), "check", str(folder), "--json", "-"]
    path = os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])
    traced = subprocess.run(
        ["strace", "-f", "-q", "-e", calls, "-o", str(log), *line],
        env=os.environ | {"PYTHONPATH": path, "PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
        timeout=200,
        check=False,
    )
    if traced.returncode not in (0, 1):
        pytest.skip(f"strace may not trace here: {traced.stderr[-200:]!r}")
    said = log.read_text(errors="replace").splitlines()
    assert any("reaches-out.pdf" in call for call in said), "the log shows what is opened"
    assert [call for call in said if re.search(r"AF_INET|connect\(|sendto\(", call)] == []
    assert [call for call in said if "/etc/passwd" in call or "/bin/true" in call or "evil-target" in call] == []
    written = [c for c in said if str(folder) in c and re.search(r"O_WRONLY|O_RDWR|O_CREAT|unlink|rename|mkdir", c)]
    assert written == []
