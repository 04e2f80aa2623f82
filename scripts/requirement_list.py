"""The list of all requirements, questions and notes as a page: from the rulebook and the checks, never typed."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from preflight.plugging import built_in, registry_of
from preflight.plugging.registry import Registry
from preflight.reporting.law_told import (
    DEALT_WITH,
    condition,
    consequences,
    how_dealt_with,
    in_force,
    limits,
    source,
    sources,
)
from preflight.reporting.wording import counted, day, listed, role
from preflight.rulebooks import Note, Requirement, Rulebook

SUBJECTS = {
    "pdf": "The PDF as a file",
    "name": "File names",
    "folder": "The folder",
    "prov": "Application, cover sheet, data sheet",
    "text": "Specification, claims, abstract",
    "drawing": "Drawings",
    "practice": "Careful practice",
    "sign": "Signatures",
    "small": "Small entity",
    "micro": "Micro entity",
    "fee": "Fees",
    "date": "Dates",
    "upload": "The upload",
}
"""Headings by the second word of an id."""
OTHER = "Other kinds of file"
ABOUT = {
    "proper": "Proper as it is",
    "receipt": "On the receipts",
    "later": "Later duties and rights",
    "office": "How the office works",
}
CERTAINTY = {
    "read": "read in the text itself or a word-for-word copy",
    "third party": "seen in somebody's account",
    "practice": "common practice, no source",
    "memory": "from memory alone: advice or a question at most",
}


def requirement_list() -> str:
    """The page, for the rulebook that comes with the program."""
    registry = registry_of(built_in())
    (book,) = registry.rulebooks.values()
    return "\n".join(_page(book, registry)).rstrip()


def _page(book: Rulebook, registry: Registry) -> Iterator[str]:
    yield f"{_plain(book.title)}, edition of {day(book.edition)}."
    yield ""
    yield from _counts(book)
    grouped: dict[str, list[Requirement]] = {name: [] for name in (*SUBJECTS.values(), OTHER)}
    for requirement in book.requirements:
        grouped[SUBJECTS.get(requirement.id.split(".")[1], OTHER)].append(requirement)
    for name, requirements in grouped.items():
        yield from (f"## {name}", "")
        for requirement in requirements:
            yield from _requirement(requirement, registry)
    yield from _questions(book)
    yield from _notes(book)
    yield from _tables(book)


def _counts(book: Rulebook) -> Iterator[str]:
    states = Counter(map(how_dealt_with, book.requirements))
    kinds = Counter(r.waits_for for r in book.requirements if r.waits_for)
    known = Counter(r.known for r in book.requirements)
    yield from ("| what this version does | requirements |", "|---|---|")
    yield from (f"| {state} | {states[state]} |" for state in DEALT_WITH)
    for kind, number in sorted(kinds.items(), key=lambda item: (-item[1], item[0])):
        yield f"| not measured, waits for {kind} | {number} |"
    yield f"| all | {len(book.requirements)} |"
    yield ""
    yield from ("| how the rule is known, by its best source | requirements |", "|---|---|")
    yield from (f"| {said} | {known[name]} |" for name, said in CERTAINTY.items())
    yield ""
    asked, notes = counted(len(book.questions), "question"), counted(len(book.notes), "note")
    yield f"{asked} cover what is by hand; {notes} tell what never becomes a finding. Both stand at the end."
    yield ""


def _requirement(requirement: Requirement, registry: Registry) -> Iterator[str]:
    yield f"### {_plain(requirement.title)}"
    yield ""
    yield f"`{requirement.id}`, {how_dealt_with(requirement)}. {_plain(requirement.why)}"
    yield ""
    yield from (f"- {line}" for line in _facts(requirement, registry))
    yield ""


def _facts(requirement: Requirement, registry: Registry) -> Iterator[str]:
    if requirement.also:
        yield f"Also: {listed(f'`{name}`' for name in requirement.also)}"
    if requirement.check:
        yield f"Measured: {_plain(registry.checks[requirement.check].measures)} (check `{requirement.check}`)"
    elif requirement.asked_in:
        yield f"Asked in: question `{requirement.asked_in}`"
    else:
        yield f"Not measured by this version: waits for {requirement.waits_for}"
    if requirement.applies_to:
        yield f"Papers: {listed(map(role, requirement.applies_to))}"
    yield from (f"Limits: {_plain(said)}" for said in limits(requirement))
    yield f"If missed: {consequences(requirement.filing, requirement.examination)}"
    for grade in requirement.levels:
        yield f"{_plain(condition(grade))}: {grade.filing} (for the examination: {grade.examination})"
    if requirement.exceptions:
        yield f"Proper: {_plain(requirement.exceptions)}"
    if requirement.fix:
        yield f"Fix: {_plain(requirement.fix)}"
    if requirement.yields_to:
        yield f"Silent where one of these speaks: {listed(f'`{name}`' for name in requirement.yields_to)}"
    if said := in_force(requirement):
        yield f"In force: {said}"
    for citation in requirement.citations:
        yield f"Source: {_plain('; '.join(sources([citation])))}"


def _questions(book: Rulebook) -> Iterator[str]:
    yield from ("## Questions", "")
    for question in book.questions:
        covered = listed(f"`{r.id}`" for r in book.requirements if r.asked_in == question.id)
        yield f"- `{question.id}`: {_plain(question.text)} Covers {covered}."
    yield ""


def _notes(book: Rulebook) -> Iterator[str]:
    yield from (
        "## Notes",
        "",
        "Rules from which nothing follows in the folder: never a finding, never a question.",
        "",
    )
    for about, heading in ABOUT.items():
        yield from (f"### {heading}", "")
        yield from (_note(note) for note in book.notes if note.about == about)
        yield ""


def _note(note: Note) -> str:
    also = f" (also {listed(f'`{name}`' for name in note.also)})" if note.also else ""
    cited = _plain("; ".join(map(source, note.citations)))
    return f"- {_plain(note.title)}, `{note.id}`{also}: {_plain(note.text)} Source: {cited}."


def _tables(book: Rulebook) -> Iterator[str]:
    limits_known = [row for row in book.income_limits if row.limit is not None]
    newest = max(limits_known, key=lambda row: row.since)
    yield from ("## Dated tables", "")
    yield f"- Fees: {counted(len(book.fees), 'row')}, the newest since {day(max(fee.since for fee in book.fees))}"
    yield (
        f"- Income limits: {counted(len(book.income_limits), 'row')}, the newest known of about "
        f"{day(newest.since)[2:]}: {newest.currency} {newest.limit:,}"
    )
    yield f"- Holidays: {counted(len(book.holidays), 'rule')}; closed days: {len(book.closed_days)}"
    yield f"- Document descriptions of the upload page: {len(book.document_descriptions)}"


def _plain(text: str) -> str:
    """Text that Markdown shows as it stands."""
    return re.sub(r"([\\`*_\[\]<])", r"\\\1", text)
