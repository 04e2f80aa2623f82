"""A reader that asks for far too much memory at once."""


def read(job):
    bytes(job.limits.memory * 1_000_000 * 4)
    yield
