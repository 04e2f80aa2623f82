"""Turns judged findings into the words of the report: the only step between numbers and text."""

from __future__ import annotations

from collections.abc import Mapping

from preflight.checks import Measured, Outcome, Seen, Unread
from preflight.checks import Place as Where
from preflight.judging import Finding as Judged
from preflight.judging import ReadyFor
from preflight.reporting.report import Consequence, Consequences, Finding, Later, Place, SignedOff, Value
from preflight.reporting.wording import clean, figures


def tell_finding(judged: Judged, sha256: Mapping[str, str], ready_for: ReadyFor) -> Finding:
    """One finding as it stands in the report."""
    requirement = judged.requirement
    measured, required = values(judged.outcome)
    places = tuple(tell_place(place, sha256) for place in judged.places)
    first = places[0] if places else None
    return Finding(
        id=judged.id,
        requirement=requirement.id,
        check=requirement.check or "",
        state=judged.state,
        consequence=_weight(judged, ready_for),
        consequences=Consequences(judged.filing, judged.examination),
        covers=judged.covers,
        file=first.file if first else None,
        page=first.page if first else None,
        box_cm=first.box_cm if first else None,
        places=places,
        measured=measured,
        required=required,
        message=_filled(judged.message, judged.outcome, measured, required),
        why=requirement.why,
        fix=_filled(judged.fix, judged.outcome, measured, required),
        citations=tuple(c.source for c in requirement.citations),
        known=requirement.known,
        signed_off=SignedOff(off.by, off.on, off.reason) if (off := judged.signed_off) else None,
    )


def _weight(judged: Judged, ready_for: ReadyFor) -> Consequence:
    level = judged.consequence(ready_for)
    if level == "none":
        raise ValueError(f"{judged.requirement.id}: what only the later application needs is no finding")
    return level


def tell_later(judged: Judged, sha256: Mapping[str, str]) -> Later:
    """What only the later application needs."""
    return Later(
        requirement=judged.requirement.id,
        message=_filled(judged.message, judged.outcome, *values(judged.outcome)),
        places=tuple(tell_place(place, sha256) for place in judged.places),
    )


def tell_place(place: Where, sha256: Mapping[str, str]) -> Place:
    """A place with the digest of its file."""
    file = place.file or ""
    return Place(file=file, sha256=sha256.get(file, ""), role=place.role, page=place.page, box_cm=place.box)


def values(outcome: Outcome) -> tuple[Value | None, Value | None]:
    """What was measured and what is asked for, rounded together so that the fault shows."""
    if isinstance(outcome, Measured):
        measured, required = figures(outcome.value, outcome.unit, outcome.least, outcome.most)
        limit = outcome.least if outcome.least is not None else outcome.most
        return Value(outcome.value, outcome.unit, measured), Value(limit, outcome.unit, required)
    if isinstance(outcome, Unread):
        return Value(None, None, clean(outcome.why)), None
    wanted = Value(None, None, clean(outcome.required)) if outcome.required else None
    return (Value(None, None, clean(outcome.measured)) if outcome.measured else None), wanted


def _filled(text: str, outcome: Outcome, measured: Value | None, required: Value | None) -> str:
    """The text with its placeholders filled; what comes from papers is made harmless, and stays data."""
    words = {} if isinstance(outcome, Unread) else {name: clean(word) for name, word in outcome.words.items()}
    words |= {
        "what": clean(outcome.what) if isinstance(outcome, Measured | Seen) else "",
        "measured": measured.text if measured else "",
        "required": required.text if required else "",
    }
    return text.format_map(words)
