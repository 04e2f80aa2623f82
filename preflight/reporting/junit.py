"""The report as JUnit XML: what fails the filing fails there, and nothing else does."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from xml.etree import ElementTree as ET

from preflight.judging import GRAVE
from preflight.reporting.build import fails
from preflight.reporting.places import ALL, where
from preflight.reporting.report import Finding, Question, Report, RequirementRow
from preflight.reporting.wording import clean

JUNIT_BEGINS = b"<?xml version='1.0' encoding='utf-8'?>\n<testsuites name=\"preflight\""
"""By this a file of ours is known again."""


def to_junit(reports: Sequence[Report]) -> bytes:
    """One suite an office; a case for each finding, question and void sign-off, and for each requirement without any.

    failure: broken, or answered "no" where it matters; error: not read; skipped: nothing was measured.
    """
    root = ET.Element("testsuites", name="preflight")
    for report in reports:
        root.append(_suite(report))
    for count in ("tests", "failures", "errors"):
        root.set(count, str(sum(int(suite.get(count, "0")) for suite in root)))
    ET.indent(root)
    made: bytes = ET.tostring(root, encoding="utf-8", xml_declaration=True)
    return made + b"\n"


def _suite(report: Report) -> ET.Element:
    cases = [
        *(_finding(finding, report) for finding in report.findings),
        *(_question(question, report) for question in report.by_hand),
        *_void(report),
        *_requirements(report),
    ]
    suite = _element("testsuite", name=f"{report.bundle.folder} ({report.rulebook.id})", timestamp=report.created)
    suite.set("tests", str(len(cases)))
    for count, tag in (("failures", "failure"), ("errors", "error"), ("skipped", "skipped")):
        suite.set(count, str(sum(case.find(tag) is not None for case in cases)))
    properties = ET.SubElement(suite, "properties")
    for name, value in _properties(report):
        properties.append(_element("property", name=name, value=value))
    suite.extend(cases)
    return suite


def _properties(report: Report) -> Iterator[tuple[str, str]]:
    yield "verdict", report.verdict
    yield "headline", report.headline
    yield "program", f"{report.tool.name} {report.tool.version}"
    yield "rulebook", f"{report.rulebook.id}, edition of {report.rulebook.edition}, SHA-256 {report.rulebook.sha256}"
    yield "ready for", report.bundle.ready_for
    yield "filing date", report.bundle.filing_date.isoformat()
    for document in report.documents:
        yield f"SHA-256 of {document.file}", document.sha256 or document.note or ""
    for caution in report.cautions:
        yield "caution", caution


def _finding(finding: Finding, report: Report) -> ET.Element:
    lines = [
        finding.message,
        *where(finding, report.documents, ALL),
        f"consequence: {finding.consequence}",
        f"fix: {finding.fix}" if finding.fix else "",
        f"leaves open: {'; '.join(finding.covers)}" if finding.covers else "",
        "; ".join(finding.citations),
        _accepted(finding),
    ]
    case = _case(report, finding.requirement, f"finding {finding.id}")
    if finding.signed_off or finding.consequence not in GRAVE:
        return _with(case, "system-out", "", lines)
    return _with(case, "error" if finding.state == "unread" else "failure", finding.message, lines)


def _accepted(finding: Finding) -> str:
    off = finding.signed_off
    return f"signed off by {off.by} on {off.on}: {off.reason}" if off else ""


def _question(question: Question, report: Report) -> ET.Element:
    case = _case(report, question.id, "question")
    said = question.answer
    told = f"{said.value}, by {said.by} on {said.on}{f': {said.note}' if said.note else ''}" if said else ""
    lines = [question.question, f"covers: {'; '.join(question.covers)}", told]
    if said is None:
        return _with(case, "skipped", "only a person can see this", lines)
    if fails(question):
        return _with(case, "failure", "answered no", lines)
    return _with(case, "system-out", "", lines)


def _void(report: Report) -> Iterator[ET.Element]:
    for void in report.void:
        case = _case(report, f"{void.of} {void.id}", "void")
        yield _with(case, "skipped", f"void: {void.why}", [void.text, f"{void.said}, by {void.by} on {void.on}"])


def _requirements(report: Report) -> Iterator[ET.Element]:
    told = {finding.requirement for finding in report.findings}
    asked = {name for question in report.by_hand for name in question.covers}
    for row in report.requirements:
        if row.id not in told | asked:
            yield _requirement(row, report)


def _requirement(row: RequirementRow, report: Report) -> ET.Element:
    case = _case(report, row.id, row.title)
    if row.state == "met":
        return case
    others = "".join(f", see finding {finding.id}" for finding in report.findings if row.id in finding.covers)
    return _with(case, "skipped", f"{row.state}: {row.why}{others}", [])


def _case(report: Report, subject: str, name: str) -> ET.Element:
    return _element("testcase", classname=f"preflight.{report.bundle.office}", name=f"{subject}: {name}")


def _with(case: ET.Element, tag: str, message: str, lines: Sequence[str]) -> ET.Element:
    part = _element(tag, **({"message": message} if message else {}))
    part.text = "\n".join(clean(line) for line in lines if line) or None
    case.append(part)
    return case


def _element(tag: str, **attributes: str) -> ET.Element:
    """With harmless attributes: XML has no form for control characters, whatever escape is used."""
    return ET.Element(tag, {name: clean(value) for name, value in attributes.items()})
