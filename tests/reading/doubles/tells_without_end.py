"""A reader whose pages each hold a megabyte of text."""

from preflight.facts import Box, Line, Page
from preflight.reading.frames import Opened, PageRead


def read(job):
    yield Opened(None, 2000)
    line = Line("x" * 1_000_000, Box(0, 0, 1, 1), 12.0)
    for number in range(job.first, 2001):
        yield PageRead(Page(number=number, width=21.0, height=29.7, lines=(line,)))
