"""Findings, questions and what is void, a line each, for a spreadsheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence

from preflight.reporting.places import ALL, where
from preflight.reporting.report import Finding, Question, Report, Void
from preflight.reporting.spreadsheet import harmless
from preflight.reporting.wording import file_name, pages

COLUMNS = (
    *("office", "of", "id", "requirement", "state", "consequence", "place", "measured", "required", "message", "fix"),
    *("citations", "leaves open", "by", "on", "reason", "void because"),
)
CSV_BEGINS = "\ufeffoffice,of,id,requirement,state".encode()
"""By this a file of ours is known again. Spreadsheets see by the mark at its start that it is UTF-8."""


def to_csv(reports: Sequence[Report]) -> bytes:
    """UTF-8, RFC 4180; pages and places in words, as at the terminal, but all of them."""
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, restval="")
    writer.writeheader()
    for report in reports:
        for row in _rows(report):
            writer.writerow({"office": harmless(report.bundle.office), **{k: harmless(v) for k, v in row.items()}})
    return out.getvalue().encode("utf-8-sig")


def _rows(report: Report) -> Iterator[dict[str, str]]:
    yield from (_finding(finding, report) for finding in report.findings)
    yield from map(_question, report.by_hand)
    yield from map(_void, report.void)


def _finding(finding: Finding, report: Report) -> dict[str, str]:
    row = {
        "of": "finding",
        "id": finding.id,
        "requirement": finding.requirement,
        "state": finding.state if finding.signed_off is None else f"{finding.state}, signed off",
        "consequence": finding.consequence,
        "place": "; ".join(where(finding, report.documents, ALL)),
        "measured": finding.measured.text if finding.measured else "",
        "required": finding.required.text if finding.required else "",
        "message": finding.message,
        "fix": finding.fix,
        "citations": "; ".join(finding.citations),
        "leaves open": "; ".join(finding.covers),
    }
    if off := finding.signed_off:
        row |= {"by": off.by, "on": off.on.isoformat(), "reason": off.reason}
    return row


def _question(question: Question) -> dict[str, str]:
    place = f"{file_name(question.file)}, {pages([question.page])}" if question.file and question.page else ""
    row = {
        "of": "question",
        "id": question.id,
        "requirement": question.requirement,
        "state": "by hand",
        "consequence": question.consequence,
        "place": place or file_name(question.file) if question.file else "",
        "message": question.question,
        "leaves open": "; ".join(question.covers),
    }
    if said := question.answer:
        reason = f"{said.value}: {said.note}" if said.note else said.value
        row |= {"state": "by hand, answered", "by": said.by, "on": said.on.isoformat(), "reason": reason}
    return row


def _void(void: Void) -> dict[str, str]:
    return {
        "of": f"void, {void.of}",
        "id": void.id,
        "message": void.text,
        "by": void.by,
        "on": void.on.isoformat(),
        "reason": void.said,
        "void because": void.why,
    }
