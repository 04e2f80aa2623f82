"""What the filer declares about the filing: in filing.toml or on the command line."""

from __future__ import annotations

import datetime as dt
from typing import Literal

import msgspec

DECLARATION = "filing.toml"
"""The file in which the filer declares it."""
ReadyFor = Literal["filing", "examination"]
"""For what it must be good: for getting the filing date, or for the examination that follows."""


class SignOff(msgspec.Struct, frozen=True):
    """A reviewer's acceptance of one finding, as it stands in filing.toml.

    `requirement` and `message` say what was accepted, for whoever reads it later; `files` gives the SHA-256 that each
    file had then.
    """

    finding: str
    by: str
    on: dt.date
    reason: str
    requirement: str = ""
    message: str = ""
    files: dict[str, str] = {}


class Answer(msgspec.Struct, frozen=True):
    """A reviewer's answer to a question, with the SHA-256 that each file had on which it rests."""

    question: str
    value: Literal["yes", "no", "does not apply"]
    by: str
    on: dt.date
    note: str = ""
    files: dict[str, str] = {}


class Declared(msgspec.Struct, frozen=True):
    """None, or nothing, means: not declared."""

    office: str | None = None
    kind: str | None = None
    entity: str | None = None
    title: str | None = None
    docket: str | None = None
    inventors: tuple[str, ...] = ()
    filing_date: dt.date | None = None
    payment_date: dt.date | None = None
    ready_for: str | None = None
    fee_paid: int | None = None
    """In whole units of the office's currency."""
    papers: dict[str, str] = {}
    """File name to role: which file is which paper."""
    signed_off: tuple[SignOff, ...] = ()
    answers: tuple[Answer, ...] = ()


class Settled(msgspec.Struct, frozen=True):
    """What the run assumes, once command line, filing.toml and defaults are weighed; `how_known` says for each."""

    office: str
    kind: str
    ready_for: ReadyFor
    filing_date: dt.date
    payment_date: dt.date
    declared: Declared
    """filing.toml with what the command line overrides."""
    how_known: dict[str, str] = {}

    @property
    def strictnesses(self) -> tuple[ReadyFor, ReadyFor]:
        """The one asked for, then the other."""
        return ("filing", "examination") if self.ready_for == "filing" else ("examination", "filing")
