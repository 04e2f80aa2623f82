"""The cache: what was read of a file, kept for the next check of the same bytes.

An entry is one file: a mark, a digest, compressed JSON. Papers are unpublished inventions, so it is for its owner
alone, holds no pictures and no names of files, and goes when it has not been used for `DAYS`. Whatever is doubtful
about an entry makes it worthless, never believed; whatever goes wrong here costs one line and no report.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import stat
import tempfile
import zlib
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path, PurePath

import msgspec

from preflight.facts import Entry, FileFacts, from_json, to_json
from preflight.reading.fingerprint import fingerprint
from preflight.reading.images import GARBLED, TEXT
from preflight.reading.limits import Limits

DAYS = 14
"""An entry that was not used for so long is removed by the next check. Our choice, as are the sizes below."""
TOTAL = 200_000_000
"""Bytes that all entries may have; the ones used longest ago go first."""
LARGEST = 20_000_000
"""Bytes that one entry may have; facts that need more are not kept."""

ENTRY, PARTIAL = ".facts", ".partial"
TAG = "CACHEDIR.TAG"
"""By this name and beginning, programs that make backups know a folder that they should leave out."""

_TAG = b"Signature: 8a477f597d28d172789f06886806bc55\n# What preflight read of papers; preflight forget removes it.\n"
_MARK = b"preflight facts 1\n"
_DIGEST = hashlib.sha256().digest_size
_DAY = 24 * 60 * 60.0
_PARTIAL_SECONDS = 3600.0
"""What another process has been writing for longer than this was left behind."""

_NEW_FLAGS = os.O_WRONLY | os.O_CREAT | os.O_EXCL
_ENTRY_FLAGS = os.O_RDONLY | sum(getattr(os, name, 0) for name in ("O_NOFOLLOW", "O_NONBLOCK", "O_BINARY"))


class _Doubtful(Exception):
    """An entry that is not as we write them."""


class Cache:
    """Facts kept in `folder`, which is made when it is first needed and is nobody else's.

    `now` is in seconds since 1970. `say` hears a line when the folder is first used, and one when something is
    wrong with it; nothing of that is ever raised.
    """

    def __init__(self, folder: Path, *, now: float, say: Callable[[str], None]) -> None:
        self._folder = folder
        self._now = now
        self._say = say
        self._usable = True

    def find(self, entries: Sequence[Entry], limits: Limits) -> tuple[FileFacts | None, ...]:
        """For each entry what is known of its bytes, under its own name; None for what must be read."""
        with self._told():
            if _exists(self._folder):
                _make_private(self._folder)
                _tidy(self._folder, self._now)
                return tuple(self._known(entry, limits) for entry in entries)
        return (None,) * len(entries)

    def keep(self, entries: Sequence[Entry], every: Sequence[FileFacts], limits: Limits) -> None:
        """Keep the facts that are complete."""
        wanted = [(e, f) for e, f in zip(entries, every, strict=True) if e.sha256 and complete(f)]
        if not (wanted and self._usable):
            return
        with self._told():
            _make_private(self._folder)
            for entry, facts in wanted:
                key = _key(entry, limits)
                packed = _packed(facts, key, limits)
                if packed is not None:
                    _write(self._folder / f"{key}{ENTRY}", packed, self._now)
            self._name_itself()
            _tidy(self._folder, self._now)

    def _known(self, entry: Entry, limits: Limits) -> FileFacts | None:
        if not entry.sha256:
            return None
        key = _key(entry, limits)
        path = self._folder / f"{key}{ENTRY}"
        try:
            facts = _unpacked(_bytes(path), key, limits)
            if facts.sha256 != entry.sha256 or not complete(facts):
                raise _Doubtful
        except FileNotFoundError:
            return None
        except (OSError, _Doubtful):
            with contextlib.suppress(OSError):
                path.unlink()
            return None
        with contextlib.suppress(OSError):  # a folder that may only be read is still of use
            os.utime(path, (self._now, self._now))
        return msgspec.structs.replace(facts, name=entry.name, size=entry.size)

    def _name_itself(self) -> None:
        """Say once that there is such a folder; the tag tells that it was said."""
        try:
            with os.fdopen(os.open(self._folder / TAG, _NEW_FLAGS, 0o600), "wb") as stream:
                stream.write(_TAG)
        except FileExistsError:
            return
        self._say(
            f"what is read of papers is kept in {self._folder}, for your account alone; a later check removes what "
            f"was not used for {DAYS} days, preflight forget removes all, check --no-cache keeps nothing"
        )

    @contextlib.contextmanager
    def _told(self) -> Iterator[None]:
        """What goes wrong with the folder is said once, and ends its use."""
        try:
            yield
        except OSError as error:
            if self._usable:
                self._usable = False
                why = error.strerror or type(error).__name__
                self._say(f"what was read is not kept in {self._folder} ({why}); the report is the same without it")


def complete(facts: FileFacts) -> bool:
    """Whether all of it was read: what failed, for whatever reason, is tried again each time."""
    structure = facts.structure
    if facts.unread is not None or facts.reader_failed:
        return False
    if structure is not None and (structure.unread is not None or structure.inside.unread):
        return False
    reasons = ((page.unread, page.text_unread, page.blocks_unread, page.readings_unread) for page in facts.pages)
    return all(reason in (None, TEXT, GARBLED) for of_page in reasons for reason in of_page)


def forget(folder: Path) -> tuple[int, int]:
    """Remove all that is kept; how many entries and how many bytes it was. Raises OSError if it cannot be removed."""
    if not _exists(folder):
        return 0, 0
    _make_private(folder)
    removed = size = 0
    for path, state in _ours(folder):
        path.unlink(missing_ok=True)
        removed += path.name.endswith(ENTRY)
        size += state.st_size
    (folder / TAG).unlink(missing_ok=True)
    with contextlib.suppress(OSError):  # something of somebody else's lies in it
        folder.rmdir()
    return removed, size


def _key(entry: Entry, limits: Limits) -> str:
    """The name of an entry. The ending belongs to it: what is no PDF is judged by whether its name says so."""
    ending = PurePath(entry.name).suffix.lower()
    return hashlib.sha256(f"{fingerprint(limits)} {entry.sha256} {ending}".encode()).hexdigest()


def _packed(facts: FileFacts, key: str, limits: Limits) -> bytes | None:
    """The bytes of an entry; None if there are too many. What the folder says of the file is left out."""
    plain = to_json(msgspec.structs.replace(facts, name="", size=0))
    body = zlib.compress(plain)
    if len(plain) > _most(limits) or len(body) > LARGEST - len(_MARK) - _DIGEST:
        return None
    return _MARK + _digest(key, body) + body


def _unpacked(data: bytes, key: str, limits: Limits) -> FileFacts:
    """The facts in the bytes of an entry. Raises _Doubtful if anything about them is not as `_packed` makes it."""
    start = len(_MARK) + _DIGEST
    body = data[start:]
    if not data.startswith(_MARK) or data[len(_MARK) : start] != _digest(key, body):
        raise _Doubtful
    try:
        opened = zlib.decompressobj()
        plain = opened.decompress(body, _most(limits))
        if not opened.eof:
            raise _Doubtful
        return from_json(plain)
    except (zlib.error, msgspec.DecodeError, RecursionError) as error:
        raise _Doubtful from error


def _digest(key: str, body: bytes) -> bytes:
    """Binds the facts to their entry: one that was renamed to another is found out."""
    return hashlib.sha256(key.encode() + body).digest()


def _most(limits: Limits) -> int:
    """Bytes of facts before they are compressed: what a worker may tell of one file, and some room."""
    return (limits.facts + 1) * 1_000_000


def _bytes(path: Path) -> bytes:
    """All of an entry. Raises _Doubtful for what another user owns or may write, links, devices and too long ones."""
    with os.fdopen(os.open(path, _ENTRY_FLAGS), "rb") as stream:
        state = os.fstat(stream.fileno())
        if not (stat.S_ISREG(state.st_mode) and _own(state)) or (_has_modes() and state.st_mode & 0o022):
            raise _Doubtful
        data = stream.read(LARGEST + 1)
    if len(data) > LARGEST:
        raise _Doubtful
    return data


def _write(path: Path, data: bytes, now: float) -> None:
    """Write beside, then rename: whoever reads meanwhile sees all or nothing. Only its owner may read it."""
    descriptor, name = tempfile.mkstemp(dir=path.parent, suffix=PARTIAL)
    partial = Path(name)
    try:
        with os.fdopen(descriptor, "wb") as stream:
            stream.write(data)
        os.utime(partial, (now, now))
        os.replace(partial, path)  # noqa: PTH105  the call that is atomic on every platform, by its own name
    except FileNotFoundError:
        pass  # another process forgets or tidies at this moment
    except PermissionError:
        if not path.exists():  # Windows: another process has written the same, and it is being read
            raise
    finally:
        partial.unlink(missing_ok=True)


def _exists(folder: Path) -> bool:
    """Whether anything has its name; unlike Path.exists it does not follow a link, and raises what is unexpected."""
    try:
        folder.lstat()
    except FileNotFoundError:
        return False
    return True


def _make_private(folder: Path) -> None:
    """Make it if need be, for its owner only. Raises OSError if it is another's, a link, or no folder."""
    with contextlib.suppress(FileExistsError):
        folder.mkdir(mode=0o700, parents=True)
    state = folder.lstat()
    if not stat.S_ISDIR(state.st_mode):
        raise NotADirectoryError(0, "it is a file or a link, not a folder")
    if not _own(state):
        raise PermissionError(0, "it belongs to another user")
    if _has_modes() and state.st_mode & 0o077:
        folder.chmod(state.st_mode & 0o700)  # whoever forbade writing meant it


def _has_modes() -> bool:
    """Whether the bits of a mode say who may do what; on Windows they do not, and the user's own folder protects."""
    return os.name == "posix"


def _own(state: os.stat_result) -> bool:
    return not _has_modes() or state.st_uid == os.geteuid()


def _ours(folder: Path) -> Iterator[tuple[Path, os.stat_result]]:
    """Entries, whole and partial, as far as other processes leave them there."""
    for path in tuple(folder.iterdir()):
        if path.suffix in (ENTRY, PARTIAL):
            with contextlib.suppress(FileNotFoundError):
                state = path.lstat()
                if not stat.S_ISDIR(state.st_mode):
                    yield path, state


def _tidy(folder: Path, now: float) -> None:
    """Remove what was not used for long, then the oldest until the rest is within `TOTAL`."""
    total = 0
    for path, state in sorted(_ours(folder), key=lambda one: -one[1].st_mtime):
        age = abs(now - state.st_mtime)  # a day in the future is no reason to stay for ever
        total += state.st_size
        allowed = _PARTIAL_SECONDS if path.suffix == PARTIAL else DAYS * _DAY
        if age > allowed or total > TOTAL:
            with contextlib.suppress(OSError):  # gone already, or a folder that may only be read
                path.unlink()
