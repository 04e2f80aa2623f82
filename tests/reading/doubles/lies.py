"""A reader whose answer has the wrong type in it."""

import gc
import io
import json
import struct


def read(job):
    body = json.dumps({"type": "Opened", "structure": None, "pages": "many"}).encode()
    for pipe in [o for o in gc.get_objects() if isinstance(o, io.BufferedWriter) and o.fileno() > 2]:
        pipe.write(struct.pack(">I", len(body)) + body)
        pipe.flush()
    yield from ()
