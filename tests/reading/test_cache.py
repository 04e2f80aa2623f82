"""The cache of facts: what it saves, whom it believes, what it never keeps, and that it costs no report."""

from __future__ import annotations

import errno
import hashlib
import os
import stat
import subprocess
import sys
import tempfile
import zlib
from collections.abc import Callable, Sequence
from importlib.metadata import packages_distributions
from pathlib import Path

import msgspec
import pytest

import preflight
from preflight import reading
from preflight.facts import Entry, FileFacts, Inside, Line, Page, Structure, to_json
from preflight.facts.lengths import Box
from preflight.reading import Cache, Limits, cache, fingerprint, forget, read_files
from preflight.reading.workers import read_all

NOW = 1_795_000_000.0
DAY = 86_400.0
POSIX = pytest.mark.skipif(os.name != "posix", reason="this system has no such modes")
PAGE = Page(
    number=1, width=21.0, height=29.7, lines=(Line("A hose guide with a roller", Box(2.5, 2.5, 9.1, 3.0), 12.0),)
)
PDF = Structure(version="1.7")


def entry(name: str = "paper.pdf", content: str = "one") -> Entry:
    return Entry(name, len(content), hashlib.sha256(content.encode()).hexdigest())


def facts_of(of: Entry, **more: object) -> FileFacts:
    facts = FileFacts(of.name, of.size, of.sha256, "application/pdf", structure=PDF, pages=(PAGE,))
    return msgspec.structs.replace(facts, **more)


@pytest.fixture
def place(tmp_path: Path) -> Path:
    return tmp_path / "cache" / "facts"


@pytest.fixture
def said() -> list[str]:
    return []


@pytest.fixture
def cache_at(place: Path, said: list[str]) -> Callable[..., Cache]:
    """A cache as a new run of the program opens it."""
    return lambda now=NOW: Cache(place, now=now, say=said.append)


@pytest.fixture
def readings(monkeypatch) -> list[str]:
    """The files that were read, in place of workers."""
    read: list[str] = []

    def stand_in(folder: Path, entries: Sequence[Entry], **_: object) -> tuple[FileFacts, ...]:
        read.extend(e.name for e in entries)
        return tuple(facts_of(e) for e in entries)

    monkeypatch.setattr(reading, "read_all", stand_in)
    return read


@pytest.fixture
def check(tmp_path: Path, cache_at, readings) -> Callable[..., tuple[FileFacts, ...]]:
    """Read entries as one run does."""

    def once(*entries: Entry, now: float = NOW, limits: Limits = Limits()) -> tuple[FileFacts, ...]:  # noqa: B008
        return read_files(tmp_path, entries, limits=limits, cache=cache_at(now))

    return once


def kept(place: Path) -> list[Path]:
    return sorted(place.glob("*.facts"))


# What it saves


def test_bytes_that_were_read_are_not_read_again_and_the_facts_are_the_same(
    tmp_path, draw, entry_of, cache_at, monkeypatch
):
    (tmp_path / "paper.pdf").write_bytes(draw(lambda canvas: canvas.drawString(100, 700, "A paper")))
    (tmp_path / "notes.txt").write_text("notes")
    entries = [entry_of(tmp_path / name) for name in ("notes.txt", "paper.pdf")]
    first = read_files(tmp_path, entries, cache=cache_at())
    read: list[Entry] = []
    monkeypatch.setattr(
        reading, "read_all", lambda folder, new, **more: read.extend(new) or read_all(folder, new, **more)
    )
    second = read_files(tmp_path, entries, cache=cache_at())
    assert read == []
    assert [to_json(f) for f in second] == [to_json(f) for f in first]
    assert second[1].pages[0].lines[0].text == "A paper"


def test_without_a_cache_all_is_read_each_time(tmp_path, readings):
    read_files(tmp_path, [entry()])
    read_files(tmp_path, [entry()])
    assert readings == ["paper.pdf"] * 2


def test_only_what_is_new_is_read_and_the_order_is_that_of_the_entries(check, readings):
    check(entry("b.pdf", "b"), entry("d.pdf", "d"))
    every = check(*(entry(f"{n}.pdf", n) for n in "abcde"))
    assert readings == ["b.pdf", "d.pdf", "a.pdf", "c.pdf", "e.pdf"]
    assert every == tuple(facts_of(entry(f"{n}.pdf", n)) for n in "abcde")


def test_name_and_size_are_those_of_the_folder(check, readings):
    check(entry("draft.pdf"))
    (facts,) = check(msgspec.structs.replace(entry("final.PDF"), size=77))
    assert (facts.name, facts.size) == ("final.PDF", 77)
    assert readings == ["draft.pdf"]


def test_another_ending_is_read_again_because_it_is_judged_by_its_name(check, readings):
    check(entry("letter.docx"))
    check(entry("letter.pdf"))
    assert readings == ["letter.docx", "letter.pdf"]


# Which reader


def test_other_limits_read_again(check, readings):
    check(entry())
    check(entry(), limits=Limits(pages=3))
    assert len(readings) == 2


def test_another_reader_reads_again(check, readings, monkeypatch):
    check(entry())
    monkeypatch.setattr(fingerprint, "_reader", lambda: b"another")
    check(entry())
    assert len(readings) == 2


@pytest.mark.parametrize("changed", ["reading/pages/ink.py", "facts/document.py"])
def test_a_changed_line_of_source_is_another_reader(tmp_path, changed):
    for name in ("reading/pages/ink.py", "facts/document.py", "papers/model.py"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("A = 1\n")
    before = list(fingerprint._parts(tmp_path))
    (tmp_path / "papers/model.py").write_text("A = 2\n")
    assert list(fingerprint._parts(tmp_path)) == before
    (tmp_path / changed).write_text("A = 2\n")
    assert list(fingerprint._parts(tmp_path)) != before


def test_our_own_source_is_found():
    parts = list(fingerprint._parts(Path(preflight.__file__).parent))
    assert b"reading/pages/ink.py" in parts
    assert b"facts/document.py" in parts


def test_every_library_that_facts_go_through_counts():
    home = Path(preflight.__file__).parent
    program = "import sys; import preflight.reading.document as d; print(*{m.split('.')[0] for m in sys.modules})"
    loaded = set(
        subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout.split()
    )
    source = " ".join(p.read_text() for room in fingerprint.ROOMS for p in (home / room).rglob("*.py"))
    imported = {module for module in loaded if f"import {module}" in source or f"from {module}" in source}
    behind = {of[0] for module, of in packages_distributions().items() if module in imported and module != "preflight"}
    assert {"pikepdf", "pypdfium2", "pdfminer.six", "numpy"} <= behind
    assert behind - {"psutil"} <= set(fingerprint.LIBRARIES)  # psutil watches workers and gives no fact


# What is never kept


INCOMPLETE = {
    "a file that is unread": {"unread": "it needs a password"},
    "our own failure": {"unread": "reading it took longer than 60 seconds and was stopped", "reader_failed": True},
    "a page that is unread": {"pages": (PAGE, Page(2, 0.0, 0.0, unread="the reader stopped unexpectedly on it"))},
    "characters that are unread": {"pages": (msgspec.structs.replace(PAGE, text_unread="too many lines"),)},
    "a form whose lay-out is unread": {"pages": (msgspec.structs.replace(PAGE, blocks_unread="it took too long"),)},
    "fonts that are unread": {"structure": Structure(version="1.7", unread="it took too long")},
    "a part inside that is unread": {
        "structure": Structure(version="1.7", inside=Inside(unread={"images": "too long"}))
    },
}


@pytest.mark.parametrize("more", INCOMPLETE.values(), ids=INCOMPLETE)
def test_what_is_not_complete_is_never_kept(place, cache_at, more):
    cache_at().keep([entry()], [facts_of(entry(), **more)], Limits())
    assert not place.exists()


def test_a_file_that_hangs_is_tried_again_each_time(tmp_path, place, cache_at, monkeypatch):
    monkeypatch.syspath_prepend(str(Path(__file__).parent / "doubles"))
    monkeypatch.setattr(
        reading, "read_all", lambda folder, new, **more: read_all(folder, new, reader="hangs_on_page_two", **more)
    )
    (facts,) = read_files(tmp_path, [entry()], limits=Limits(seconds=30, page_seconds=0.6), cache=cache_at())
    assert [page.unread is None for page in facts.pages] == [True, False, True, True]
    assert not place.exists()


def test_a_file_without_a_digest_is_never_kept_or_found(place, check, readings):
    unknown = Entry("paper.pdf", 3)
    check(unknown)
    assert not place.exists()
    check(entry())
    check(unknown)
    assert readings == ["paper.pdf"] * 3


def test_facts_over_the_bound_are_not_kept_and_others_are(place, cache_at, monkeypatch):
    small, large = entry("small.pdf", "s"), entry("large.pdf", "l")
    many = tuple(Page(number=n, width=n / 7, height=29.7) for n in range(1, 400))
    monkeypatch.setattr(cache, "LARGEST", 1000)
    cache_at().keep([large, small], [facts_of(large, pages=many), facts_of(small)], Limits())
    assert cache_at().find([large, small], Limits()) == (None, facts_of(small))


def test_facts_longer_than_a_worker_may_tell_are_not_kept(place, cache_at):
    long = facts_of(entry(), pages=(msgspec.structs.replace(PAGE, off_page="x" * 1_000_001),))
    cache_at().keep([entry()], [long], Limits(facts=0))
    assert kept(place) == []


def test_the_name_of_a_file_is_not_kept(place, check):
    check(entry("Secret hose guide.pdf"))
    (path,) = kept(place)
    plain = zlib.decompress(path.read_bytes()[len(cache._MARK) + 32 :])
    assert b"A hose guide with a roller" in plain
    assert b"Secret" not in plain + path.name.encode()
    assert entry().sha256 not in path.name


# Whom it believes


def forged(path: Path, body: bytes) -> bytes:
    """An entry with a digest that is right."""
    return cache._MARK + cache._digest(path.stem, body) + body


DAMAGE: dict[str, Callable[[Path, bytes], bytes]] = {
    "nothing": lambda _path, _data: b"",
    "only the mark": lambda _path, _data: cache._MARK,
    "cut short by a byte": lambda _path, data: data[:-1],
    "a byte too many": lambda _path, data: data + b"\0",
    "another version of the form": lambda _path, data: data.replace(b"facts 1", b"facts 9", 1),
    "another program's file": lambda _path, _data: b"%PDF-1.7\n" * 100,
    "a digest of other bytes": lambda _path, data: cache._MARK + bytes(32) + data[len(cache._MARK) + 32 :],
    "no compressed bytes": lambda path, _data: forged(path, b"facts"),
    "no facts": lambda path, _data: forged(path, zlib.compress(b'{"name": 1}')),
    "no JSON": lambda path, _data: forged(path, zlib.compress(b"\xff\xfe")),
    "endless when it is opened": lambda path, _data: forged(path, zlib.compress(bytes(66_000_000), 9)),
    "deep when it is opened": lambda path, _data: forged(path, zlib.compress(b"[" * 1_000_000)),
    "facts of other bytes": lambda path, _data: forged(path, zlib.compress(to_json(facts_of(entry(content="two"))))),
    "facts that are not complete": lambda path, _data: forged(
        path, zlib.compress(to_json(facts_of(entry(), unread="it is broken")))
    ),
}


@pytest.mark.parametrize("damage", DAMAGE.values(), ids=DAMAGE)
def test_a_damaged_entry_is_removed_and_the_file_read_again(place, check, readings, damage):
    check(entry())
    (path,) = kept(place)
    path.write_bytes(damage(path, path.read_bytes()))
    assert check(entry()) == (facts_of(entry()),)
    assert len(readings) == 2
    assert check(entry()) == (facts_of(entry()),)
    assert len(readings) == 2, "it was kept anew"


def test_no_byte_of_an_entry_can_be_changed_unnoticed(place, check, cache_at):
    check(entry())
    (path,) = kept(place)
    sound = path.read_bytes()
    for at in range(len(sound)):
        path.write_bytes(sound[:at] + bytes([sound[at] ^ 1]) + sound[at + 1 :])
        assert cache_at().find([entry()], Limits()) == (None,), at
        assert not path.exists()


def test_an_entry_under_the_name_of_another_is_not_believed(place, check, readings):
    one, two = entry("one.pdf", "1"), entry("two.pdf", "2")
    check(one)
    (first,) = kept(place)
    data = first.read_bytes()
    first.unlink()
    check(two)
    (second,) = kept(place)
    second.write_bytes(data)
    assert check(two) == (facts_of(two),)
    assert readings == ["one.pdf", "two.pdf", "two.pdf"]


@POSIX
@pytest.mark.parametrize("mode", [0o602, 0o620, 0o666])
def test_an_entry_that_others_may_write_is_not_believed(place, check, readings, mode):
    check(entry())
    (path,) = kept(place)
    path.chmod(mode)
    check(entry())
    assert len(readings) == 2
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


@POSIX
def test_an_entry_of_another_user_is_not_believed(place, check, cache_at, monkeypatch):
    check(entry())
    (path,) = kept(place)
    with monkeypatch.context() as patch:
        own = os.stat_result

        def anothers(descriptor: int) -> os.stat_result:
            values = list(os.stat(descriptor))
            values[stat.ST_UID] += 1
            return own(values)

        patch.setattr(cache.os, "fstat", anothers)
        assert cache_at().find([entry()], Limits()) == (None,)
    assert not path.exists()


def _linked(path: Path) -> None:
    path.rename(path.with_name("elsewhere"))
    path.symlink_to(path.with_name("elsewhere"))


def _a_folder(path: Path) -> None:
    path.unlink()
    path.mkdir()


def _a_pipe(path: Path) -> None:
    path.unlink()
    os.mkfifo(path)


@POSIX
@pytest.mark.parametrize("becomes", [_linked, _a_folder, _a_pipe])
def test_what_is_no_plain_file_is_not_believed(place, check, readings, becomes):
    check(entry())
    (path,) = kept(place)
    becomes(path)
    assert check(entry()) == (facts_of(entry()),)
    assert len(readings) == 2


# For its owner alone


@POSIX
def test_folder_and_files_are_for_their_owner_alone(place, check):
    before = os.umask(0)
    try:
        check(entry())
    finally:
        os.umask(before)
    assert stat.S_IMODE(place.stat().st_mode) == 0o700
    assert {stat.S_IMODE(p.stat().st_mode) for p in place.iterdir()} == {0o600}


@POSIX
def test_a_folder_that_was_opened_to_others_is_closed_again(place, check):
    check(entry())
    place.chmod(0o777)
    check(entry())
    assert stat.S_IMODE(place.stat().st_mode) == 0o700


def test_where_the_system_has_no_modes_and_owners_all_else_holds(place, check, readings, monkeypatch):
    monkeypatch.setattr(cache, "_has_modes", lambda: False)
    monkeypatch.delattr(cache.os, "geteuid", raising=False)
    check(entry())
    check(entry())
    assert readings == ["paper.pdf"]
    assert forget(place)[0] == 1


def test_it_is_named_in_the_run_that_makes_it_and_never_again(place, check, said):
    check(entry())
    (line,) = said
    assert str(place) in line
    check(entry(), entry("b.pdf", "b"))
    assert len(said) == 1


def test_programs_that_make_backups_can_tell_it(place, check):
    check(entry())
    signature = hashlib.md5(b".IsCacheDirectory").hexdigest()  # how the convention made its mark
    assert (place / "CACHEDIR.TAG").read_text().startswith(f"Signature: {signature}\n")


# How long, how much


@pytest.mark.parametrize(("days", "read"), [(13.9, 1), (14.1, 2), (-13.9, 1), (-14.1, 2)])
def test_an_entry_is_used_for_so_many_days(place, check, readings, days, read):
    check(entry())
    check(entry(), now=NOW + days * DAY)
    assert len(readings) == read


def test_an_entry_that_is_used_stays(check, readings):
    for use in range(4):
        check(entry(), now=NOW + use * 10 * DAY)
    assert len(readings) == 1


def test_what_is_old_goes_also_when_other_papers_are_checked(place, check):
    check(entry())
    (old,) = kept(place)
    check(entry("b.pdf", "b"), now=NOW + 15 * DAY)
    assert not old.exists()
    assert len(kept(place)) == 1


def test_the_ones_used_longest_ago_go_when_it_is_full(place, check, readings, monkeypatch):
    for hour, name in enumerate("abc"):
        check(entry(f"{name}.pdf", name), now=NOW + hour)
    check(entry("a.pdf", "a"), now=NOW + 10)
    size = max(path.stat().st_size for path in kept(place))
    monkeypatch.setattr(cache, "TOTAL", 3 * size + size // 2)  # digests compress to a few bytes more or less
    check(entry("d.pdf", "d"), now=NOW + 20)
    readings.clear()
    check(*(entry(f"{name}.pdf", name) for name in "acd"), now=NOW + 30)
    assert readings == []
    check(entry("b.pdf", "b"), now=NOW + 40)
    assert readings == ["b.pdf"]


def test_what_another_process_left_half_written_goes_and_what_it_is_writing_stays(place, check):
    check(entry())
    left, fresh, foreign = (place / name for name in ("left.partial", "fresh.partial", "foreign.txt"))
    for path, age in ((left, 3700), (fresh, 60), (foreign, 100 * DAY)):
        path.write_text("x")
        os.utime(path, (NOW - age, NOW - age))
    check(entry())
    assert (left.exists(), fresh.exists(), foreign.exists()) == (False, True, True)


# It costs no report


def _fails(code: int) -> Callable[..., object]:
    def fail(*_: object, **__: object) -> object:
        raise OSError(code, os.strerror(code))

    return fail


def _full_device(*, dir: Path, suffix: str) -> tuple[int, str]:
    return os.open("/dev/full", os.O_WRONLY), str(dir / f"full{suffix}")


TROUBLE: dict[str, Callable[[Path, pytest.MonkeyPatch], object]] = {
    "a file stands there": lambda place, _patch: (place.parent.mkdir(), place.write_text("mine")),
    "a file stands above it": lambda place, _patch: place.parent.write_text("mine"),
    "no room for a folder": lambda _place, patch: patch.setattr(cache.Path, "mkdir", _fails(errno.ENOSPC)),
    "it may only be read": lambda _place, patch: patch.setattr(tempfile, "mkstemp", _fails(errno.EROFS)),
    "it is full at the end": lambda _place, patch: patch.setattr(cache.os, "replace", _fails(errno.ENOSPC)),
    "it may not be renamed": lambda _place, patch: patch.setattr(cache.os, "replace", _fails(errno.EACCES)),
    "no room for its tag": lambda _place, patch: patch.setattr(cache.Cache, "_name_itself", _fails(errno.ENOSPC)),
}
if os.name == "posix":
    TROUBLE |= {
        "it is another user's": lambda place, patch: (
            place.mkdir(parents=True),
            patch.setattr(cache, "_own", lambda _: False),
        ),
        "it is a link": lambda place, _patch: (place.parent.mkdir(), place.symlink_to(place.parent)),
        "it leads nowhere": lambda place, _patch: (place.parent.mkdir(), place.symlink_to(place.parent / "gone")),
    }
if Path("/dev/full").exists():
    TROUBLE["the disk is full"] = lambda _place, patch: patch.setattr(tempfile, "mkstemp", _full_device)


@pytest.mark.parametrize("trouble", TROUBLE.values(), ids=TROUBLE)
def test_trouble_costs_one_line_and_nothing_else(place, check, said, monkeypatch, trouble):
    trouble(place, monkeypatch)
    entries = [entry(f"{n}.pdf", n) for n in "abc"]
    assert check(*entries) == tuple(facts_of(e) for e in entries)
    (line,) = said
    assert line.startswith(f"what was read is not kept in {place} (")
    assert line.endswith("; the report is the same without it")
    assert not place.is_dir() or list(place.glob("*.partial")) == []


def test_what_stands_in_its_place_is_left_alone(place, check):
    place.parent.mkdir()
    place.write_text("mine")
    check(entry())
    assert place.read_text() == "mine"


def test_a_folder_that_may_only_be_read_still_saves_reading(place, check, readings, said, monkeypatch):
    check(entry())
    monkeypatch.setattr(tempfile, "mkstemp", _fails(errno.EROFS))
    monkeypatch.setattr(cache.os, "utime", _fails(errno.EROFS))
    check(entry())
    assert readings == ["paper.pdf"]
    assert len(said) == 1


def test_an_entry_that_another_process_is_reading_on_windows_is_no_trouble(place, check, cache_at, said, monkeypatch):
    check(entry())
    monkeypatch.setattr(cache.os, "replace", _fails(errno.EACCES))
    cache_at().keep([entry()], [facts_of(entry())], Limits())
    assert len(said) == 1
    assert list(place.glob("*.partial")) == []


# Two at once


BUSY = """
import hashlib, sys, time
from pathlib import Path
from preflight.facts import Entry, FileFacts, Page
from preflight.reading import Cache, Limits
entries = [Entry(f"{n}.pdf", n, hashlib.sha256(str(n).encode()).hexdigest()) for n in range(6)]
facts = [FileFacts(e.name, e.size, e.sha256, pages=(Page(1, 21.0, 29.7, off_page=e.name * 20_000),)) for e in entries]
found = 0
for turn in range(40):
    cache = Cache(Path(sys.argv[1]), now=time.time() + turn // 2 % 3 * 20 * 86_400, say=sys.stderr.write)
    known = cache.find(entries, Limits())
    assert all(k is None or k == f for k, f in zip(known, facts)), "it believed something else"
    found += sum(k is not None for k in known)
    new = [(e, f) for e, f, k in zip(entries, facts, known) if k is None]
    cache.keep([e for e, _ in new], [f for _, f in new], Limits())
print(found)
"""


def test_processes_that_use_it_at_once_do_each_other_no_harm(place):
    many = [
        subprocess.Popen(
            [sys.executable, "-c", BUSY, str(place)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
        )
        for _ in range(3)
    ]
    told = [process.communicate(timeout=60) for process in many]
    assert [process.returncode for process in many] == [0] * 3, told
    assert sum(int(found) for found, _ in told), "some of what one wrote is found; which of them is chance"
    said = "".join(of_one for _, of_one in told)
    assert said.count("what is read of papers is kept in") == 1, said
    assert "not kept" not in said, said
    assert list(place.glob("*.partial")) == []


# Forgetting


def test_forgetting_removes_all_and_says_how_much(place, check, readings):
    check(entry(), entry("b.pdf", "b"))
    (place / "left.partial").write_text("x")
    size = sum(path.stat().st_size for path in place.iterdir() if path.suffix)
    size -= (place / cache.TAG).stat().st_size
    assert forget(place) == (2, size)
    assert not place.exists()
    assert forget(place) == (0, 0)
    check(entry())
    assert len(readings) == 3


def test_forgetting_leaves_what_is_not_ours(place, check):
    check(entry())
    (place / "mine.txt").write_text("mine")
    assert forget(place)[0] == 1
    assert [path.name for path in place.iterdir()] == ["mine.txt"]


def test_forgetting_follows_no_link(place, tmp_path, check):
    check(entry())
    link = tmp_path / "link"
    link.symlink_to(place)
    with pytest.raises(OSError, match="not a folder"):
        forget(link)
    assert len(kept(place)) == 1
