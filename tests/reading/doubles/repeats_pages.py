"""A reader that answers out of turn."""

from preflight.facts import Page
from preflight.reading.frames import Opened, PageRead


def read(job):
    yield Opened(None, 3)
    yield PageRead(Page(number=1, width=21.0, height=29.7))
    yield PageRead(Page(number=1, width=21.0, height=29.7))
