"""Why a folder is not sealed, and what comes next."""

from __future__ import annotations

from collections.abc import Iterator

from preflight.judging import GRAVE
from preflight.reporting.build import fails
from preflight.reporting.report import Finding, Report
from preflight.reporting.wording import moment
from preflight.sent.seal import Seal

_NAMED = 6


def refused(report: Report, folder: str, earlier: Seal | None = None) -> Iterator[str]:
    """Why a report that fails was not sealed, finding by finding, and what comes next; `folder` as it is typed."""
    kept = f"; the seal of {moment(earlier.sealed)} stays as it is" if earlier else ""
    yield f"not sealed, since only what passes is{kept}. In the way:"
    every = list(_in_the_way(report))
    yield from (f"- {one}" for one in every[:_NAMED])
    if len(every) > _NAMED:
        yield f"- and {len(every) - _NAMED} more"
    yield f"next: mend the papers (each fix: preflight check {folder}), then seal again"
    if any(f.consequence != "refusal" for f in _failing(report)):
        yield f"what may stay as it is: preflight sign {folder} FINDING --by INITIALS --reason TEXT"


def _in_the_way(report: Report) -> Iterator[str]:
    for finding in _failing(report):
        yield f"{finding.consequence}: {finding.message} [finding {finding.id}]"
    for question in filter(fails, report.by_hand):
        yield f"answered no: {question.question} [{question.id}]"
    for named in report.plugins:
        if named.trouble:
            yield f"did not work: {named.name} {named.version}: {named.trouble}"


def _failing(report: Report) -> list[Finding]:
    return [f for f in report.findings if f.signed_off is None and f.consequence in GRAVE]
