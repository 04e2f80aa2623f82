"""`preflight requirements` and `preflight explain ID`: what is required, where it stands, how it is known."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, TextIO

import click
from rich.text import Text

from preflight.cli.streams import ReportConsole, report_stream
from preflight.datafiles import nearest
from preflight.plugging import Registry, built_in_and_installed
from preflight.reporting.findings import MEANING, known_as
from preflight.reporting.lines import FAINT, INDENT, STRONG, Sheet, plain, styled
from preflight.reporting.wording import counted, day, listed, number, role
from preflight.rulebooks import Rulebook
from preflight.rulebooks.model import Citation, Grade, Requirement

STATES = ("measured", "by hand", "not measured")
_LABEL = 14


@click.command()
@click.option("--office", default="us", show_default=True, help="Office whose requirements are listed.")
@click.option("--state", type=click.Choice(STATES), help="Only those that are dealt with in this way.")
def requirements(office: str, state: str | None) -> None:
    """List every requirement, how it is dealt with, what it costs to miss it, and how it is known."""
    with _shown_as_far_as_read() as stream:
        books = _books_of(office, built_in_and_installed())
        sheet = Sheet(ReportConsole(stream))
        for book in books:
            rows = [r for r in book.requirements if state in (None, how_dealt_with(r))]
            sheet.hang(styled(f"{book.title}, edition of {day(book.edition)}", STRONG))
            sheet.hang(f"{counted(len(rows), 'requirement')}; consequence for the filing / for the examination")
            for row in rows:
                sheet.blank()
                _short(row, sheet)
            sheet.blank()
        sheet.hang("more about one of them: preflight explain ID")


@click.command()
@click.argument("requirement_id", metavar="ID")
def explain(requirement_id: str) -> None:
    """Tell all about one requirement: why, what is measured, its limits, what to do, where it stands."""
    with _shown_as_far_as_read() as stream:
        registry = built_in_and_installed()
        every = {r.id: r for book in registry.rulebooks.values() for r in book.requirements}
        if requirement_id not in every:
            hint = nearest(requirement_id, every) or "; preflight requirements lists all of them"
            if re.fullmatch(r"[0-9a-f]{12}", requirement_id):
                hint = "; that is the number of a finding: give the words that stand before it, such as us.pdf.fonts"
            raise click.ClickException(f'requirement "{requirement_id}" is unknown{hint}')
        _whole(every[requirement_id], registry, Sheet(ReportConsole(stream)))


@contextlib.contextmanager
def _shown_as_far_as_read() -> Iterator[TextIO]:
    """Whoever closes the pipe has seen enough of a list."""
    with contextlib.suppress(BrokenPipeError), report_stream() as stream:
        yield stream
        stream.flush()


def how_dealt_with(requirement: Requirement) -> str:
    """One of STATES."""
    if requirement.check is not None:
        return "measured"
    return "by hand" if requirement.question else "not measured"


def _books_of(office: str, registry: Registry) -> list[Rulebook]:
    books = [book for (held_by, _), book in registry.rulebooks.items() if held_by == office]
    if not books:
        known = registry.offices()
        hint = nearest(office, known) or f"; known: {listed(known)}"
        raise click.ClickException(f'there is no rulebook for office "{office}"{hint}')
    return books


def _short(requirement: Requirement, sheet: Sheet) -> None:
    filing, examination = requirement.worst
    head = styled(requirement.id, STRONG) + plain(f"  {how_dealt_with(requirement)}, {filing} / {examination}")
    sheet.hang(head)
    sheet.hang(requirement.title, indent=INDENT)
    sheet.hang(styled("; ".join(_source(c) for c in requirement.citations), FAINT), indent=INDENT)


def _whole(requirement: Requirement, registry: Registry, sheet: Sheet) -> None:
    sheet.hang(styled(requirement.title, STRONG))
    sheet.hang("-" * min(sheet.width, len(requirement.title)))
    for label, said in _entries(requirement, registry):
        sheet.hang(said, indent=INDENT, label=f"{label:<{_LABEL}}")


def _entries(requirement: Requirement, registry: Registry) -> Iterator[tuple[str, str | Text]]:
    yield "id", requirement.id
    yield "why", requirement.why
    if requirement.applies_to:
        yield "applies to", listed(map(role, requirement.applies_to))
    yield from _dealing(requirement, registry)
    yield from _under("limits", _limits(requirement.limits))
    yield "if missed", _consequences(requirement.filing, requirement.examination)
    for grade in requirement.levels:
        yield "", f"{_condition(grade)}: {grade.filing} (for the examination: {grade.examination})"
    if requirement.fix:
        yield "fix", requirement.fix
    yield from _under("source", (said for citation in requirement.citations for said in _about(citation)))
    if requirement.yields_to:
        yield "yields to", f"{listed(requirement.yields_to)}: one defect is reported once"
    if requirement.since or requirement.until:
        yield "in force", " ".join(_in_force(requirement))


def _dealing(requirement: Requirement, registry: Registry) -> Iterator[tuple[str, str]]:
    if requirement.check:
        check = registry.checks.get(requirement.check)
        yield "measured", f"{check.measures if check else ''} (check {requirement.check})".strip()
    elif requirement.question:
        yield "by hand", requirement.question
    else:
        yield "not measured", f"this version has no check for it; it waits for {requirement.waits_for or 'one'}"


def _consequences(filing: str, examination: str) -> str:
    said = "nothing follows" if filing == "none" else f"{filing}: {MEANING.get(filing, '')}"  # type: ignore[call-overload]
    return f"{said} (for the examination: {examination})" if examination != filing else said


def _condition(grade: Grade) -> str:
    parts = [
        grade.sort or "",
        f"above {number(grade.above)}" if grade.above is not None else "",
        f"below {number(grade.below)}" if grade.below is not None else "",
    ]
    return ", ".join(part for part in parts if part) or "otherwise"


def _under(label: str, lines: Iterable[str]) -> Iterator[tuple[str, str]]:
    """A label before the first of several lines."""
    for place, line in enumerate(lines):
        yield (label if place == 0 else ""), line


def _limits(limits: Mapping[str, Any]) -> Iterator[str]:
    """The short ones together; a table has a line for each of its rows."""
    rows = {name: value for name, value in limits.items() if isinstance(value, list) and _tables(value)}
    short = [f"{name.replace('_', ' ')} {_words(value)}" for name, value in limits.items() if name not in rows]
    if short:
        yield "; ".join(short)
    for name, value in rows.items():
        yield from (f"{name.replace('_', ' ')}: {_words(row)}" for row in value)


def _tables(items: list[Any]) -> bool:
    return bool(items) and all(isinstance(item, Mapping) for item in items)


def _words(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return number(value)
    if isinstance(value, Mapping):
        return "; ".join(f"{key} {_words(item)}" for key, item in value.items())
    if isinstance(value, Iterable) and not isinstance(value, str):
        return _several(list(value))
    return str(value)


def _several(items: list[Any]) -> str:
    """Items of a list; where they are lists themselves they are sizes."""
    if items and all(isinstance(item, list) for item in items):
        return ", ".join(" x ".join(map(_words, item)) for item in items)
    return ", ".join(map(_words, items))


def _source(citation: Citation) -> str:
    verb = {"read": "read", "third party": "seen"}.get(citation.known)
    read = f", {verb} {day(citation.read_on)}" if verb and citation.read_on else ""
    return f"{citation.source}{known_as(citation.known)}{read}"


def _about(citation: Citation) -> Iterator[str]:
    yield _source(citation)
    if citation.stands_there:
        yield f"figures that stand there: {', '.join(citation.stands_there)}"
    for name, how in citation.derived.items():
        yield f"{name} follows from them: {how}"
    for name, why in citation.house.items():
        yield f"{name} is ours: {why}"


def _in_force(requirement: Requirement) -> Iterator[str]:
    if requirement.since:
        yield f"from {day(requirement.since)}"
    if requirement.until:
        yield f"until {day(requirement.until)}"
