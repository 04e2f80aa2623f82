"""Findings and questions at a terminal: problem, place, fix, citation, in this order."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import get_args

from preflight.reporting import wording
from preflight.reporting.lines import FAINT, INDENT, STRONG, Sheet, plain, styled
from preflight.reporting.places import where
from preflight.reporting.report import Consequence, Finding, Question, Report

MEANING: dict[Consequence, str] = {
    "refusal": "the upload will not take it, or the file cannot be used",
    "notice": "the office will object, or rights or money are at risk",
    "advice": "good practice; it can be filed as it is",
}
_LABEL = INDENT + 9
"""Where the text of a finding begins, behind its consequence."""
_COVERED = 4
_COVERED_IDS = 3
"""So many of the requirements that a question covers are named; the JSON has all of them."""


def show_findings(report: Report, sheet: Sheet) -> None:
    """The broken by consequence, then the unread, then what a reviewer has accepted."""
    open_ones = [f for f in report.findings if f.signed_off is None]
    for consequence in get_args(Consequence):
        group = [f for f in open_ones if f.state == "broken" and f.consequence == consequence]
        _group(_counted(consequence, len(group)), MEANING[consequence], group, report, sheet)
    unread = [f for f in open_ones if f.state == "unread"]
    _group(
        f"{len(unread)} not read", "nothing is known for sure of these, they never count as met", unread, report, sheet
    )
    accepted = [f for f in report.findings if f.signed_off is not None]
    _group(f"{len(accepted)} signed off", "a reviewer accepted these as they are", accepted, report, sheet)


def show_questions(report: Report, sheet: Sheet) -> None:
    """What only a person can see, numbered; then what has been answered, "no" first."""
    waiting = [q for q in report.by_hand if q.answer is None]
    if waiting:
        meaning = "only a person can see these; preflight answer keeps what you found"
        sheet.heading(f"{wording.counted(len(waiting), 'question')} for you", meaning)
        for number, question in enumerate(waiting, 1):
            _question(question, f"{number:>2}.", sheet)
    denied = [q for q in report.by_hand if q.answer is not None and q.answer.value == "no"]
    _answered(f"{len(denied)} answered no", "what is asked is not so", denied, sheet)
    others = [q for q in report.by_hand if q.answer is not None and q.answer.value != "no"]
    _answered(f"{len(others)} answered", "", others, sheet)


def _answered(name: str, meaning: str, questions: Sequence[Question], sheet: Sheet) -> None:
    if questions:
        sheet.heading(name, meaning)
    for question in questions:
        _question(question, " -", sheet)


def show_void(report: Report, sheet: Sheet) -> None:
    """Sign-offs and answers that hold no more, so that nobody relies on them."""
    if report.void:
        sheet.heading(f"{len(report.void)} void", "sign-offs and answers that hold no more; look again")
    for void in report.void:
        sheet.hang(f"{void.of} {void.id}: {void.text}", indent=INDENT, label="- ")
        sheet.hang(f"{void.said}, by {void.by} on {wording.day(void.on)}", indent=INDENT + 2)
        sheet.hang(f"void: {void.why}", indent=INDENT + 2)


def _group(name: str, meaning: str, group: Iterable[Finding], report: Report, sheet: Sheet) -> None:
    for number, finding in enumerate(group):
        if number == 0:
            sheet.heading(name, meaning)
        else:
            sheet.blank()
        _finding(finding, report, sheet)


def _finding(finding: Finding, report: Report, sheet: Sheet) -> None:
    label = styled(f"{finding.consequence:<9}", STRONG)
    sheet.hang(styled(finding.message, STRONG), indent=INDENT, label=label)
    for line in where(finding, report.documents):
        sheet.hang(line, indent=_LABEL)
    if finding.covers:
        sheet.hang(f"leaves open: {_covered(finding, report)}", indent=_LABEL)
    if off := finding.signed_off:
        sheet.hang(f"accepted by {off.by} on {wording.day(off.on)}: {off.reason}", indent=_LABEL)
    elif finding.fix:
        sheet.hang(f"fix: {finding.fix}", indent=_LABEL)
    source = "; ".join(finding.citations) + known_as(finding.known)
    sheet.pair(plain(source), styled(f"[{finding.requirement}, finding {finding.id}]", FAINT), indent=_LABEL)


def _counted(consequence: Consequence, number: int) -> str:
    noun = "piece" if consequence == "advice" else consequence
    return wording.counted(number, noun) + (" of advice" if consequence == "advice" else "")


def _covered(finding: Finding, report: Report) -> str:
    titles = {row.id: row.title for row in report.requirements}
    names = [titles.get(name, name) for name in finding.covers[:_COVERED]]
    more = len(finding.covers) - len(names)
    return "; ".join(names) + (f"; and {more} more" if more else "")


def _question(question: Question, label: str, sheet: Sheet) -> None:
    column = INDENT + len(label) + 1
    shown, more = question.covers[:_COVERED_IDS], len(question.covers) - _COVERED_IDS
    covered = ", ".join(shown) + (f" and {more} more" if more > 0 else "")
    *parts, last = [plain(part) for part in wording.lettered(question.question)]
    lines = [*parts, last + styled(f" [{question.id}: {covered}]", FAINT)]
    sheet.hang(lines[0], indent=INDENT, label=f"{label} ")
    for part in lines[1:]:
        sheet.hang(part, indent=column)
    if question.file:
        page = f", {wording.pages([question.page])}" if question.page else ""
        sheet.hang(f"{wording.file_name(question.file)}{page}", indent=column)
    if question.answer:
        said = question.answer
        note = f": {said.note}" if said.note else ""
        sheet.hang(f"{said.value}, by {said.by} on {wording.day(said.on)}{note}", indent=column)


def known_as(known: str) -> str:
    """What to add to a citation that was not read in the source itself; practice says of itself that it has none."""
    words = {"read": "", "third party": "third party's copy", "memory": "from memory", "practice": ""}
    said = words.get(known, known)
    return f" ({said})" if said else ""
