"""A reader that prints, in Python and past it, and complains at length on the standard error."""

import os
import sys

from preflight.facts import Page
from preflight.reading.frames import Done, Opened, PageRead

print("imported")  # noqa: T201


def read(job):
    print("noise " * 50_000, flush=True)  # noqa: T201
    os.write(1, b"noise past Python")
    sys.stderr.write("complaint " * 200_000)
    yield Opened(None, 1)
    print("more noise", flush=True)  # noqa: T201
    yield PageRead(Page(number=1, width=21.0, height=29.7))
    yield Done()
