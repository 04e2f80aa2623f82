"""Two reports on one filing side by side: what is mended, what is new, what is still there."""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable, Iterable, Sequence

import msgspec

from preflight.reporting.places import where
from preflight.reporting.report import Finding, Report

Key = Callable[[Finding], Hashable]


class Comparison(msgspec.Struct, frozen=True):
    """Every finding of the older report is mended, unknown or the same; every one of the newer is new or the same."""

    mended: tuple[Finding, ...] = ()
    unknown: tuple[Finding, ...] = ()
    """No more seen, but what it broke could not be looked at this time: nobody knows that it is mended."""
    new: tuple[Finding, ...] = ()
    same: tuple[tuple[Finding, Finding], ...] = ()
    """As it was, and as it is now: other figures, pages or names of files are still the same fault."""
    doubts: tuple[str, ...] = ()
    """What was not alike in both runs, so that the comparison may mislead."""


def compare(old: Report, new: Report) -> Comparison:
    """The findings of two reports, matched from the surest likeness to the weakest.

    A finding's number changes with its file, so after a correction requirement, place and words tell what is the same.
    """
    left, right = list(old.findings), list(new.findings)
    same: list[tuple[Finding, Finding]] = []
    for likeness in _LIKENESSES:
        same += _matched(left, right, likeness)
    looked_at = {row.id for row in new.requirements if row.state in ("met", "broken")}
    looked_at -= {name for finding in new.findings for name in finding.covers}
    sure = [finding for finding in left if finding.requirement in looked_at]
    order = {finding.id: number for number, finding in enumerate(new.findings)}
    return Comparison(
        mended=tuple(sure),
        unknown=tuple(finding for finding in left if finding not in sure),
        new=tuple(right),
        same=tuple(sorted(same, key=lambda pair: order[pair[1].id])),
        doubts=tuple(_doubts(old, new)),
    )


def _matched(left: list[Finding], right: list[Finding], likeness: Key) -> Iterable[tuple[Finding, Finding]]:
    """Takes pairs that are alike out of both lists, the first with the first."""
    waiting: dict[Hashable, list[Finding]] = {}
    for finding in left:
        waiting.setdefault(likeness(finding), []).append(finding)
    for finding in list(right):
        if alike := waiting.get(likeness(finding)):
            before = alike.pop(0)
            left.remove(before)
            right.remove(finding)
            yield before, finding


def _fault(finding: Finding) -> tuple[str, str, str]:
    """What is wrong, without the figures."""
    return finding.requirement, finding.state, re.sub(r"\d+([.,]\d+)*", "#", finding.message)


def _files(finding: Finding) -> tuple[str, ...]:
    return tuple(sorted({place.file for place in finding.places}))


def _roles(finding: Finding) -> tuple[str, ...]:
    return tuple(sorted({place.role or "" for place in finding.places}))


_LIKENESSES: tuple[Key, ...] = (
    lambda f: f.id,
    lambda f: (f.requirement, f.state, f.message, tuple((p.file, p.page) for p in f.places)),
    lambda f: (*_fault(f), _files(f)),
    lambda f: (*_fault(f), _roles(f)),
)


def _doubts(old: Report, new: Report) -> Iterable[str]:
    pairs = {
        "folder": (old.bundle.folder, new.bundle.folder),
        "office": (old.bundle.office, new.bundle.office),
        "kind of filing": (old.bundle.kind, new.bundle.kind),
        "ready for": (old.bundle.ready_for, new.bundle.ready_for),
        "rulebook": (_book(old), _book(new)),
        "version": (f"{old.tool.name} {old.tool.version}", f"{new.tool.name} {new.tool.version}"),
    }
    for name, (before, after) in pairs.items():
        if before != after:
            yield f"{name}: {before} then, {after} now"
    if old.created > new.created:
        yield "the first report is the younger one: are they in the right order?"


def _book(report: Report) -> str:
    return f"{report.rulebook.id} of {report.rulebook.edition} ({report.rulebook.sha256[:8]})"


def summary(found: Comparison) -> str:
    """In one line: "2 mended, 1 new, 3 still there"."""
    counts: Sequence[tuple[int, str]] = (
        (len(found.mended), "mended"),
        (len(found.unknown), "not known"),
        (len(found.new), "new"),
        (len(found.same), "still there"),
    )
    return ", ".join(f"{number} {word}" for number, word in counts if number or word in ("mended", "new"))


def places_of(finding: Finding, report: Report) -> str:
    """In one line."""
    return "; ".join(where(finding, report.documents))
