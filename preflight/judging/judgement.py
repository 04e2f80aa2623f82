"""Outcomes joined with their requirements: findings, states, verdict, in one total order."""

from __future__ import annotations

import hashlib
import string
from collections.abc import Iterable, Mapping

import msgspec

from preflight.checks import Measured, Outcome, Place, Seen, Unread
from preflight.facts.declared import ReadyFor
from preflight.judging.model import Examined, Finding, State, Verdict
from preflight.judging.reviewing import NOT_REVIEWED, Review, answered_no, weigh_sign_offs
from preflight.papers import SCAN
from preflight.rulebooks import ORDER, Level, Requirement, worse

Spoken = dict[str, list[tuple[Place, int]]]
"""Where each requirement is broken, with the weight of that breach; a greater one is graver."""

FIX_OF_UNREAD = "export the file again so that it can be read, or check by eye what is left open"
FIX_OF_DOUBT = "compare the place with the scan by eye, or export the text so that it can be read"
FIX_OF_A_SCAN = "export it as text if you can; if it is a scan by right, check by eye what is left open"


def judge(
    examined: Iterable[Examined], sha256: Mapping[str, str], ready_for: ReadyFor, review: Review = NOT_REVIEWED
) -> Verdict:
    """Findings in their order, what only the later application needs, the state of each requirement, the verdict.

    `sha256` gives the digest of each paper's file: a finding's id holds it, so that a changed file voids a sign-off.
    What a reviewer accepted does not fail; a question answered "no" fails where a broken requirement would.
    """
    every = tuple(examined)
    accepted: frozenset[tuple[str, Place]] = frozenset()
    while True:
        spoken = _places(every, ready_for, accepted)
        broken = [finding for e in every for finding in _broken(e, spoken, ready_for)]
        stated = [_identified(f, sha256) for f in (*broken, *_unread(every, spoken, ready_for))]
        now = [f for f in stated if f.consequence(ready_for) != "none"]
        later = [f for f in stated if f.consequence(ready_for) == "none" and f.examination != "none"]
        now, void = weigh_sign_offs(now, later, review, sha256, ready_for)
        # who accepts one breach has not seen those that left their place to it: they speak for themselves then
        accepted, before = accepted | _accepted(now), accepted
        if accepted == before:
            break
    findings = tuple(sorted(now, key=lambda f: order(f, ready_for)))
    grave = any(f.signed_off is None and f.consequence(ready_for) != "advice" for f in findings)
    return Verdict(
        ready_for=ready_for,
        findings=findings,
        for_later=tuple(sorted(later, key=lambda f: order(f, ready_for))),
        states={e.requirement.id: state(e) for e in every},
        passed=not grave and not answered_no(every, review, ready_for),
        answers=review.answers,
        void=(*void, *review.void),
        told_by=_told_by(every, spoken, stated, ready_for),
    )


def state(examined: Examined) -> State:
    """What became of one requirement. Nothing looked at is never met."""
    requirement = examined.requirement
    if not examined.applies:
        return "not applicable"
    if requirement.check is None:
        return "by hand" if requirement.asked_in else "not measured"
    if any(not isinstance(o, Unread) and not o.held for o in examined.outcomes):
        return "broken"
    if examined.trouble or any(isinstance(o, Unread) for o in examined.outcomes):
        return "unread"
    return "met" if examined.outcomes else "not applicable"


def order(finding: Finding, ready_for: ReadyFor) -> tuple[object, ...]:
    """The one order of findings: consequence, file, page, top, left, requirement."""
    at = finding.places[0] if finding.places else Place()
    box = at.box
    return (
        -ORDER.index(finding.consequence(ready_for)),
        finding.state == "unread",
        at.file or "",
        at.page or 0,
        box.top if box else 0.0,
        box.left if box else 0.0,
        finding.requirement.id,
        finding.id,
    )


def _broken(examined: Examined, spoken: Spoken, ready_for: ReadyFor) -> list[Finding]:
    """One finding a defect, with every page that shows it; files are told apart where something was measured.

    Places where another requirement reports the same defect are left to it.
    """
    groups: dict[tuple[object, ...], list[Measured | Seen]] = {}
    for outcome in _not_held(examined):
        if _reported_by(examined.requirement, outcome, spoken, ready_for):
            continue
        grade = grade_for(examined.requirement, outcome)
        key = (outcome.what, outcome.sort, grade, _told(outcome, grade))
        groups.setdefault(key, []).append(outcome)
    return [_finding(examined.requirement, outcomes) for outcomes in groups.values()]


def _told(outcome: Measured | Seen, grade: tuple[Level, Level, str, str]) -> tuple[object, ...]:
    """What tells this defect from others: the file where something was measured, else the words of the message."""
    if isinstance(outcome, Measured):
        return (outcome.at.file,)
    words = {"measured": outcome.measured, "required": outcome.required, **outcome.words}
    used = {name for text in grade[2:] for _, name, _, _ in string.Formatter().parse(text) if name}
    return tuple(sorted((name, words[name]) for name in used & words.keys()))


def _finding(requirement: Requirement, outcomes: list[Measured | Seen]) -> Finding:
    worst = max(outcomes, key=lambda o: o.breach if isinstance(o, Measured) else 0.0)
    ordered = [worst, *(o for o in outcomes if o is not worst)]
    filing, examination, message, fix = grade_for(requirement, worst)
    return Finding(
        requirement=requirement,
        outcome=worst,
        places=tuple(place for o in ordered for place in (o.at, *o.also, *o.shown) if place.file),
        filing=filing,
        examination=examination,
        message=message,
        fix=fix,
    )


def grade_for(requirement: Requirement, outcome: Measured | Seen) -> tuple[Level, Level, str, str]:
    """Consequences, message and fix for this outcome: those of the first grade that fits."""
    for grade in requirement.levels:
        if grade.sort is not None and grade.sort != outcome.sort:
            continue
        value = outcome.value if isinstance(outcome, Measured) else None
        if grade.above is not None and (value is None or value <= grade.above):
            continue
        if grade.below is not None and (value is None or value >= grade.below):
            continue
        return grade.filing, grade.examination, grade.message or requirement.message, grade.fix or requirement.fix
    return requirement.filing, requirement.examination, requirement.message, requirement.fix


def _not_held(examined: Examined) -> list[Measured | Seen]:
    return [outcome for outcome in examined.outcomes if not isinstance(outcome, Unread) and not outcome.held]


def _places_of(outcome: Measured | Seen) -> list[Place]:
    """Where the defect is, not what is shown beside it; a place without a file is the folder as a whole."""
    return [place for place in (outcome.at, *outcome.also) if place.file] or [Place()]


def _places(every: Iterable[Examined], ready_for: ReadyFor, accepted: frozenset[tuple[str, Place]]) -> Spoken:
    """Where each requirement is broken and not accepted, and how much that weighs."""
    places: Spoken = {}
    for examined in every:
        name = examined.requirement.id
        for outcome in _not_held(examined):
            weight = _weight_of(examined.requirement, outcome, ready_for)
            told = [(place, weight) for place in _places_of(outcome) if (name, place) not in accepted]
            places.setdefault(name, []).extend(told)
    return places


def _told_by(
    every: Iterable[Examined], spoken: Spoken, stated: Iterable[Finding], ready_for: ReadyFor
) -> dict[str, str]:
    """The broken requirements that have no finding of their own, each with one that reports it."""
    own = {finding.requirement.id for finding in stated if finding.state == "broken"}
    return {
        e.requirement.id: speaker
        for e in every
        if e.requirement.id not in own
        for outcome in _not_held(e)
        if (speaker := _reported_by(e.requirement, outcome, spoken, ready_for))
    }


def _accepted(findings: Iterable[Finding]) -> frozenset[tuple[str, Place]]:
    signed = [f for f in findings if f.signed_off and f.state == "broken"]
    return frozenset((f.requirement.id, place) for f in signed for place in f.places or (Place(),))


def _reported_by(requirement: Requirement, outcome: Measured | Seen, spoken: Spoken, ready_for: ReadyFor) -> str | None:
    weight = _weight_of(requirement, outcome, ready_for)
    return _speaker(requirement.yields_to, _places_of(outcome), weight, spoken)


def _weight_of(requirement: Requirement, outcome: Measured | Seen, ready_for: ReadyFor) -> int:
    filing, examination, *_ = grade_for(requirement, outcome)
    return _weight(filing, examination, ready_for)


def _weight(filing: Level, examination: Level, ready_for: ReadyFor) -> int:
    return ORDER.index(filing if ready_for == "filing" else worse(filing, examination))


def _why_unread(requirement: Requirement) -> tuple[str, ...]:
    return (*requirement.yields_to, *requirement.unread_yields_to)


def _speaker(others: Iterable[str], mine: Iterable[Place], weight: int, spoken: Spoken) -> str | None:
    """Which of the others reports the same defect at all of my places, and as gravely: advice hides no notice."""
    for other in others:
        theirs = [place for place, theirs in spoken.get(other, []) if theirs >= weight]
        if theirs and all(any(_same_place(a, b) for b in theirs) for a in mine):
            return other
    return None


def _same_place(mine: Place, theirs: Place) -> bool:
    """Whether what they say covers my place: the whole folder covers a file, a file does not cover the folder."""
    if mine.file is None or theirs.file is None:
        return theirs.file is None
    return mine.file == theirs.file and (mine.page is None or theirs.page is None or mine.page == theirs.page)


def _unread(examined: Iterable[Examined], spoken: Spoken, ready_for: ReadyFor) -> list[Finding]:
    """One finding a file and reason, naming the requirements that it leaves open.

    Where a broken requirement already says why nothing could be read there, it alone speaks.
    """
    groups: dict[tuple[str | None, str], list[tuple[Requirement, Unread]]] = {}
    for e in examined:
        filing, examination = (_at_most_notice(level) for level in e.requirement.worst)
        weight = _weight(filing, examination, ready_for)
        for outcome in e.outcomes:
            if isinstance(outcome, Unread) and not _speaker(_why_unread(e.requirement), [outcome.at], weight, spoken):
                groups.setdefault((outcome.at.file, outcome.why), []).append((e.requirement, outcome))
        if e.trouble and e.applies:
            groups.setdefault((None, e.trouble), []).append((e.requirement, Unread(e.trouble)))
    return [_unread_finding(held) for held in groups.values()]


def _unread_finding(held: list[tuple[Requirement, Unread]]) -> Finding:
    why, doubt = held[0][1].why, held[0][1].doubt
    light = all(outcome.light for _, outcome in held)
    covered = sorted({requirement.id: requirement for requirement, _ in held}.values(), key=lambda r: r.id)
    filing: Level = "none"
    examination: Level = "none"
    for requirement in covered:
        a, b = requirement.worst
        filing, examination = worse(filing, a), worse(examination, b)
    gravest = max(covered, key=lambda r: (ORDER.index(r.worst[0]), ORDER.index(r.worst[1])))
    places = tuple(dict.fromkeys(outcome.at for _, outcome in held if outcome.at.file))
    return Finding(
        requirement=gravest,
        outcome=Unread(why=why, doubt=doubt, light=light),
        places=tuple(sorted(places, key=lambda p: (p.file or "", p.page or 0))),
        filing=_at_most_notice(filing, light=light),
        examination=_at_most_notice(examination, light=light),
        message="not sure: {measured}" if doubt else "not read: {measured}",
        fix=FIX_OF_DOUBT if doubt else FIX_OF_A_SCAN if why == SCAN else FIX_OF_UNREAD,
        covers=tuple(r.id for r in covered),
    )


def _at_most_notice(level: Level, *, light: bool = False) -> Level:
    """What could not be read is never a refusal by itself: the office may read it. What is light is only advice."""
    return min(level, "advice" if light else "notice", key=ORDER.index)


def _identified(finding: Finding, sha256: Mapping[str, str]) -> Finding:
    """The finding with an id made of requirement, what was measured, places and the digests of their files."""
    outcome = finding.outcome
    if isinstance(outcome, Measured):
        measured = [outcome.what, f"{outcome.value:.3f}"]
    elif isinstance(outcome, Seen) and outcome.fleeting:
        measured = [outcome.what]
    elif isinstance(outcome, Seen):
        measured = [outcome.what, outcome.measured, *map(str, sorted(outcome.words.items()))]
    else:
        measured = [outcome.why]
    files = sorted({p.file for p in finding.places if p.file}) or sorted(sha256)
    where = [f"{p.file}:{p.page}" for p in finding.places]
    parts = [finding.requirement.id, outcome_sort(outcome), *measured, *where, *(sha256.get(f, "") for f in files)]
    digest = hashlib.sha256("\0".join(parts).encode("utf-8", "backslashreplace")).hexdigest()
    return msgspec.structs.replace(finding, id=digest[:12])


def outcome_sort(outcome: Outcome) -> str:
    """The sort that the check gave to it."""
    return "unread" if isinstance(outcome, Unread) else outcome.sort
