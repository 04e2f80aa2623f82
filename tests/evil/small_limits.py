"""The command line with small limits, so that what runs into them ends soon: `python small_limits.py check ...`."""

from __future__ import annotations

import functools
import sys

from preflight import engine
from preflight.cli import main
from preflight.reading import Limits, read_files

LIMITS = Limits(seconds=10, page_seconds=4, memory=400, restarts=1)

if __name__ == "__main__":
    engine.read_files = functools.partial(read_files, limits=LIMITS, workers=2)
    main(sys.argv[1:])
