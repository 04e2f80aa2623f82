"""The record for the client's file: at most two pages, to print and to initial."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

from preflight.reporting.places import where
from preflight.reporting.report import RECORD_CREATOR, Document, Finding, Question, Report, Void
from preflight.reporting.sheets_of_paper import Row, Section, drawn, row, to_pdf, together
from preflight.reporting.wording import NOT_APPLICABLE, counted, day, file_name, listed, moment, quantity, role, span

MOST_PAGES = 2
_INDENT = 12.0
_PLACES = 4
_ROWS = 150
_FEW = 12
_WRAPPED, _WRITTEN = 6, 12
"""Lines that are enough for every text of the program's own, and for every reason and note that it takes."""
_TO_ANSWER = "[ ] yes   [ ] no   [ ] does not apply; initials, date: ____________________"
Thing = TypeVar("Thing")


def to_record(reports: Sequence[Report]) -> bytes:
    """A PDF with at most two pages an office: what was checked, by what, verdict, sign-offs, digests, cautions.

    Verdict, findings and files come first, then what a person answers, with room for initials. Texts are wrapped, not
    cut; what has no room is counted, never dropped in silence.
    """
    papers = [drawn(_sections(report), MOST_PAGES) for report in reports]
    feet = [_foot(report) for report in reports]
    folder = reports[0].bundle.folder if reports else ""
    return to_pdf(papers, feet, f"Record of a check: {folder}", RECORD_CREATOR)


def _sections(report: Report) -> list[Section]:
    """In the order of the page; the heavier a section, the later it gives up rows."""
    accepted = [f for f in report.findings if f.signed_off]
    still = [f for f in report.findings if not f.signed_off]
    answered = [q for q in report.by_hand if q.answer]
    waiting = [q for q in report.by_hand if not q.answer]
    files = report.documents
    names = _WRAPPED if len(files) <= _FEW else 1  # lines a name: of many files the digests matter more
    every = [
        Section("", tuple(_head(report)), keep=99),
        _listed("Signed off by a reviewer", accepted, lambda f: _finding(f, report), weight=4),
        _listed(
            "Findings that are not signed off" if accepted else "Findings",
            still,
            lambda f: _finding(f, report),
            weight=2,
        ),
        _listed("Sign-offs and answers that hold no more", report.void, _void),
        _listed(
            f"Files ({len(report.documents)}), with SHA-256", report.documents, lambda d: _document(d, names), weight=6
        ),
        Section("Cautions", tuple(_cautions(report)), keep=2, weight=3),
        _listed("Answered by a person", answered, _question, own_page=True),
        _listed("Not yet answered", waiting, _question, own_page=not answered),
        Section("", (row("Looked at by (initials, date): ______________________________", size=8.5),), keep=1),
    ]
    return [section for section in every if section.rows]


def _listed(
    title: str, things: Sequence[Thing], told: Callable[[Thing], Row], weight: float = 1.0, *, own_page: bool = False
) -> Section:
    """Of thousands only as many are laid out as could ever have room; all are counted."""
    rows = tuple(map(told, things[:_ROWS]))
    return Section(title, rows, keep=1, weight=weight, more=len(things[_ROWS:]), own_page=own_page)


def _head(report: Report) -> Iterator[Row]:
    head, book, known = report.bundle, report.rulebook, report.bundle.how_known
    yield row("Record of the check before filing", bold=True, size=9)
    yield row(report.headline, bold=True, size=14, most=2)
    for name, value in (
        ("folder", file_name(head.folder)),
        ("checked", moment(report.created)),
        ("with", f"{report.tool.name} {report.tool.version}"),
        ("rulebook", f"{book.title}, edition of {day(book.edition)} (SHA-256 {book.sha256[:16]})"),
        *(("and", f"{one.title}, edition of {day(one.edition)}, {one.plugin}") for one in book.extensions[:3]),
        ("office, kind", f"{head.office}, {head.kind}; ready for {head.ready_for}"),
        ("filing day", f"{day(head.filing_date)} ({known.get('filing_date', '-')})"),
        ("payment day", f"{day(head.payment_date)} ({known.get('payment_date', '-')})"),
        ("entity", f"{head.entity} ({known.get('entity', '-')})"),
        ("requirements", _counts(report)),
    ):
        yield row(f"{name}: {value}", most=3)


def _counts(report: Report) -> str:
    states = Counter(one.state for one in report.requirements)
    counts = ", ".join(f"{number} {state}" for state, number in states.most_common())
    said = f" (not applicable: {NOT_APPLICABLE})" if states["not applicable"] else ""
    return f"{len(report.requirements)} in all: {counts}{said}"


def _cautions(report: Report) -> Iterator[Row]:
    for named in (report.tool, *report.plugins):
        if named.trouble:
            yield row(f"did not work: {named.name} {named.version}: {named.trouble}", most=_WRAPPED)
    for caution in report.cautions:
        yield row(f"- {caution}", most=_WRAPPED)


def _finding(finding: Finding, report: Report) -> Row:
    places = "; ".join(where(finding, report.documents, _PLACES))
    lines = [
        row(f"{finding.consequence}: {finding.message} [finding {finding.id}]", most=_WRAPPED),
        row(f"{places}; {'; '.join(finding.citations)}", indent=_INDENT, size=7, most=_WRAPPED),
    ]
    if off := finding.signed_off:
        said = f"accepted by {off.by} on {day(off.on)}: {off.reason}"
        lines.append(row(said, indent=_INDENT, bold=True, most=_WRITTEN))
    elif finding.fix:
        lines.append(row(f"fix: {finding.fix}", indent=_INDENT, size=7, most=_WRAPPED))
    return together(*lines)


def _void(void: Void) -> Row:
    said = f"{void.said}, by {void.by} on {day(void.on)}; void: {void.why}"
    return together(row(f"{void.of} {void.id}: {void.text}", most=_WRAPPED), row(said, indent=_INDENT, most=_WRITTEN))


def _document(document: Document, lines: int) -> Row:
    papers = listed(f"{role(p.role)} {span(p.first_page, p.last_page)}" for p in document.papers)
    said = ", ".join(
        part
        for part in (
            counted(document.pages, "page") if document.pages else "",
            quantity(document.bytes, "bytes"),
            papers,
            document.note or "",
        )
        if part
    )
    return together(
        row(f"{file_name(document.file)}: {said}", most=lines, size=7),
        row(document.sha256 or "no digest: its bytes were not read", indent=_INDENT, size=6.5, most=1),
    )


def _question(question: Question) -> Row:
    if said := question.answer:
        note = f": {said.note}" if said.note else ""
        answer = row(f"{said.value}, by {said.by} on {day(said.on)}{note}", indent=_INDENT, bold=True, most=_WRITTEN)
    else:
        answer = row(_TO_ANSWER, indent=_INDENT, size=7)
    return together(row(f"{question.question} [{question.id}]", size=7, most=_WRAPPED), answer)


def _foot(report: Report) -> str:
    readers = ", ".join(f"{name} {version}" for name, version in report.readers.items()) or "none"
    return (
        "Not legal advice. A pass means that what was measured was met, nothing more. What is cut here with ... or "
        f"left out is whole in the JSON report. Readers: {readers}."
    )
