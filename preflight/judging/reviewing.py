"""What a reviewer has accepted or answered, and whether it still holds for these very files."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

import msgspec

from preflight.facts.declared import Answer, ReadyFor, SignOff
from preflight.judging.model import Examined, Finding, Void
from preflight.papers import OTHER, UNKNOWN, Filing
from preflight.rulebooks import Level, Question, Requirement, worse

GRAVE = ("refusal", "notice")
"""Consequences that fail a filing."""


class Review(msgspec.Struct, frozen=True):
    """Sign-offs as they were given, answers as far as they hold, and which files nobody can have read."""

    sign_offs: tuple[SignOff, ...] = ()
    answers: dict[str, Answer] = {}
    void: tuple[Void, ...] = ()
    """Answers that hold no more."""
    unopened: frozenset[str] = frozenset()
    """Files that cannot be opened."""


NOT_REVIEWED = Review()


def review(filing: Filing, questions: Iterable[Question], examined: Iterable[Examined]) -> Review:
    """What filing.toml says that a person decided, held against the files as they are now."""
    asked = {e.requirement.asked_in for e in examined if e.applies and e.requirement.asked_in}
    by_id = {question.id: question for question in questions if question.id in asked}
    answers: dict[str, Answer] = {}
    void: list[Void] = []
    for answer in filing.declared.answers:
        if (question := by_id.get(answer.question)) is None:
            void.append(Void(answer, "this is not asked of these papers"))
        elif why := _differences(answer.files, rests_on(question, filing)):
            void.append(Void(answer, why))
        else:
            answers[answer.question] = answer
    return Review(filing.declared.signed_off, answers, tuple(void), _unopened(filing))


def rests_on(question: Question, filing: Filing) -> dict[str, str]:
    """The files on which an answer rests, with their digests: also those of which nobody knows what they are."""
    if question.rests_on is None:
        return filing.digests
    near = {*question.rests_on, OTHER, UNKNOWN}
    roles: dict[str, set[str]] = {}
    for paper in filing.papers:
        roles.setdefault(paper.file, set()).add(paper.role)
    return {
        name: digest
        for name, digest in filing.digests.items()
        if question.rests_on and (name not in roles or roles[name] & near)
    }


def weigh_sign_offs(
    findings: Sequence[Finding],
    later: Sequence[Finding],
    review: Review,
    sha256: Mapping[str, str],
    ready_for: ReadyFor,
) -> tuple[list[Finding], list[Void]]:
    """The findings with the sign-offs that hold, and those that do not hold, each with the reason."""
    known = {finding.id: finding for finding in (*later, *findings)}
    held: dict[str, SignOff] = {}
    void: list[Void] = []
    for entry in review.sign_offs:
        if why := _why_void(entry, known.get(entry.finding), review, sha256, ready_for):
            void.append(Void(entry, why))
        else:
            held[entry.finding] = entry
    return [msgspec.structs.replace(f, signed_off=held.get(f.id)) for f in findings], void


def objection(finding: Finding, ready_for: ReadyFor, unopened: frozenset[str]) -> str | None:
    """Why nobody may accept this finding as it is, if so."""
    if finding.consequence(ready_for) == "refusal":
        return "a refusal cannot be signed off, only mended"
    shut = sorted({place.file for place in finding.places if place.file} & unopened)
    if finding.state == "unread" and shut:
        return f"{', '.join(shut)} cannot be opened, so it cannot be signed off as read by eye"
    return None


def answered_no(examined: Iterable[Examined], review: Review, ready_for: ReadyFor) -> bool:
    """Whether a question was answered "no" where a broken requirement would fail the filing."""
    return any(
        consequence_of_no(e.requirement, ready_for) in GRAVE
        for e in examined
        if e.applies and (said := review.answers.get(e.requirement.asked_in or "")) and said.value == "no"
    )


def consequence_of_no(requirement: Requirement, ready_for: ReadyFor) -> Level:
    """What follows if what is asked of this requirement is not so."""
    filing, examination = requirement.worst
    return filing if ready_for == "filing" else worse(filing, examination)


def _unopened(filing: Filing) -> frozenset[str]:
    """Where only our reader failed, a person may well have opened it."""
    return frozenset(f.name for f in filing.files if f.unread and not (f.reader_failed and f.sha256))


def _why_void(
    entry: SignOff, finding: Finding | None, review: Review, sha256: Mapping[str, str], ready_for: ReadyFor
) -> str | None:
    if why := "; ".join(_changes(entry.files, sha256)):
        return why
    if finding is None:
        return "there is no such finding now: it was mended, or is measured otherwise"
    return objection(finding, ready_for, review.unopened)


def _differences(then: Mapping[str, str], now: Mapping[str, str]) -> str:
    if now and not then:
        return "it does not say on which files it rests"
    return "; ".join(
        [*_changes(then, now), *(f"{name} has come in since" for name in sorted(now.keys() - then.keys()))]
    )


def _changes(then: Mapping[str, str], now: Mapping[str, str]) -> Iterator[str]:
    for name in sorted(then):
        if name not in now:
            yield f"{name} is no longer there"
        elif then[name] != now[name]:
            yield f"{name} has changed since"
