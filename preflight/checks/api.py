"""What a check yields and how it is declared: the surface that plug-in authors use."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, Generic, TypeVar

import msgspec

from preflight.facts import Box, FileFacts
from preflight.papers import Filing, Paper


class Place(msgspec.Struct, frozen=True):
    """Where something stands; without a file it is the folder as a whole."""

    file: str | None = None
    page: int | None = None
    box: Box | None = None
    role: str | None = None


class Measured(msgspec.Struct, frozen=True):
    """A number against its limit. This is the only place that compares, so that verdict and figures agree.

    `slack` is the larger of the requirement's tolerance and the reading error, never their sum.
    """

    what: str
    value: float
    unit: str
    """cm, pt, pages, sheets, characters, bytes, %, USD or empty."""
    least: float | None = None
    most: float | None = None
    slack: float = 0.0
    at: Place = Place()
    sort: str = ""
    """Lets a requirement give this outcome consequences of its own."""
    also: tuple[Place, ...] = ()
    """Further places of the same defect. One that tells the same elsewhere must tell it at all of them."""
    shown: tuple[Place, ...] = ()
    """Places to look at beside it, such as what another paper states: the defect is not there."""
    words: dict[str, str] = {}
    """Further words for the message, as the check declared them."""

    @property
    def held(self) -> bool:
        """Whether the value keeps within its limits, slack included."""
        low = self.least is None or self.value >= self.least - self.slack
        high = self.most is None or self.value <= self.most + self.slack
        return low and high

    @property
    def breach(self) -> float:
        """How far outside the nearer limit; 0 inside."""
        under = 0.0 if self.least is None else self.least - self.value
        over = 0.0 if self.most is None else self.value - self.most
        return max(under, over, 0.0)


class Seen(msgspec.Struct, frozen=True):
    """Something that is not a number: what was seen against what is asked for."""

    what: str
    held: bool
    measured: str = ""
    required: str = ""
    at: Place = Place()
    sort: str = ""
    also: tuple[Place, ...] = ()
    shown: tuple[Place, ...] = ()
    words: dict[str, str] = {}
    fleeting: bool = False
    """What was measured changes by itself, like a clock: a sign-off of the finding does not hold on to it."""


class Unread(msgspec.Struct, frozen=True):
    """Something that could not be read; never counted as met."""

    why: str
    at: Place = Place()
    doubt: bool = False
    """It was read, but not for sure: `why` says what a person has to look for there."""
    light: bool = False
    """What it leaves open would be advice at most."""


Outcome = Measured | Seen | Unread
Outcomes = Iterator[Outcome]

Subject = TypeVar("Subject", FileFacts, Paper, Filing)
Limits = TypeVar("Limits")


class NoLimits(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """For checks that need no numbers."""


class Check(msgspec.Struct, Generic[Subject, Limits], frozen=True):
    """Code that measures. It knows no office and holds no number of law.

    `of` says what it looks at: every file of the folder, every paper of the roles that the requirement
    applies to, or the filing as a whole. `sorts` and `says` are the sorts of outcome and the further
    words that its outcomes may carry; a rulebook that uses others is refused. `acquits_scans`: what it looks for
    is found, or agrees, so that also words read from a scan may show that all is well; not for checks that hold where
    they find nothing, or that measure how a text is set.
    """

    name: str
    of: type[Any]
    takes: type[Any]
    run: Callable[[Any, Any], Outcomes]
    sorts: tuple[str, ...] = ()
    says: tuple[str, ...] = ()
    acquits_scans: bool = False

    @property
    def measures(self) -> str:
        """Its first line of documentation."""
        return (self.run.__doc__ or "").strip().split("\n")[0]


AnyCheck = Check[Any, Any]


def check(
    name: str,
    *,
    of: type[Subject],
    takes: type[Limits],
    sorts: tuple[str, ...] = (),
    says: tuple[str, ...] = (),
    acquits_scans: bool = False,
) -> Callable[[Callable[[Subject, Limits], Outcomes]], Check[Subject, Limits]]:
    """Declare a check; the decorated function becomes a `Check` that a plug-in offers."""

    def declare(function: Callable[[Subject, Limits], Outcomes]) -> Check[Subject, Limits]:
        return Check(name, of, takes, function, sorts, says, acquits_scans)

    return declare
