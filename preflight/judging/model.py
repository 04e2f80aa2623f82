"""What is judged, and what comes of it."""

from __future__ import annotations

from typing import Literal

import msgspec

from preflight.checks import Outcome, Place, Unread
from preflight.facts.declared import Answer, ReadyFor, SignOff
from preflight.rulebooks import Level, Requirement, worse

State = Literal["met", "broken", "unread", "not applicable", "by hand", "not measured"]


class Examined(msgspec.Struct, frozen=True):
    """A requirement with all that its check saw; `trouble` names a check that failed."""

    requirement: Requirement
    outcomes: tuple[Outcome, ...] = ()
    trouble: str | None = None
    applies: bool = True


class Finding(msgspec.Struct, frozen=True):
    """One defect with all its places, the worst first; or one reason why something could not be read."""

    requirement: Requirement
    outcome: Outcome
    places: tuple[Place, ...]
    filing: Level
    examination: Level
    message: str
    """With placeholders."""
    fix: str
    covers: tuple[str, ...] = ()
    id: str = ""
    for_later: bool = False
    signed_off: SignOff | None = None

    @property
    def state(self) -> Literal["broken", "unread"]:
        """Broken by a measurement, or not read."""
        return "unread" if isinstance(self.outcome, Unread) else "broken"

    def consequence(self, ready_for: ReadyFor) -> Level:
        """What happens if it is filed so; for the examination the graver of the two."""
        return self.filing if ready_for == "filing" else worse(self.filing, self.examination)


class Void(msgspec.Struct, frozen=True):
    """A sign-off or an answer that holds no more, or never did."""

    entry: SignOff | Answer
    why: str


class Verdict(msgspec.Struct, frozen=True):
    """Everything that was judged."""

    ready_for: ReadyFor
    findings: tuple[Finding, ...]
    for_later: tuple[Finding, ...]
    states: dict[str, State]
    passed: bool
    answers: dict[str, Answer] = {}
    """Of the questions that are answered, as long as that holds."""
    void: tuple[Void, ...] = ()
    """Sign-offs and answers that hold no more."""
    told_by: dict[str, str] = {}
    """Broken requirements without a finding of their own, each with the one whose finding reports it."""
