"""A reader with a bug."""


def read(job):
    raise ZeroDivisionError
    yield
