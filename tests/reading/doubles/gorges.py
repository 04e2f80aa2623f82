"""A reader that takes ever more memory."""

import time


def read(job):
    hoard = []
    while True:
        hoard.append(b"x" * 10_000_000)
        time.sleep(0.02)
    yield
