"""How far one file is read, and its facts in the end; a page that could not be read is never left out."""

from __future__ import annotations

from pathlib import Path

import msgspec

from preflight.facts import Entry, FileFacts, Page, Source, Structure
from preflight.reading.frames import Answer, Done, Job, LaidOut, Looked, Looking, Opened, PageRead, Proved, Typed, Wrote
from preflight.reading.limits import Limits


class Reading:
    """The state of one file. `finished` once its facts are complete or it is given up."""

    def __init__(self, entry: Entry, limits: Limits) -> None:
        self.entry = entry
        self.limits = limits
        self.unread = entry.unread
        self.finished = entry.unread is not None
        self.expected = 0
        self._media_type = ""
        self._readers: dict[str, str] = {}
        self._structure: Structure | None = None
        self._source: Source | None = None
        self._pages: dict[int, Page] = {}
        self._began: float | None = None
        self._restarts = 0
        self._to_look: set[int] = set()
        self._to_prove: set[int] = set()
        self._looks = 0
        self._size = 0
        self._failed = self.finished  # what the system does not let us read may be sound

    @property
    def done(self) -> int:
        """Pages read or given up."""
        return len(self._pages) - len(self._to_look | self._to_prove)

    @property
    def next_page(self) -> int:
        """The page to go on with."""
        return len(self._pages) + 1

    def job(self, folder: Path) -> Job:
        """What a worker is to do."""
        return Job(str(folder / self.entry.name), self.entry.sha256, self.limits, self.next_page)

    def begin(self, now: float) -> None:
        """A worker has it; the time of the file runs from the first time on."""
        self._began = now if self._began is None else self._began

    def take(self, answer: Answer) -> None:
        """Enter what a worker says; what does not fit the course of a file gives it up."""
        match answer:
            case Typed(media_type, readers):
                self._media_type, self._readers = media_type, readers
            case Wrote(source):
                self._source = source
            case Opened(structure, pages):
                self._structure = structure or self._structure
                self.expected = min(pages, self.limits.pages)
            case PageRead(page) if page.number == self.next_page <= self.expected:
                self._pages[page.number] = page
            case LaidOut(number, blocks, unread) if number in self._pages:
                self._pages[number] = msgspec.structs.replace(self._pages[number], blocks=blocks, blocks_unread=unread)
            case Looking(numbers, proving) if self._pages.keys() >= {*numbers, *proving}:
                self._to_look, self._to_prove = set(numbers), set(proving)
                self._looks = len(self._to_look | self._to_prove)
            case Proved(number, unread) if number in self._to_prove:
                self._to_prove.remove(number)
                self._looked(number, text_unread=unread)
            case Looked(number, readings, unread, writing) if number in self._to_look:
                self._to_look.remove(number)
                self._looked(number, readings=readings, readings_unread=unread, writing=writing)
            case Done(unread, ours):
                self._end(unread)
                self._failed = ours
            case _:
                self.give_up("the reader answered out of turn")

    def late(self, now: float, heard: float) -> str | None:
        """Why it has to be stopped now, if it has; `heard` is when its worker last answered."""
        allowed = self.limits.seconds * (1 + self.expected // 100) + self.limits.look_seconds * self._looks
        running = now - (now if self._began is None else self._began) - self._restarts * self.limits.page_seconds
        looking = bool(self._to_look or self._to_prove)
        patience = self.limits.page_seconds + looking * self.limits.look_seconds
        if self.expected and now - heard > patience:
            return f"reading it took longer than {patience:g} seconds and was stopped"
        if running > allowed:
            self._restarts = self.limits.restarts
            return f"reading it took longer than {allowed:g} seconds and was stopped"
        return None

    def too_much(self, size: int) -> str | None:
        """Why it has to be stopped now that an answer of so many bytes has come, if it has."""
        self._size += size
        if self._size <= self.limits.facts * 1_000_000:
            return None
        self._restarts = self.limits.restarts
        return f"it holds more text and marks than this program keeps of one file ({self.limits.facts} MB)"

    def stopped(self, why: str) -> None:
        """The worker is gone: the page it was at is unread; so is the rest, if it was stopped too often."""
        if not self.expected:
            self.give_up(why)
            return
        if self._to_look or self._to_prove:
            self._blind(why)
            self.finished = True
            return
        self._lose(self.next_page, why)
        if self._restarts >= self.limits.restarts:
            self._end(None, why)
        elif len(self._pages) >= self.expected:
            self.finished = True
        self._restarts += 1

    def give_up(self, why: str) -> None:
        """Nothing more will come."""
        self.unread, self.finished, self._failed = why, True, True

    def facts(self) -> FileFacts:
        """What is known of the file."""
        return FileFacts(
            name=self.entry.name,
            size=self.entry.size,
            sha256=self.entry.sha256,
            media_type=self._media_type,
            unread=self.unread,
            reader_failed=self._failed,
            structure=self._structure,
            pages=tuple(self._pages[number] for number in sorted(self._pages)),
            source=self._source,
            readers=self._readers,
        )

    def _end(self, unread: str | None, why: str = "the reader ended before this page") -> None:
        self.unread, self.finished = unread, True
        self._blind(why)
        if unread is None:
            for number in range(self.next_page, self.expected + 1):
                self._lose(number, why)

    def _blind(self, why: str) -> None:
        """The pictures that were not read yet will not be; what was to be proved by them is not trusted."""
        for number in sorted(self._to_look):
            self._looked(number, readings_unread=why)
        for number in sorted(self._to_prove):
            self._looked(number, text_unread=why)
        self._to_look.clear()
        self._to_prove.clear()

    def _looked(self, number: int, **what: object) -> None:
        self._pages[number] = msgspec.structs.replace(self._pages[number], **what)

    def _lose(self, number: int, why: str) -> None:
        if number <= self.expected:
            self._pages[number] = Page(number=number, width=0.0, height=0.0, unread=why)
