"""Workers that misbehave cost one file or one page, never the run, and the reason is one that people understand."""

from __future__ import annotations

import contextlib
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path

import psutil
import pytest

from preflight.facts import Entry, FileFacts
from preflight.reading import Limits
from preflight.reading.workers import read_all

DOUBLES = Path(__file__).parent / "doubles"
QUICK = Limits(seconds=1.5, page_seconds=0.6, memory=300)

pytestmark = pytest.mark.hostile


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., tuple[FileFacts, ...]]:
    """Read files with one of the doubles in the place of the reader."""
    monkeypatch.syspath_prepend(str(DOUBLES))

    def go(reader: str, limits: Limits = QUICK, files: int = 1, **more: object) -> tuple[FileFacts, ...]:
        entries = [Entry(f"{n}.pdf", n) for n in range(files)]
        return read_all(tmp_path, entries, limits=limits, reader=reader, **more)

    return go


@pytest.mark.parametrize(
    ("reader", "reason"),
    [
        ("hangs", "reading it took longer than 1.5 seconds and was stopped"),
        ("dies", "the reader stopped unexpectedly on it"),
        ("throws", "the reader failed on it (ZeroDivisionError)"),
        ("gorges", "reading it needed more than 300 MB of memory and was stopped"),
        ("forges", "the answer is too large"),
        ("lies", "the answer is not in the agreed form"),
        ("repeats_pages", "the reader answered out of turn"),
        ("cannot_be_imported", "the reader could not be started"),
    ],
)
def test_a_reader_that_misbehaves_leaves_the_file_unread(run, reader: str, reason: str):
    limits = QUICK if reader == "hangs" else Limits(seconds=30, memory=300)
    (facts,) = run(reader, limits)
    assert facts.unread == reason


def test_a_page_that_hangs_costs_that_page(run):
    (facts,) = run("hangs_on_page_two", Limits(seconds=30, page_seconds=0.6))
    assert facts.unread is None
    assert [page.number for page in facts.pages] == [1, 2, 3, 4]
    assert [page.unread for page in facts.pages] == [
        None,
        "reading it took longer than 0.6 seconds and was stopped",
        None,
        None,
    ]


def test_a_file_is_taken_up_again_a_few_times_only_and_no_page_is_left_out(run):
    (facts,) = run("dies_on_each_page", Limits(restarts=2))
    assert [page.number for page in facts.pages] == list(range(1, 10))
    assert {page.unread for page in facts.pages} == {"the reader stopped unexpectedly on it"}


def test_a_page_whose_answer_is_too_long_is_unread(run):
    (facts,) = run("babbles", Limits(memory=600))
    assert [page.unread for page in facts.pages] == ["the answer is too large"]


def test_a_file_that_says_without_end_is_cut_off_and_not_taken_up_again(run):
    (facts,) = run("tells_without_end", Limits(facts=5))
    reasons = [page.unread for page in facts.pages]
    assert reasons[:4] == [None] * 4
    assert set(reasons[5:]) == {"it holds more text and marks than this program keeps of one file (5 MB)"}
    assert len(reasons) == 2000


@pytest.mark.skipif(sys.platform == "win32", reason="signals differ there")
def test_a_worker_struck_by_a_signal_costs_its_page_and_no_other_file(tmp_path: Path, monkeypatch):
    monkeypatch.syspath_prepend(str(DOUBLES))
    reasons = {
        "SIGKILL.pdf": "the reader stopped unexpectedly on it",
        "SIGSEGV.pdf": "the reader stopped unexpectedly on it",
        "SIGSTOP.pdf": "reading it took longer than 1 seconds and was stopped",
        "good.pdf": None,
    }
    entries = [Entry(name, 1) for name in reasons]
    limits = Limits(seconds=30, page_seconds=1)
    for facts in read_all(tmp_path, entries, limits=limits, workers=2, reader="signals_itself"):
        assert [page.unread for page in facts.pages] == [None, reasons[facts.name], None]
        assert facts.unread is None


def test_pages_that_never_came_are_unread(run):
    (facts,) = run("stops_early")
    assert [page.unread for page in facts.pages] == [None, *["the reader ended before this page"] * 2]


def test_what_a_library_prints_does_not_reach_the_answers(run):
    (facts,) = run("chatters", Limits())
    assert facts.unread is None
    assert facts.pages[0].width == 21.0


def test_memory_asked_for_at_once_is_refused_or_noticed(run):
    (facts,) = run("gulps", Limits(memory=400))
    assert "memory" in (facts.unread or "")


def test_a_worker_writes_no_file(run, tmp_path: Path):
    resource = pytest.importorskip("resource", reason="the system has no such limit")
    assert resource
    (facts,) = run("scribbles")
    assert "could not be read" in (facts.unread or "")
    assert not any(path.stat().st_size for path in tmp_path.iterdir())


def test_each_file_has_a_process_of_its_own(run):
    every = run("names_its_process", files=6, workers=3)
    assert len({facts.media_type for facts in every}) == 6


def test_answers_come_in_the_order_of_the_entries(run):
    assert [facts.name for facts in run("names_its_process", files=5, workers=2)] == [f"{n}.pdf" for n in range(5)]


def test_one_file_that_hangs_does_not_stop_the_others(run):
    began = time.monotonic()
    every = run("hangs", files=2, workers=2)
    assert all("1.5 seconds" in (facts.unread or "") for facts in every)
    assert time.monotonic() - began < 10


def test_an_interruption_ends_all_workers_and_is_passed_on(run):
    before = {child.pid for child in psutil.Process().children()}

    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        run("hangs_on_page_two", files=3, workers=3, tell=interrupt)
    _wait_until(lambda: not {child.pid for child in psutil.Process().children()} - before)


def test_no_thread_and_no_process_is_left(run):
    threads = threading.active_count()
    run("dies_on_each_page", Limits())
    _wait_until(lambda: threading.active_count() <= threads)


def test_progress_is_told(run):
    told: list[tuple[str, int, int]] = []
    run("stops_early", tell=lambda *step: told.append(step))
    assert told[0] == ("0.pdf", 0, 3)
    assert told[-1] == ("0.pdf", 3, 3)


def test_entries_without_bytes_need_no_worker(tmp_path: Path):
    (facts,) = read_all(tmp_path, [Entry("a.pdf", unread="no permission")], limits=Limits(), reader="no such module")
    assert facts == FileFacts("a.pdf", 0, "", unread="no permission", reader_failed=True)


def _wait_until(holds: Callable[[], bool]) -> None:
    until = time.monotonic() + 5
    while not holds():
        assert time.monotonic() < until
        with contextlib.suppress(psutil.Error):
            time.sleep(0.02)


@pytest.mark.parametrize(("files", "threads"), [(1, 4), (2, 2), (5, 1)])
def test_files_get_more_threads_where_fewer_wait_than_there_are_processors(run, files: int, threads: int):
    read = run("tells_its_threads", Limits(seconds=30, memory=300), files, workers=4)
    assert min(len(facts.pages) for facts in read) == threads, "later ones may get those of files that are done"
