"""What the filer declares about the filing: in filing.toml or on the command line."""

from __future__ import annotations

import datetime as dt
from typing import Literal

import msgspec

ReadyFor = Literal["filing", "examination"]
"""For what it must be good: for getting the filing date, or for the examination that follows."""


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
