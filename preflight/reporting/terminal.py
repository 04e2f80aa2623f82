"""The report for a person at a terminal: verdict first, then what to mend, in the order in which to mend it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import get_args

from rich.console import Console
from rich.text import Text

from preflight.facts.kinds import kind_of
from preflight.reporting import wording
from preflight.reporting.findings import known_as, show_findings, show_questions, show_void
from preflight.reporting.lines import FAINT, INDENT, STRONG, Sheet, plain, styled
from preflight.reporting.report import Document, Report, RequirementRow, State, Worksheet

_SHORT_LIST = 4
_ALREADY_SAID = ("filing", "payment")
"""Dates that stand at the top of the report."""


def show_report(report: Report, console: Console) -> None:
    """Print the whole report; the last line repeats the verdict, for a window that has scrolled."""
    sheet = Sheet(console)
    _verdict(report, sheet)
    _what_was_checked(report, sheet)
    _papers(report.documents, sheet)
    show_findings(report, sheet)
    show_questions(report, sheet)
    show_void(report, sheet)
    _for_later(report, sheet)
    _fees(report.fees, sheet)
    _dates(report, sheet)
    _cautions(report, sheet)
    _counts(report, sheet)
    _trouble(report, sheet)
    _last_lines(report, sheet)


def show_reports(reports: Sequence[Report], console: Console) -> None:
    """One report, or those of several offices and their verdicts together at the end."""
    for number, report in enumerate(reports):
        if number:
            console.print()
            console.print()
        show_report(report, console)
    if len(reports) > 1:
        sheet = Sheet(console)
        sheet.heading("all offices")
        sheet.rows([(r.bundle.office, styled(r.headline, STRONG)) for r in reports])


def _verdict(report: Report, sheet: Sheet) -> None:
    sheet.hang(styled(report.headline, STRONG))
    sheet.hang("-" * min(sheet.width, len(report.headline)))


def _what_was_checked(report: Report, sheet: Sheet) -> None:
    head = report.bundle
    known = head.how_known
    rows = [
        ("folder", head.folder, ""),
        ("office", head.office, known.get("office", "")),
        ("kind", head.kind, known.get("kind", "")),
        ("rulebook", f"{report.rulebook.title}, edition of {wording.day(report.rulebook.edition)}", ""),
        *(
            ("and", f"{added.title}, edition of {wording.day(added.edition)}", f"plug-in {added.plugin}")
            for added in report.rulebook.extensions
        ),
        ("filing day", wording.day(head.filing_date), known.get("filing_date", "")),
        ("payment day", wording.day(head.payment_date), known.get("payment_date", "")),
        ("entity", head.entity, known.get("entity", "")),
        ("ready for", head.ready_for, known.get("ready_for", "")),
    ]
    sheet.heading("checked")
    for label, value, how in rows:
        text = plain(value) + (styled(f" ({how})", FAINT) if how else Text())
        sheet.hang(text, indent=INDENT, label=f"{label:<13}")


def _papers(documents: Iterable[Document], sheet: Sheet) -> None:
    rows: list[tuple[Text | str, ...]] = [tuple(styled(h, FAINT) for h in ("file", "what it is", "pages", "how known"))]
    for document in documents:
        name = wording.file_name(document.file)
        for paper in document.papers:
            rows.append(
                (name, wording.role(paper.role), wording.span(paper.first_page, paper.last_page), paper.how_known)
            )
            name = ""
        if document.note or not document.papers:
            pages = str(document.pages) if document.pages and not document.papers else ""
            rows.append((name, document.note or f"no paper ({kind_of(document.media_type)})", pages, ""))
    sheet.heading("papers")
    if len(rows) == 1:
        sheet.hang("none: the folder holds no file that could be looked at", indent=INDENT)
    else:
        sheet.rows(rows)


def _for_later(report: Report, sheet: Sheet) -> None:
    """One line, however much the examination would ask for."""
    titles = {row.id: row.title for row in report.requirements}
    needed = list(dict.fromkeys(later.requirement for later in report.for_later))
    if not needed:
        return
    names = [titles.get(name, name) for name in needed[:_SHORT_LIST]]
    more = len(needed) - len(names)
    ending = f"; and {more} more" if more else ""
    sheet.heading("for the nonprovisional")
    sheet.hang(f"{wording.counted(len(needed), 'point')}, nothing to do now: {'; '.join(names)}{ending}", indent=INDENT)


def _fees(fees: Worksheet | None, sheet: Sheet) -> None:
    if fees is None:
        sheet.heading("fees")
        sheet.hang("not known: no fee table is in force on the payment day", indent=INDENT)
        return

    def due(amount: int) -> str:
        return wording.money(amount, fees.currency)

    sheet.heading("fees", f"{fees.entity} entity, payment on {wording.day(fees.payment_date)}")
    rows: list[tuple[Text | str, ...]] = []
    for line in fees.lines:
        since = f"{line.citation}, since {wording.day(line.since)}{known_as(line.known)}"
        name = f"{line.name} (code {line.code})" if line.code else line.name
        rows.append((name, f"{line.quantity} x {due(line.each)}", due(line.amount), styled(since, FAINT)))
    rows.append((styled("total", STRONG), "", styled(due(fees.total), STRONG), ""))
    if fees.stated is None:
        rows.append(("stated as paid", "", "nothing", ""))
    else:
        rows.append(("stated as paid", "", due(fees.stated), _difference(fees)))
    sheet.rows(rows, right=(2,))
    sheet.hang(f"{wording.counted(fees.sheets, 'page')} counted for the size fee", indent=INDENT)
    if fees.note:
        sheet.hang(fees.note, indent=INDENT)


def _difference(fees: Worksheet) -> str:
    return wording.apart(fees.stated or 0, fees.total, fees.currency) or "agrees with the total"


def _dates(report: Report, sheet: Sheet) -> None:
    rows = [(name.replace("_", " "), wording.day_if_one(said)) for name, said in report.dates.items()]
    further = [row for row in rows if row[0] not in _ALREADY_SAID]
    if further:
        sheet.heading("dates")
        sheet.rows(further)


def _cautions(report: Report, sheet: Sheet) -> None:
    if report.cautions:
        sheet.heading("cautions")
        for caution in report.cautions:
            sheet.hang(caution, indent=INDENT, label="- ")


def _counts(report: Report, sheet: Sheet) -> None:
    numbers = Counter(row.state for row in report.requirements)
    states = [f"{numbers[state]} {state}" for state in get_args(State) if numbers[state]]
    sheet.heading("requirements")
    sheet.hang(f"{len(report.requirements)} in all: {', '.join(states)}", indent=INDENT)
    for row in report.told_with_others:
        sheet.hang(f"broken too: {row.id}, {row.why}", indent=INDENT)
    if numbers["not applicable"]:
        sheet.hang(f"not applicable: {wording.NOT_APPLICABLE}", indent=INDENT)
    if numbers["not measured"]:
        sheet.hang(f"not measured by this version: {_by_kind(report.requirements)}", indent=INDENT)
        sheet.hang('preflight requirements --state "not measured" lists what this version cannot check', indent=INDENT)
    if report.other_strictness:
        sheet.hang(report.other_strictness, indent=INDENT)


def _by_kind(requirements: Iterable[RequirementRow]) -> str:
    """How many wait for which kind of reading, the most first."""
    kinds = Counter(row.waits_for for row in requirements if row.waits_for)
    return ", ".join(
        f"{number} for {wording.clean(kind)}" for kind, number in sorted(kinds.items(), key=lambda k: (-k[1], k[0]))
    )


def _trouble(report: Report, sheet: Sheet) -> None:
    troubled = [named for named in (report.tool, *report.plugins) if named.trouble]
    if troubled:
        sheet.heading("trouble", "these did not work, so what they measure is not known")
        for named in troubled:
            sheet.hang(f"{named.name} {named.version}: {named.trouble}", indent=INDENT)


def _last_lines(report: Report, sheet: Sheet) -> None:
    readers = "".join(f", {name} {version}" for name, version in report.readers.items())
    sheet.blank()
    sheet.hang(
        styled(f"{report.tool.name} {report.tool.version}{readers}; made {wording.moment(report.created)}", FAINT)
    )
    if report.findings:
        sheet.hang(f"more about a requirement: preflight explain {report.findings[0].requirement}")
    sheet.hang(styled(report.headline, STRONG))
