"""Runs the check of every requirement over the filing; a check that fails costs only its own requirement."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping

import msgspec

from preflight.checks import AnyCheck, Measured, Outcome, Place, Unread
from preflight.facts import FileFacts
from preflight.judging.judgement import grade_for
from preflight.judging.model import Examined
from preflight.papers import Filing, Paper, as_read
from preflight.rulebooks import Requirement, as_struct, worse


def examine(
    filing: Filing,
    requirements: Iterable[Requirement],
    checks: Mapping[str, AnyCheck],
    entity: str | None,
    owners: Mapping[str, str],
) -> tuple[Examined, ...]:
    """Every requirement with what its check saw. `owners` names the plug-in of each check, for a failure's message."""
    seen = as_read(filing)
    return tuple(_examined(filing, seen, r, checks, entity, owners) for r in requirements)


def _examined(
    filing: Filing,
    seen: Filing | None,
    requirement: Requirement,
    checks: Mapping[str, AnyCheck],
    entity: str | None,
    owners: Mapping[str, str],
) -> Examined:
    if not _applies(filing, requirement, entity):
        return Examined(requirement, applies=False)
    if requirement.check is None:
        return Examined(requirement)
    check = checks[requirement.check]
    found: list[Outcome] = []
    try:
        found += _outcomes(filing, requirement, check)
        if seen and check.acquits_scans:
            found = [_asked(o, found, requirement) for o in _outcomes(seen, requirement, check)]
    except Exception as error:  # noqa: BLE001 - whatever a check raises must become a line of the report
        owner = owners.get(check.name, "unknown plug-in")
        trouble = (
            f'check "{check.name}" of {owner} failed ({type(error).__name__}: {" ".join(str(error).split())[:200]})'
        )
        return Examined(requirement, tuple(found), trouble)
    return Examined(requirement, tuple(found))


def _outcomes(filing: Filing, requirement: Requirement, check: AnyCheck) -> Iterator[Outcome]:
    limits = as_struct(requirement, check)
    for subject in _subjects(filing, requirement, check):
        yield from (_placed(outcome, subject) for outcome in check.run(subject, limits))


def _asked(outcome: Outcome, without: Collection[Outcome], requirement: Requirement) -> Outcome:
    """What the words of scans seem to say: it acquits, but what is not broken `without` them too is only asked."""
    if isinstance(outcome, Unread) or outcome.held or outcome in without:
        return outcome
    filing, examination, message, _ = grade_for(requirement, outcome)
    if isinstance(outcome, Measured):
        said = f"{outcome.what} is not as asked"
    else:
        words = {**outcome.words, "what": outcome.what, "measured": outcome.measured, "required": outcome.required}
        said = message.format_map(words).removeprefix("look here: ")
    light = worse(filing, examination) in ("none", "advice")
    return Unread(f"as far as the scan can be read, {said}: look there", outcome.at, doubt=True, light=light)


def _applies(filing: Filing, requirement: Requirement, entity: str | None) -> bool:
    when = requirement.when
    if when.entity and entity not in when.entity:
        return False
    return not when.role or bool(filing.with_role(*when.role))


def _subjects(filing: Filing, requirement: Requirement, check: AnyCheck) -> Iterator[FileFacts | Paper | Filing]:
    """What the check looks at: files, papers of the roles (of any, if none is named), or the filing as a whole."""
    if check.of is FileFacts:
        yield from filing.files
    elif check.of is Paper:
        roles = requirement.applies_to
        yield from (p for p in filing.papers if not roles or p.role in roles)
    else:
        yield filing


def _placed(outcome: Outcome, subject: FileFacts | Paper | Filing) -> Outcome:
    """The outcome with file and role of its subject, where the check left them out."""
    if isinstance(subject, Filing):
        return outcome
    name = subject.file if isinstance(subject, Paper) else subject.name
    role = subject.role if isinstance(subject, Paper) else None
    at = outcome.at
    place = Place(file=at.file or name, page=at.page, box=at.box, role=at.role or role)
    return msgspec.structs.replace(outcome, at=place)
