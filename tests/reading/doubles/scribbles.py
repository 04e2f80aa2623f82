"""A reader that tries to write a file beside the one that it reads."""

from pathlib import Path

from preflight.reading.frames import Done


def read(job):
    Path(job.path).with_name("left-behind.txt").write_text("x" * 10)
    yield Done("it was written")
