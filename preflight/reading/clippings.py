"""Parts of pages as pictures for people: made after everything is judged, in workers, and never kept."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from preflight.facts import Cut, Entry
from preflight.reading.frames import Answer, Clipped, Done, Job
from preflight.reading.limits import Limits
from preflight.reading.workers import run_all

READER = "preflight.reading.cutting"


class _Cuttings:
    """The cut-outs of one file. What cannot be made is left out: a report without a picture is still a report."""

    expected = 0

    def __init__(self, entry: Entry, cuts: Sequence[Cut], limits: Limits) -> None:
        self.entry = entry
        self.finished = False
        self.made: dict[Cut, bytes] = {}
        self._cuts = tuple(cuts)
        self._limits = limits
        self._began: float | None = None
        self._size = 0

    @property
    def done(self) -> int:
        """Pictures made."""
        return len(self.made)

    def job(self, folder: Path) -> Job:
        """What a worker is to do."""
        return Job(str(folder / self.entry.name), self.entry.sha256, self._limits, cuts=self._cuts)

    def begin(self, now: float) -> None:
        """A worker has it."""
        self._began = now

    def take(self, answer: Answer) -> None:
        """Enter what a worker says."""
        match answer:
            case Clipped(index, encoded) if index < len(self._cuts):
                self.made[self._cuts[index]] = encoded
            case Done():
                self.finished = True
            case _:
                self.give_up("the reader answered out of turn")

    def late(self, now: float, heard: float) -> str | None:
        """Why it has to be stopped now, if it has."""
        slow = now - heard > self._limits.page_seconds
        long = self._began is not None and now - self._began > self._limits.seconds
        return "drawing its pages took too long" if slow or long else None

    def too_much(self, size: int) -> str | None:
        """Why it has to be stopped now that an answer of so many bytes has come, if it has."""
        self._size += size
        return "its pictures are too large" if self._size > self._limits.facts * 1_000_000 else None

    def stopped(self, why: str) -> None:
        """The worker is gone."""
        self.give_up(why)

    def give_up(self, _why: str) -> None:
        """Nothing more will come."""
        self.finished = True


def clip(
    folder: Path,
    entries: Iterable[Entry],
    cuts: Mapping[str, Sequence[Cut]],
    *,
    limits: Limits = Limits(),  # noqa: B008  frozen
    reader: str = READER,
) -> dict[tuple[str, Cut], bytes]:
    """The cut-outs that are asked for, encoded, by the name of the file and the cut; what cannot be made is missing.

    Each file is opened in a process of its own, for reading only, with the same limits as when it is read.
    """
    named = {entry.name: entry for entry in entries}
    works = [_Cuttings(named[name], some, limits) for name, some in cuts.items() if some and name in named]
    run_all(folder, works, limits=limits, reader=reader)
    return {(work.entry.name, cut): encoded for work in works for cut, encoded in work.made.items()}
