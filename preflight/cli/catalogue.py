"""`preflight requirements` and `preflight explain ID`: what is required, where it stands, how it is known."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import click
from rich.text import Text

from preflight.cli.streams import ReportConsole, shown_as_far_as_read
from preflight.datafiles import nearest
from preflight.plugging import Registry, built_in_and_installed
from preflight.reporting.law_told import (
    DEALT_WITH,
    added,
    condition,
    consequences,
    how_dealt_with,
    in_force,
    limits,
    source,
    sources,
)
from preflight.reporting.lines import FAINT, INDENT, STRONG, Sheet, plain, styled
from preflight.reporting.wording import counted, day, listed, role
from preflight.rulebooks import Note, Question, Requirement, Rulebook

_LABEL = 14


@click.command()
@click.option("--office", default="us", show_default=True, help="Office whose requirements are listed.")
@click.option("--state", type=click.Choice(DEALT_WITH), help="Only those that are dealt with in this way.")
@click.option(
    "--notes", is_flag=True, help="List instead what is proper, comes later, or is the office's own business."
)
def requirements(office: str, state: str | None, *, notes: bool) -> None:
    """List every requirement, how it is dealt with, what it costs to miss it, and how it is known."""
    if notes and state:
        raise click.UsageError("--notes lists notes, which have no state; leave --state out")
    with shown_as_far_as_read() as stream:
        sheet = Sheet(ReportConsole(stream))
        for book in _books_of(office, built_in_and_installed()):
            sheet.hang(styled(f"{book.title}, edition of {day(book.edition)}", STRONG))
            for extension in book.extensions:
                sheet.hang(f"with {added(extension)}")
            if notes:
                _notes(book, sheet)
            else:
                _requirements([r for r in book.requirements if state in (None, how_dealt_with(r))], book, sheet)
            sheet.blank()
        sheet.hang("more about one of them: preflight explain ID")


@click.command()
@click.argument("entry_id", metavar="ID")
def explain(entry_id: str) -> None:
    """Tell all about one requirement: why, what is measured, its limits, what to do, where it stands."""
    with shown_as_far_as_read() as stream:
        registry = built_in_and_installed()
        found = list(_entries_called(entry_id, registry))
        if not found:
            known = [i for book in registry.rulebooks.values() for i in _ids(book)]
            hint = nearest(entry_id, known) or "; preflight requirements lists all of them"
            if re.fullmatch(r"[0-9a-f]{12}", entry_id):
                hint = "; that is the number of a finding: give the words that stand before it, such as us.pdf.fonts"
            raise click.ClickException(f'requirement "{entry_id}" is unknown{hint}')
        sheet = Sheet(ReportConsole(stream))
        for place, (title, lines) in enumerate(found):
            if place:
                sheet.blank()
            sheet.hang(styled(title, STRONG))
            sheet.hang("-" * min(sheet.width, len(title)))
            for label, said in lines:
                sheet.hang(said, indent=INDENT, label=f"{label:<{_LABEL}}")


def _books_of(office: str, registry: Registry) -> list[Rulebook]:
    books = [book for (held_by, _), book in registry.rulebooks.items() if held_by == office]
    if not books:
        known = registry.offices()
        hint = nearest(office, known) or f"; known: {listed(known)}"
        raise click.ClickException(f'there is no rulebook for office "{office}"{hint}')
    return books


def _requirements(rows: list[Requirement], book: Rulebook, sheet: Sheet) -> None:
    sheet.hang(f"{counted(len(rows), 'requirement')}; consequence for the filing / for the examination")
    for row in rows:
        filing, examination = row.worst
        said = f"{how_dealt_with(row)}, {filing} / {examination}"
        _short(row, said + _of_house(row, book), sheet)


def _notes(book: Rulebook, sheet: Sheet) -> None:
    sheet.hang(f"{counted(len(book.notes), 'note')}: rules from which nothing follows in the folder")
    for note in book.notes:
        _short(note, note.about + _of_house(note, book), sheet)
        sheet.hang(note.text, indent=INDENT)


def _of_house(entry: Requirement | Note, book: Rulebook) -> str:
    extension = book.added_by(entry.id)
    return f" (added by {extension.id})" if extension else ""


def _short(entry: Requirement | Note, said: str, sheet: Sheet) -> None:
    sheet.blank()
    sheet.hang(styled(entry.id, STRONG) + plain(f"  {said}"))
    sheet.hang(entry.title, indent=INDENT)
    sheet.hang(styled("; ".join(source(c) for c in entry.citations), FAINT), indent=INDENT)


def _ids(book: Rulebook) -> Iterator[str]:
    for requirement in book.requirements:
        yield from (requirement.id, *requirement.also)
    for note in book.notes:
        yield from (note.id, *note.also)
    yield from (question.id for question in book.questions)


def _entries_called(name: str, registry: Registry) -> Iterator[tuple[str, Iterable[tuple[str, str | Text]]]]:
    """Title and lines of whatever has this id, or goes by it too."""
    for book in registry.rulebooks.values():
        for requirement in book.requirements:
            if name in (requirement.id, *requirement.also):
                yield requirement.title, _of_requirement(requirement, book, registry)
        for note in book.notes:
            if name in (note.id, *note.also):
                yield note.title, _of_note(note, book)
        for question in book.questions:
            if name == question.id:
                yield f"Question {name}", _of_question(question, book)


def _of_requirement(requirement: Requirement, book: Rulebook, registry: Registry) -> Iterator[tuple[str, str | Text]]:
    yield "id", requirement.id
    if requirement.also:
        yield "also", listed(requirement.also)
    yield from _origin(requirement.id, book)
    yield "why", requirement.why
    if requirement.exceptions:
        yield "proper", requirement.exceptions
    if requirement.applies_to:
        yield "applies to", listed(map(role, requirement.applies_to))
    yield from _dealing(requirement, book, registry)
    yield from _under("limits", limits(requirement))
    yield "if missed", consequences(requirement.filing, requirement.examination)
    for grade in requirement.levels:
        yield "", f"{condition(grade)}: {grade.filing} (for the examination: {grade.examination})"
    if requirement.fix:
        yield "fix", requirement.fix
    yield from _under("source", sources(requirement.citations))
    if requirement.yields_to:
        yield "yields to", f"{listed(requirement.yields_to)}: one defect is reported once"
    if requirement.since or requirement.until:
        yield "in force", in_force(requirement)


def _dealing(requirement: Requirement, book: Rulebook, registry: Registry) -> Iterator[tuple[str, str]]:
    if requirement.check:
        check = registry.checks.get(requirement.check)
        yield "measured", f"{check.measures if check else ''} (check {requirement.check})".strip()
    elif requirement.asked_in:
        asked = "".join(question.text for question in book.questions if question.id == requirement.asked_in)
        yield "by hand", f"{asked} (question {requirement.asked_in})"
    else:
        yield "not measured", f"this version has no check for it; it waits for {requirement.waits_for or 'one'}"


def _of_note(note: Note, book: Rulebook) -> Iterator[tuple[str, str]]:
    yield "id", note.id
    if note.also:
        yield "also", listed(note.also)
    yield from _origin(note.id, book)
    yield "note", note.about
    yield "", note.text
    yield from _under("source", sources(note.citations))


def _origin(name: str, book: Rulebook) -> Iterator[tuple[str, str]]:
    if extension := book.added_by(name):
        yield "added by", added(extension)


def _of_question(question: Question, book: Rulebook) -> Iterator[tuple[str, str]]:
    yield "asks", question.text
    yield from _origin(question.id, book)
    covered = (r for r in book.requirements if r.asked_in == question.id)
    yield from _under("covers", (f"{r.id}: {r.title}" for r in covered))


def _under(label: str, lines: Iterable[str]) -> Iterator[tuple[str, str]]:
    """A label before the first of several lines."""
    for place, line in enumerate(lines):
        yield (label if place == 0 else ""), line
