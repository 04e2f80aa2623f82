"""Requirements on the page: what only a person can answer, what was not measured, what was looked at."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from preflight.reporting.page.pictures import Figure, Store
from preflight.reporting.report import Answer, Report, RequirementRow, State
from preflight.reporting.wording import counted, day, file_name

ANSWERS = ("yes", "no", "does not apply")


class Given(NamedTuple):
    """A reviewer's answer."""

    value: str
    by: str
    on: str
    note: str


class Asked(NamedTuple):
    """One question, with room for an answer where there is none yet."""

    number: int
    question: str
    place: str
    covers: tuple[str, ...]
    answers: tuple[str, ...]
    given: Given | None
    figure: Figure | None


class Listed(NamedTuple):
    """Requirements of which the same is to be said."""

    title: str
    why: str
    rules: tuple[str, ...]


def asked_of(report: Report, store: Store) -> Iterator[Asked]:
    """The open questions, then the answered ones."""
    titles = {row.id: row.title for row in report.requirements}
    for number, one in enumerate(sorted(report.by_hand, key=lambda q: q.answer is not None), 1):
        page = f", page {one.page}" if one.page else ""
        yield Asked(
            number=number,
            question=one.question,
            place=f"{file_name(one.file)}{page}" if one.file else "",
            covers=tuple(titles.get(name, name) for name in one.covers),
            answers=ANSWERS,
            given=_given(one.answer) if one.answer else None,
            figure=store.page(one.file, one.page) if one.file and one.page else None,
        )


def _given(answer: Answer) -> Given:
    return Given(answer.value, answer.by, day(answer.on), answer.note)


def left_open(report: Report) -> Iterator[Listed]:
    """What was not checked, by the reason: the kind of reading that it waits for, the most first."""
    waiting = [row for row in report.requirements if row.state == "not measured"]
    kinds = Counter(row.waits_for for row in waiting)
    for kind, number in sorted(kinds.items(), key=lambda one: (-one[1], one[0] or "")):
        why = f"waits for {kind}" if kind else "not measured by this version"
        yield Listed(counted(number, "requirement"), why, _named(row for row in waiting if row.waits_for == kind))
    unread = _in_state(report, "unread")
    if unread:
        yield Listed(counted(len(unread), "requirement"), "not all of it could be read", _named(unread))


def listed_of(report: Report) -> Iterator[Listed]:
    """What is broken and reported elsewhere, what was looked at and held, and what there was nothing to look at for."""
    told = report.told_with_others
    if told:
        said = "each reported by the finding of another, which tells the same defect"
        yield Listed(f"{counted(len(told), 'requirement')} broken too", said, _named(told))
    met, idle = _in_state(report, "met"), _in_state(report, "not applicable")
    if met:
        places = sum(row.looked_at for row in met)
        said = f"looked at {counted(places, 'place')}, all held"
        yield Listed(f"{counted(len(met), 'requirement')} met", said, _named(met))
    if idle:
        said = "nothing to look at, or their conditions are not given here"
        yield Listed(f"{counted(len(idle), 'requirement')} not applicable", said, _named(idle))


def _in_state(report: Report, state: State) -> list[RequirementRow]:
    return [row for row in report.requirements if row.state == state]


def _named(rows: Iterable[RequirementRow]) -> tuple[str, ...]:
    return tuple(f"{row.title} ({'; '.join(row.citations)})" for row in rows)
