"""What a crew of workers needs to know of the work that it does."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

from preflight.facts import Entry
from preflight.reading.frames import Answer, Job


class Work(Protocol):
    """What is to be got from one file, and how far it is."""

    entry: Entry
    finished: bool

    @property
    def done(self) -> int:
        """Pages or pictures that are done."""

    @property
    def expected(self) -> int:
        """How many there will be; 0 while that is not known."""

    def job(self, folder: Path) -> Job:
        """What a worker is to do now."""

    def begin(self, now: float) -> None:
        """A worker has it."""

    def take(self, answer: Answer) -> None:
        """Enter what a worker says."""

    def late(self, now: float, heard: float) -> str | None:
        """Why it has to be stopped now, if it has; `heard` is when its worker last answered."""

    def too_much(self, size: int) -> str | None:
        """Why it has to be stopped now that an answer of so many bytes has come, if it has."""

    def stopped(self, why: str) -> None:
        """The worker is gone; it goes on with another one unless it is `finished` now."""

    def give_up(self, why: str) -> None:
        """Nothing more will come."""
