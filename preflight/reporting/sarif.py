"""The report as SARIF 2.1.0 (OASIS), for programs that gather results of many tools."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence
from contextlib import suppress
from typing import Any
from urllib.parse import quote

import msgspec

from preflight.judging import GRAVE
from preflight.reporting.build import fails
from preflight.reporting.machine import encoded
from preflight.reporting.places import ALL, where
from preflight.reporting.report import Document, Finding, Place, Question, Report, RequirementRow
from preflight.reporting.wording import clean

SCHEMA = "https://json.schemastore.org/sarif-2.1.0-rtm.5.json"
_ANSWERED = {"yes": "pass", "no": "fail", "does not apply": "notApplicable"}


def to_sarif(reports: Sequence[Report]) -> bytes:
    """One run an office. What fails the filing is an error, advice a note, a sign-off a suppression."""
    log = {"$schema": SCHEMA, "version": "2.1.0", "runs": [_run(report) for report in reports]}
    return encoded(_harmless(log))


def _run(report: Report) -> dict[str, Any]:
    rules = {row.id: {"id": row.id, "shortDescription": _said(row.title), **_rule(row)} for row in report.requirements}
    asked = {q.id: {"id": q.id, "shortDescription": _said(q.question)} for q in report.by_hand}
    named = {one.name: {"name": one.name, "version": one.version} for one in report.plugins}
    driver = {"name": report.tool.name, "version": report.tool.version, "rules": list((asked | rules).values())}
    return {
        "tool": {"driver": driver, "extensions": list(named.values())},
        "invocations": [_invocation(report)],
        "artifacts": [_artifact(document) for document in report.documents],
        "results": [*(_finding(f, report) for f in report.findings), *map(_question, report.by_hand)],
        "properties": {
            "verdict": report.verdict,
            "headline": report.headline,
            "bundle": msgspec.to_builtins(report.bundle),
            "rulebook": msgspec.to_builtins(report.rulebook),
            "cautions": list(report.cautions),
            "void": [msgspec.to_builtins(void) for void in report.void],
        },
    }


def _rule(row: RequirementRow) -> dict[str, Any]:
    return {"properties": {"state": row.state, "why": row.why, "citations": list(row.citations)}}


def _invocation(report: Report) -> dict[str, Any]:
    troubles = [
        {"level": "error", "message": _said(f"{one.name} {one.version}: {one.trouble}")}
        for one in report.plugins
        if one.trouble
    ]
    invocation: dict[str, Any] = {"executionSuccessful": True, "toolExecutionNotifications": troubles}
    with suppress(ValueError, OverflowError):
        made = dt.datetime.fromisoformat(report.created).astimezone(dt.UTC)
        invocation["endTimeUtc"] = made.strftime("%Y-%m-%dT%H:%M:%SZ")
    return invocation


def _artifact(document: Document) -> dict[str, Any]:
    artifact: dict[str, Any] = {
        "location": {"uri": _address(document.file)},
        "length": document.bytes,
        "roles": ["analysisTarget"],
        "properties": {"papers": [msgspec.to_builtins(paper) for paper in document.papers], "note": document.note},
    }
    if re.fullmatch(r"[^/]+/.+", document.media_type):
        artifact["mimeType"] = document.media_type
    if document.sha256:
        artifact["hashes"] = {"sha-256": document.sha256}
    return artifact


def _finding(finding: Finding, report: Report) -> dict[str, Any]:
    places = "; ".join(where(finding, report.documents, ALL))
    result: dict[str, Any] = {
        "ruleId": finding.requirement,
        "kind": "fail",
        "level": "error" if finding.consequence in GRAVE else "note",
        "message": _said(f"{finding.message} ({places})" + (f"; fix: {finding.fix}" if finding.fix else "")),
        "locations": [_location(place) for place in finding.places],
        "partialFingerprints": {"preflightFinding/v1": finding.id},
        "properties": {
            "id": finding.id,
            "state": finding.state,
            "consequence": finding.consequence,
            "covers": list(finding.covers),
            "measured": finding.measured.text if finding.measured else None,
            "required": finding.required.text if finding.required else None,
            "fix": finding.fix,
            "citations": list(finding.citations),
            "known": finding.known,
        },
    }
    if off := finding.signed_off:
        words = f"{off.reason} ({off.by}, {off.on.isoformat()})"
        result["suppressions"] = [{"kind": "external", "status": "accepted", "justification": words}]
    return result


def _location(place: Place) -> dict[str, Any]:
    """A page is no region of text: it is told by name, and its box as a property."""
    location: dict[str, Any] = {"physicalLocation": {"artifactLocation": {"uri": _address(place.file)}}}
    if place.page is not None:
        location["logicalLocations"] = [{"name": f"page {place.page}", "kind": "page"}]
        location["properties"] = {"page": place.page, "box_cm": msgspec.to_builtins(place.box_cm)}
    return location


def _question(question: Question) -> dict[str, Any]:
    said = question.answer
    denied = said is not None and said.value == "no"
    result: dict[str, Any] = {
        "ruleId": question.id,
        "kind": _ANSWERED[said.value] if said else "review",
        "level": "error" if fails(question) else "note" if denied else "none",
        "message": _said(question.question),
        "properties": {
            "covers": list(question.covers),
            "consequence": question.consequence,
            "answer": msgspec.to_builtins(said) if said else None,
        },
    }
    if question.file:
        result["locations"] = [_location(Place(file=question.file, sha256="", page=question.page))]
    return result


def _address(file: str) -> str:
    """The file's name as a relative address (RFC 3986)."""
    return quote(file, errors="backslashreplace")


def _said(text: str) -> dict[str, str]:
    """A message: braces are doubled, and nothing reads as a link (SARIF 2.1.0, 3.11.5 and 3.11.6)."""
    return {"text": clean(text).replace("{", "{{").replace("}", "}}").replace("](", "] (") or "-"}


def _harmless(data: Any) -> Any:
    """Every string made harmless, and the keys of free dictionaries too."""
    if isinstance(data, str):
        return clean(data)
    if isinstance(data, dict):
        return {clean(key): _harmless(value) for key, value in data.items()}
    return [_harmless(value) for value in data] if isinstance(data, list | tuple) else data
