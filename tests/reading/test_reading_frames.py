"""Frames: what goes in comes out, and nothing else is believed."""

from __future__ import annotations

import io
import struct

import pytest
from hypothesis import given
from hypothesis import strategies as st

from preflight.facts import Box, Line, Page
from preflight.reading import frames
from preflight.reading.frames import Done, FrameError, Job, Opened, PageRead, Typed


@pytest.mark.parametrize(
    "message",
    [
        Typed("application/pdf", {"pdfium": "1"}),
        Opened(None, 3),
        PageRead(Page(number=1, width=21.0, height=29.7, lines=(Line("§ 1", Box(1, 2, 3, 4), 12.0),))),
        Done("why"),
    ],
)
def test_a_message_comes_out_as_it_went_in(message):
    pipe = io.BytesIO()
    frames.write_frame(pipe, message)
    frames.write_frame(pipe, Done())
    pipe.seek(0)
    assert [frames.read_answer(pipe) for _ in range(3)] == [message, Done(), None]


def test_a_job_comes_out_as_it_went_in():
    pipe = io.BytesIO()
    frames.write_frame(pipe, Job("a.pdf", first=3))
    pipe.seek(0)
    assert frames.read_job(pipe) == Job("a.pdf", first=3)
    assert frames.read_job(pipe) is None


@given(st.binary(max_size=200))
def test_any_bytes_are_a_message_or_a_frame_error(data: bytes):
    for stream in (data, struct.pack(">I", len(data)) + data):
        try:
            frames.read_answer(io.BytesIO(stream))
        except FrameError:
            continue


def test_a_length_beyond_the_limit_is_not_waited_for():
    with pytest.raises(FrameError, match="too large"):
        frames.read_answer(io.BytesIO(struct.pack(">I", frames.LARGEST + 1)))


def test_deep_nesting_is_refused():
    body = b"[" * 100_000
    with pytest.raises(FrameError):
        frames.read_answer(io.BytesIO(struct.pack(">I", len(body)) + body))
