"""A reader that gives the number of its threads as the number of its pages."""

from preflight.facts import Page
from preflight.reading.frames import Done, Opened, PageRead


def read(job):
    yield Opened(None, job.threads)
    for number in range(1, job.threads + 1):
        yield PageRead(Page(number=number, width=21.0, height=29.7))
    yield Done()
