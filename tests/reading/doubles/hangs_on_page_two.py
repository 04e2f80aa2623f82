"""A reader that never gets past the second page; taken up again after it, it goes on."""

import time

from preflight.facts import Page
from preflight.reading.frames import Done, Opened, PageRead


def read(job):
    yield Opened(None, 4)
    for number in range(job.first, 5):
        if number == 2:
            time.sleep(600)
        yield PageRead(Page(number=number, width=21.0, height=29.7))
    yield Done()
