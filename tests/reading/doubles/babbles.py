"""A reader whose answer is longer than a frame may be."""

from preflight.facts import Box, Line, Page
from preflight.reading.frames import LARGEST, Opened, PageRead


def read(job):
    yield Opened(None, 1)
    line = Line("x" * (LARGEST + 1), Box(0, 0, 1, 1), 12.0)
    yield PageRead(Page(number=1, width=21.0, height=29.7, lines=(line,)))
