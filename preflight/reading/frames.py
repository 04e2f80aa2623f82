"""What parent and worker say to each other: msgspec JSON in frames with a length in front, never a pickle."""

from __future__ import annotations

import struct
from typing import Any, BinaryIO

import msgspec

from preflight.facts import Block, Cut, Page, Reading, Source, Structure
from preflight.reading.limits import Limits

LARGEST = 32 * 1024 * 1024
"""Bytes a frame may have: the fullest page seen needs about 2 MB."""

_LENGTH = struct.Struct(">I")


class FrameError(Exception):
    """What came through the pipe is no frame: too long, cut short, or of another type."""


class Job(msgspec.Struct, frozen=True):
    """The one file that a worker is to read."""

    path: str
    sha256: str = ""
    """Of the bytes that were listed; empty if not known."""
    limits: Limits = Limits()
    first: int = 1
    """The page to begin with; a file that is taken up again begins later."""
    cuts: tuple[Cut, ...] = ()
    """Parts of its pages that are wanted as pictures."""
    threads: int = 1
    """With how many the strings of pictures are read."""


class Ready(msgspec.Struct, frozen=True, tag=True):
    """The readers are imported."""


class Typed(msgspec.Struct, frozen=True, tag=True):
    """What kind of file it is, and which libraries read it."""

    media_type: str
    readers: dict[str, str]


class Wrote(msgspec.Struct, frozen=True, tag=True):
    """What a word processor's file says."""

    source: Source


class Opened(msgspec.Struct, frozen=True, tag=True):
    """The PDF is open; so many pages follow (from `Job.first`)."""

    structure: Structure | None
    pages: int


class PageRead(msgspec.Struct, frozen=True, tag=True):
    """One page, without its blocks."""

    page: Page


class LaidOut(msgspec.Struct, frozen=True, tag=True):
    """The blocks of a page that was sent before."""

    number: int
    blocks: tuple[Block, ...]
    unread: str | None = None


class Looking(msgspec.Struct, frozen=True, tag=True):
    """All pages are sent; the pictures of these will be read, which takes longer."""

    numbers: tuple[int, ...]
    proving: tuple[int, ...] = ()
    """The characters of these will be held against their pictures."""


class Looked(msgspec.Struct, frozen=True, tag=True):
    """What was read from the picture of a page that was sent before, or why nothing was."""

    number: int
    readings: tuple[Reading, ...] | None = None
    unread: str | None = None
    writing: tuple[Reading, ...] | None = None
    """The lines of a page of text."""


class Proved(msgspec.Struct, frozen=True, tag=True):
    """Why the characters of a page that was sent before are not to be trusted, if so."""

    number: int
    text_unread: str | None = None


class Clipped(msgspec.Struct, frozen=True, tag=True):
    """One of the cuts of the job, by its place among them."""

    index: int
    encoded: bytes


class Done(msgspec.Struct, frozen=True, tag=True):
    """The end, with the reason if the file could not be read; `ours` if the reason is a limit of ours."""

    unread: str | None = None
    ours: bool = False


class Failed(msgspec.Struct, frozen=True, tag=True):
    """The end by an error that the reader did not foresee, at the page after the last one sent."""

    why: str


Answer = Ready | Typed | Wrote | Opened | PageRead | LaidOut | Looking | Looked | Proved | Clipped | Done | Failed

_job = msgspec.json.Decoder(Job)
_answer: msgspec.json.Decoder[Answer] = msgspec.json.Decoder(Answer)


def write_frame(pipe: BinaryIO, message: Job | Answer) -> None:
    """Send one message. Raises FrameError if it is longer than `LARGEST`, OSError if nobody listens."""
    body = _encoded(message)
    if len(body) > LARGEST:
        raise FrameError("the answer is too large")
    pipe.write(_LENGTH.pack(len(body)) + body)
    pipe.flush()


def _encoded(message: Job | Answer) -> bytes:
    try:
        return msgspec.json.encode(message)
    except UnicodeEncodeError:  # readers give characters beyond U+FFFF in halves, and hostile files give single halves
        return msgspec.json.encode(_whole(msgspec.to_builtins(message)))


def _whole(data: Any) -> Any:
    """The same with the halves of characters put together; a half without the other becomes U+FFFD."""
    if isinstance(data, str):
        return data.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")
    if isinstance(data, dict):
        return {_whole(key): _whole(value) for key, value in data.items()}
    return [_whole(item) for item in data] if isinstance(data, list | tuple) else data


def read_job(pipe: BinaryIO) -> Job | None:
    """The next job; None at the end of the pipe."""
    body = _read(pipe)
    return None if body is None else _job.decode(body)


def read_answer(pipe: BinaryIO) -> tuple[Answer, int] | None:
    """The next answer, strictly by type, with its bytes; None at the end. Raises FrameError for anything else."""
    body = _read(pipe)
    try:
        return None if body is None else (_answer.decode(body), len(body))
    except (msgspec.DecodeError, RecursionError) as error:
        raise FrameError("the answer is not in the agreed form") from error


def _read(pipe: BinaryIO) -> bytes | None:
    head = pipe.read(_LENGTH.size)
    if not head:
        return None
    if len(head) < _LENGTH.size:
        raise FrameError("the answer is cut short")
    (length,) = _LENGTH.unpack(head)
    if length > LARGEST:
        raise FrameError("the answer is too large")
    body = pipe.read(length)
    if len(body) < length:
        raise FrameError("the answer is cut short")
    return body
