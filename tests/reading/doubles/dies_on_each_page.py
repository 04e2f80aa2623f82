"""A reader that crashes at whichever page it begins with."""

import os

from preflight.reading.frames import Opened


def read(job):
    yield Opened(None, 9)
    os.abort()
