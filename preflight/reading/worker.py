"""The child: imports a reader, waits, reads one file, answers in frames, ends.

Started as `python -m preflight.reading.worker READER`, where READER is the module that reads: it
has `read(job)`, which yields answers. On Linux and macOS the child can write no file (RLIMIT_FSIZE)
and has a ceiling of processor time; its ceiling of memory (RLIMIT_DATA) holds on Linux only. On
macOS and Windows memory is watched by the parent alone.
"""

from __future__ import annotations

import contextlib
import importlib
import os
import signal
import sys
from collections.abc import Iterator
from typing import BinaryIO, Protocol, cast

if sys.platform != "win32":
    import resource

from preflight.reading.frames import Answer, Done, Failed, FrameError, Job, Ready, read_job, write_frame
from preflight.reading.limits import Limits


class Reader(Protocol):
    """A module that reads files."""

    def read(self, job: Job) -> Iterator[Answer]:
        """Yield what the file contains, ending with `Done`."""


def main(reader: str) -> None:
    """Serve one job from the standard input; answers go to what was the standard output."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent ends its workers itself
    questions, answers = _take_pipes()
    module = cast("Reader", importlib.import_module(reader))
    write_frame(answers, Ready())
    job = read_job(questions)
    if job is None:
        return
    _limit(job.limits)
    try:
        for answer in module.read(job):
            write_frame(answers, answer)
    except MemoryError:
        write_frame(answers, Failed("reading it needs more memory than is allowed"))
    except FrameError as error:
        write_frame(answers, Failed(str(error)))
    except OSError as error:
        write_frame(answers, Done(f"it could not be read ({error.strerror or type(error).__name__})", ours=True))
    except Exception as error:  # noqa: BLE001  the last line of defence: whatever a library throws becomes a reason
        write_frame(answers, Failed(f"the reader failed on it ({type(error).__name__})"))


def _take_pipes() -> tuple[BinaryIO, BinaryIO]:
    """Keep both pipes for frames; what a library prints goes to the standard error from now on."""
    questions = os.fdopen(os.dup(0), "rb")
    answers = os.fdopen(os.dup(1), "wb")
    nothing = os.open(os.devnull, os.O_RDONLY)
    os.dup2(nothing, 0)
    os.dup2(2, 1)
    os.close(nothing)
    return questions, answers


def _limit(limits: Limits) -> None:
    """Set the system's own ceilings as a backstop, where it has them."""
    if sys.platform != "win32":
        ceilings = {
            "RLIMIT_CORE": 0,
            "RLIMIT_FSIZE": 0,
            "RLIMIT_CPU": int(limits.seconds * (1 + limits.pages // 100)) + 60,
            "RLIMIT_DATA": limits.memory * 1_000_000 * 3 // 2,
        }
        for name, ceiling in ceilings.items():
            kind = getattr(resource, name)
            with contextlib.suppress(ValueError, OSError):  # a lower hard limit is set already
                resource.setrlimit(kind, (ceiling, resource.getrlimit(kind)[1]))


if __name__ == "__main__":
    main(sys.argv[1])
