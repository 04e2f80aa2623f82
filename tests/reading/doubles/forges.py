"""A reader that writes past the frames: a length of four gigabytes, then little."""

import gc
import io


def read(job):
    pipes = [o for o in gc.get_objects() if isinstance(o, io.BufferedWriter) and o.fileno() > 2]
    for pipe in pipes:
        pipe.write(b"\xff\xff\xff\xff{}")
        pipe.flush()
    yield from ()
