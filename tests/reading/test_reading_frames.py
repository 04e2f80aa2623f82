"""Frames: what goes in comes out, and nothing else is believed."""

from __future__ import annotations

import io
import struct
from unittest.mock import ANY

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
    assert [frames.read_answer(pipe) for _ in range(3)] == [(message, ANY), (Done(), ANY), None]


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


def test_halves_of_characters_are_put_together_or_replaced():
    """PDFium gives a character beyond U+FFFF in two halves; JSON holds no half."""
    pipe = io.BytesIO()
    text = "\ud83d\ude00 \ud800 \udcff \x1b\x00"
    frames.write_frame(pipe, PageRead(Page(number=1, width=1, height=1, lines=(Line(text, Box(1, 2, 3, 4), 12.0),))))
    frames.write_frame(pipe, Typed("a", {"\udfff": "\ud800"}))
    pipe.seek(0)
    (page, _), (typed, _) = frames.read_answer(pipe), frames.read_answer(pipe)
    assert page.page.lines[0] == Line("\U0001f600 \ufffd \ufffd \x1b\x00", Box(1, 2, 3, 4), 12.0)
    assert typed.readers == {"\ufffd": "\ufffd"}
