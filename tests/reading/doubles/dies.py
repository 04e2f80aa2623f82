"""A reader that crashes as native code does."""

import os


def read(job):
    os.abort()
    yield
