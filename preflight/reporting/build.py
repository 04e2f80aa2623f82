"""Makes the one report object from what was judged."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterator, Sequence

from preflight import __version__
from preflight.facts import FileFacts, Manifest
from preflight.facts.declared import Settled, SignOff
from preflight.judging import GRAVE, Examined, State, Verdict, consequence_of_no
from preflight.judging import Void as Judged
from preflight.papers import EntityClaimed, Filing, character_table
from preflight.papers.specification.structure import specification
from preflight.reporting import money
from preflight.reporting.characters_told import tell_characters
from preflight.reporting.findings_told import tell_finding, tell_later
from preflight.reporting.report import (
    PROGRAM,
    Answer,
    Book,
    BundleHead,
    Document,
    Extension,
    Finding,
    Named,
    PaperRow,
    Question,
    Reasons,
    Report,
    RequirementRow,
    Void,
)
from preflight.reporting.wording import counted, day
from preflight.rulebooks import ORDER, Requirement, Rulebook

STALE_AFTER = dt.timedelta(days=183)
"""A rulebook older than six months is worth a caution. House value."""


def build_report(
    filing: Filing,
    manifest: Manifest,
    settled: Settled,
    entity: EntityClaimed,
    rulebook: Rulebook,
    plugins: Sequence[Named],
    examined: Sequence[Examined],
    verdict: Verdict,
    other: Verdict,
    now: dt.datetime,
) -> Report:
    """The report; `other` the verdict at the other strictness."""
    sha256 = filing.digests
    findings = tuple(tell_finding(f, sha256, verdict.ready_for) for f in verdict.findings)
    states = Counter(verdict.states.values())
    asked = [e.requirement for e in examined if verdict.states[e.requirement.id] == "by hand"]
    questions = _questions(filing, rulebook, asked, verdict)
    reasons = Reasons(
        broken=sum(f.state == "broken" and f.signed_off is None for f in findings),
        unread=sum(f.state == "unread" and f.signed_off is None for f in findings),
        questions=sum(q.answer is None for q in questions),
        not_measured=states["not measured"],
        signed_off=sum(f.signed_off is not None for f in findings),
        answered_no=sum(fails(q) for q in questions),
    )
    return Report(
        tool=Named(PROGRAM, __version__),
        created=now.isoformat(timespec="seconds"),
        rulebook=_book(rulebook),
        plugins=tuple(plugins),
        readers=_readers(filing.files),
        bundle=_head(manifest, settled, entity),
        verdict="pass" if verdict.passed else "fail",
        headline=headline(findings, reasons, passed=verdict.passed),
        reasons=reasons,
        documents=tuple(_document(f, filing) for f in filing.files) + _left_out(manifest),
        findings=findings,
        requirements=tuple(_row(e, verdict) for e in examined),
        by_hand=questions,
        for_later=tuple(tell_later(f, sha256) for f in verdict.for_later),
        other_strictness=_other(verdict, other),
        characters=tell_characters(character_table(filing)),
        fees=money.worksheet_of(filing, entity.name, rulebook.fees_checked_on),
        dates={"filing": settled.filing_date.isoformat(), "payment": settled.payment_date.isoformat()},
        cautions=(*_cautions(rulebook, settled.filing_date), *inferred_parts(filing)),
        void=tuple(_void(one, rulebook) for one in verdict.void),
    )


def _book(book: Rulebook) -> Book:
    added = tuple(Extension(e.id, e.title, e.edition, e.sha256, e.plugin) for e in book.extensions)
    return Book(book.id, book.title, book.edition, book.sha256, added)


def headline(findings: Sequence[Finding], reasons: Reasons, *, passed: bool) -> str:
    """Verdict and why: "FAIL: 2 refusals, 3 notices; 1 paper not read", "PASS, 1 signed off, 4 questions for you"."""
    still = [f for f in findings if f.signed_off is None]
    broken = Counter(f.consequence for f in still if f.state == "broken")
    accepted = f"{reasons.signed_off} signed off" if reasons.signed_off else ""
    if passed:
        advice = f"{counted(len(still), 'piece')} of advice" if still else ""
        asked = f"{counted(reasons.questions, 'question')} for you" if reasons.questions else ""
        return ", ".join(part for part in ("PASS", accepted, advice, asked) if part)
    counts = [counted(broken[level], level) for level in ("refusal", "notice") if broken[level]]
    files = {f.file for f in still if f.state == "unread" and f.consequence != "advice"}
    unread = f"{counted(len(files), 'paper')} not read" if files else ""
    no = f"{counted(reasons.answered_no, 'question')} answered no" if reasons.answered_no else ""
    return "FAIL: " + "; ".join(part for part in (", ".join(counts) or "nothing broken", unread, no, accepted) if part)


def fails(question: Question) -> bool:
    """Whether it was answered "no" where that fails the filing."""
    return question.answer is not None and question.answer.value == "no" and question.consequence in GRAVE


def _questions(
    filing: Filing, rulebook: Rulebook, asked: Sequence[Requirement], verdict: Verdict
) -> tuple[Question, ...]:
    """Each question once, in the order of the rulebook, with all requirements that it covers; the gravest names it."""
    found = []
    for question in rulebook.questions:
        if covered := sorted((r for r in asked if r.asked_in == question.id), key=_gravest_first):
            ids = tuple(r.id for r in covered)
            shown = next(iter(filing.with_role(question.shows)), None)
            said = verdict.answers.get(question.id)
            ifno = [consequence_of_no(r, verdict.ready_for) for r in covered]
            found.append(
                Question(
                    id=question.id,
                    requirement=ids[0],
                    covers=ids,
                    question=question.text,
                    file=shown.file if shown else None,
                    page=shown.first_page if shown else None,
                    answer=Answer(said.value, said.by, said.on, said.note) if said else None,
                    consequence=max(ifno, key=ORDER.index),
                )
            )
    return tuple(found)


def _gravest_first(requirement: Requirement) -> tuple[int, int, str]:
    filing, examination = requirement.worst
    return -ORDER.index(filing), -ORDER.index(examination), requirement.id


def _readers(files: Sequence[FileFacts]) -> dict[str, str]:
    return {name: version for f in files for name, version in sorted(f.readers.items())}


def _head(manifest: Manifest, settled: Settled, entity: EntityClaimed) -> BundleHead:
    return BundleHead(
        folder=manifest.folder,
        office=settled.office,
        kind=settled.kind,
        ready_for=settled.ready_for,
        entity=entity.name or "not stated",
        filing_date=settled.filing_date,
        payment_date=settled.payment_date,
        how_known=settled.how_known | {"entity": entity.how_known},
    )


def _document(file: FileFacts, filing: Filing) -> Document:
    rows = tuple(PaperRow(p.role, p.first_page, p.last_page, p.how_known) for p in filing.papers if p.file == file.name)
    return Document(
        file=file.name,
        sha256=file.sha256,
        bytes=file.size,
        media_type=file.media_type,
        pages=len(file.pages),
        papers=rows,
        note=file.unread,
    )


def _left_out(manifest: Manifest) -> tuple[Document, ...]:
    return tuple(
        Document(file=e.name, sha256="", bytes=e.size, media_type="", pages=0, note=f"not looked at: {e.left_out}")
        for e in manifest.entries
        if e.left_out
    )


def _void(void: Judged, rulebook: Rulebook) -> Void:
    entry = void.entry
    if isinstance(entry, SignOff):
        text = entry.message or entry.requirement
        return Void("finding", entry.finding, text, entry.by, entry.on, entry.reason, void.why)
    text = next((question.text for question in rulebook.questions if question.id == entry.question), "")
    said = f"{entry.value}: {entry.note}" if entry.note else entry.value
    return Void("question", entry.question, text, entry.by, entry.on, said, void.why)


def _row(examined: Examined, verdict: Verdict) -> RequirementRow:
    requirement = examined.requirement
    state = verdict.states[requirement.id]
    return RequirementRow(
        id=requirement.id,
        title=requirement.title,
        state=state,
        citations=tuple(c.source for c in requirement.citations),
        looked_at=len(examined.outcomes),
        waits_for=requirement.waits_for if state == "not measured" else None,
        why=_why(examined, state, verdict),
    )


def _why(examined: Examined, state: State, verdict: Verdict) -> str:
    requirement = examined.requirement
    answer = verdict.answers.get(requirement.asked_in or "")
    speaker = verdict.told_by.get(requirement.id)
    looked = counted(len(examined.outcomes), "place")
    return {
        "met": f"looked at {looked}, all held",
        "broken": f"looked at {looked}" + (f"; reported by the finding of {speaker}" if speaker else ""),
        "unread": examined.trouble or "not all of it could be read",
        "by hand": f"answered {answer.value} by {answer.by}" if answer else "a person must look",
        "not measured": f"this version does not measure it: it waits for {requirement.waits_for}",
        "not applicable": "nothing to look at" if examined.applies else "its conditions are not given here",
    }[state]


def _other(verdict: Verdict, other: Verdict) -> str:
    """What the other strictness would change, in one line."""
    mine = {f.id: f.consequence(verdict.ready_for) for f in verdict.findings}
    theirs = {f.id: f.consequence(other.ready_for) for f in other.findings}
    raised = sum(theirs.get(key, "none") != level for key, level in mine.items()) + len(theirs.keys() - mine.keys())
    result = "pass" if other.passed else "fail"
    if not raised:
        return f"ready for {other.ready_for}: the same findings, {result}"
    return f"ready for {other.ready_for}: {counted(raised, 'finding')} would weigh differently, {result}"


def _cautions(rulebook: Rulebook, filing_date: dt.date) -> tuple[str, ...]:
    aged: list[str] = []
    if filing_date - rulebook.edition > STALE_AFTER:
        aged.append(
            f"the rulebook is of {day(rulebook.edition)}, more than six months before the filing day: "
            "compare it with the office's current rules"
        )
    return (*rulebook.cautions, *aged)


def inferred_parts(filing: Filing) -> Iterator[str]:
    """Where headings are absent, what was taken for the parts that they would open, or that none divides the text."""
    found = specification(filing)
    if found and found.inferred:
        yield f"parts without a heading were told by their text, see whether that is right: {'; '.join(found.inferred)}"
    if found and found.described and not found.unread and not any(section.heading for section in found.sections):
        yield "the description has no heading that is known, so its parts were not told apart"
