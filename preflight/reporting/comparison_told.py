"""A comparison of two reports, for a person and as JSON (schemas/comparison.schema.json)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from preflight.reporting.comparing import Comparison, places_of, summary
from preflight.reporting.findings import show_void
from preflight.reporting.lines import INDENT, STRONG, Sheet, styled
from preflight.reporting.machine import encoded
from preflight.reporting.report import Finding, Report
from preflight.reporting.wording import moment

SCHEMA = "preflight-comparison/1"
_LABEL = INDENT + 9


def comparison_to_json(pairs: Sequence[tuple[Report, Report, Comparison]]) -> bytes:
    """For each office: the numbers of the findings on each side, and of those that are the same both."""
    data = {
        "schema": SCHEMA,
        "offices": [
            {
                "office": new.bundle.office,
                "old": {"created": old.created, "verdict": old.verdict, "headline": old.headline},
                "new": {"created": new.created, "verdict": new.verdict, "headline": new.headline},
                "mended": [_row(f) for f in found.mended],
                "unknown": [_row(f) for f in found.unknown],
                "added": [_row(f) for f in found.new],
                "same": [{"old": _row(a), "new": _row(b)} for a, b in found.same],
                "doubts": list(found.doubts),
            }
            for old, new, found in pairs
        ],
    }
    return encoded(data)


def _row(finding: Finding) -> dict[str, object]:
    return {
        "id": finding.id,
        "requirement": finding.requirement,
        "consequence": finding.consequence,
        "message": finding.message,
        "signed_off": finding.signed_off is not None,
    }


def show_comparison(old: Report, new: Report, found: Comparison, sheet: Sheet) -> None:
    """What became of each finding, the verdict now, and which sign-offs and answers hold no more."""
    sheet.hang(styled(f"{summary(found)}; now {new.headline}", STRONG))
    sheet.hang(f"then: {moment(old.created)}; now: {moment(new.created)}", indent=INDENT)
    for doubt in found.doubts:
        sheet.hang(f"not alike: {doubt}", indent=INDENT)
    _group("mended", "what was broken was looked at again, and holds", found.mended, old, sheet)
    _group("not known", "no more seen, but not looked at this time either", found.unknown, old, sheet)
    _group("new", "", found.new, new, sheet)
    if found.same:
        sheet.heading(f"{len(found.same)} still there")
    for before, after in found.same:
        _finding(after, new, sheet)
        if before.message != after.message:
            sheet.hang(f"before: {before.message}", indent=_LABEL)
        if after.signed_off and not before.signed_off:
            sheet.hang(f"signed off since by {after.signed_off.by}: {after.signed_off.reason}", indent=_LABEL)
    show_void(new, sheet)


def _group(name: str, meaning: str, findings: Iterable[Finding], report: Report, sheet: Sheet) -> None:
    every = list(findings)
    if every:
        sheet.heading(f"{len(every)} {name}", meaning)
    for finding in every:
        _finding(finding, report, sheet)


def _finding(finding: Finding, report: Report, sheet: Sheet) -> None:
    sheet.hang(finding.message, indent=INDENT, label=styled(f"{finding.consequence:<9}", STRONG))
    sheet.hang(f"{places_of(finding, report)} [{finding.requirement}]", indent=_LABEL)
