"""The parent: one plain subprocess a file, watched for time and memory, believed only in the agreed form.

Wall time and memory (psutil, a few times a second) are limited here, on every platform; what the
system enforces beside that is said in `worker`. A worker that has opened a file never opens
another. A page that stops its worker costs that page: the file is taken up again after it.
"""

from __future__ import annotations

import contextlib
import os
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import BinaryIO, cast

import msgspec
import psutil

import preflight
from preflight.facts import Entry, FileFacts
from preflight.reading.frames import Answer, Failed, FrameError, Ready, read_answer, write_frame
from preflight.reading.limits import Limits
from preflight.reading.progress import Reading
from preflight.reading.work import Work

READER = "preflight.reading.document"
TICK = 0.05
START_SECONDS = 120.0
"""A first start on a slow disk, with a virus scanner looking on, may take long."""

KILL_SECONDS = 5.0

_ONE_THREAD = {"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
"""Files are read side by side already; threads in each would only take memory. Pictures alone are read with more, where
fewer files wait than there are processors.
"""

Tell = Callable[[str, int, int], None]


def read_all(
    folder: Path,
    entries: Sequence[Entry],
    *,
    limits: Limits,
    workers: int | None = None,
    tell: Tell | None = None,
    reader: str = READER,
) -> tuple[FileFacts, ...]:
    """The facts of each entry, in the order of the entries. All workers are gone when this returns or raises."""
    readings = [Reading(entry, limits) for entry in entries]
    run_all(folder, readings, limits=limits, workers=workers, tell=tell, reader=reader)
    return tuple(r.facts() for r in readings)


def run_all(
    folder: Path,
    works: Sequence[Work],
    *,
    limits: Limits,
    workers: int | None = None,
    tell: Tell | None = None,
    reader: str,
) -> None:
    """Until all are finished, by the reader that is named. All workers are gone when this returns or raises."""
    waiting = [work for work in works if not work.finished]
    if waiting:
        crew = _Crew(folder.absolute(), waiting, limits, _number(workers), tell, reader)
        try:
            crew.run()
        finally:
            crew.kill()


def _number(wished: int | None) -> int:
    """How many read at the same time: as wished, else the processors, at most four."""
    return max(1, wished or min(os.cpu_count() or 1, 4))


class _Worker:
    """A child process, a thread that takes its answers, and the file it was given."""

    def __init__(self, reader: str, answers: queue.Queue[tuple[_Worker, Answer | None, int]]) -> None:
        command = [sys.executable, "-P", "-m", "preflight.reading.worker", reader]
        self.process = subprocess.Popen(  # noqa: S603  our own module, no words of a user
            command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=_environment(),
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
        )
        self.work: Work | None = None
        self.ready = False
        self.heard = time.monotonic()
        self._answers = answers
        self._dismissed = False
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        with cast("BinaryIO", self.process.stdout) as pipe:
            try:
                while (heard := read_answer(pipe)) is not None:
                    self._say(*heard)
            except FrameError as error:
                self._say(Failed(str(error)))
            except OSError:
                pass  # a broken pipe is its end
            self._say(None)

    def _say(self, answer: Answer | None, size: int = 0) -> None:
        """Pass an answer of so many bytes on, while the parent is busy wait; nobody listens to a dismissed worker."""
        while not self._dismissed:
            with contextlib.suppress(queue.Full):
                self._answers.put((self, answer, size), timeout=TICK)
                return

    def give(self, work: Work, folder: Path, threads: int) -> None:
        """Hand over the file."""
        self.work = work
        self.heard = time.monotonic()
        work.begin(self.heard)
        job = msgspec.structs.replace(work.job(folder), threads=threads)
        with contextlib.suppress(OSError):  # it has just died: the end of its pipe says so
            write_frame(cast("BinaryIO", self.process.stdin), job)

    def memory(self) -> float:
        """Megabytes that it holds now."""
        try:
            return float(psutil.Process(self.process.pid).memory_info().rss) / 1e6
        except psutil.Error:
            return 0.0

    def kill(self) -> None:
        """End it, whatever it does."""
        self._dismissed = True
        self.process.kill()
        with contextlib.suppress(subprocess.TimeoutExpired):  # one that waits for a disk goes when it can
            self.process.wait(KILL_SECONDS)
        with contextlib.suppress(OSError):
            cast("BinaryIO", self.process.stdin).close()


def _environment() -> dict[str, str]:
    """The child finds modules where the parent finds them, and never in the current folder (it may be the filer's)."""
    home = str(Path(preflight.__file__).resolve().parent.parent)
    places = [home, *(p for p in sys.path if p and p not in (home, str(Path.cwd())))]
    return {**os.environ, "PYTHONPATH": os.pathsep.join(places), **_ONE_THREAD}


class _Crew:
    """The workers of one run: as many read as wished, one more gets ready meanwhile."""

    def __init__(
        self, folder: Path, waiting: list[Work], limits: Limits, size: int, tell: Tell | None, reader: str
    ) -> None:
        self._folder = folder
        self._waiting = sorted(waiting, key=lambda r: -r.entry.size)
        self._limits = limits
        self._size = size
        self._tell = tell
        self._reader = reader
        self._workers: list[_Worker] = []
        self._answers: queue.Queue[tuple[_Worker, Answer | None, int]] = queue.Queue(maxsize=64)

    def run(self) -> None:
        """Until every file is read or given up."""
        while self._waiting or any(w.work for w in self._workers):
            self._start()
            self._hand_out()
            try:
                worker, answer, size = self._answers.get(timeout=TICK)
            except queue.Empty:
                pass
            else:
                if worker in self._workers:
                    self._take(worker, answer, size)
            self._watch()

    def kill(self) -> None:
        """End all workers."""
        for worker in self._workers:
            worker.kill()
        self._workers.clear()

    def _start(self) -> None:
        busy = sum(w.work is not None for w in self._workers)
        wanted = min(self._size + 1, busy + len(self._waiting))
        while len(self._workers) < wanted:
            self._workers.append(_Worker(self._reader, self._answers))

    def _hand_out(self) -> None:
        busy = sum(w.work is not None for w in self._workers)
        for worker in self._workers:
            if worker.ready and worker.work is None and self._waiting and busy < self._size:
                threads = max(1, self._size // (busy + len(self._waiting)))
                worker.give(self._waiting.pop(0), self._folder, threads)
                busy += 1

    def _take(self, worker: _Worker, answer: Answer | None, size: int) -> None:
        worker.heard = time.monotonic()
        if isinstance(answer, Ready):
            worker.ready = True
        elif worker.work is None:
            self._lost_before_work(worker)
        elif answer is None:
            self._stop(worker, "the reader stopped unexpectedly on it")
        elif isinstance(answer, Failed):
            self._stop(worker, answer.why)
        elif too_much := worker.work.too_much(size):
            self._stop(worker, too_much)
        else:
            worker.work.take(answer)
            self._report(worker.work)
            if worker.work.finished:
                self._dismiss(worker)

    def _watch(self) -> None:
        now = time.monotonic()
        for worker in tuple(self._workers):
            work = worker.work
            if work is None:
                if not worker.ready and now - worker.heard > START_SECONDS:
                    self._lost_before_work(worker)
            elif late := work.late(now, worker.heard):
                self._stop(worker, late)
            elif worker.memory() > self._limits.memory:
                self._stop(worker, f"reading it needed more than {self._limits.memory} MB of memory and was stopped")

    def _stop(self, worker: _Worker, why: str) -> None:
        """Kill the worker; its file is given up, or taken up again after the page that stopped it."""
        work = worker.work
        self._dismiss(worker)
        if work is not None:
            work.stopped(why)
            self._report(work)
            if not work.finished:
                self._waiting.insert(0, work)

    def _lost_before_work(self, worker: _Worker) -> None:
        """A worker that cannot even start stands for all: one file is given up for each, so that it ends."""
        self._dismiss(worker)
        if self._waiting:
            self._waiting.pop(0).give_up("the reader could not be started")

    def _dismiss(self, worker: _Worker) -> None:
        worker.work = None
        worker.kill()
        self._workers.remove(worker)

    def _report(self, work: Work) -> None:
        if self._tell is not None:
            self._tell(work.entry.name, work.done, work.expected)
