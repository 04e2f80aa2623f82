"""A reader that is struck by the signal after which its file is named, on its second page."""

import os
import signal
from pathlib import Path

from preflight.facts import Page
from preflight.reading.frames import Done, Opened, PageRead


def read(job):
    yield Opened(None, 3)
    for number in range(job.first, 4):
        name = Path(job.path).stem
        if number == 2 and name.startswith("SIG"):
            os.kill(os.getpid(), signal.Signals[name])
        yield PageRead(Page(number=number, width=21.0, height=29.7))
    yield Done()
