"""What the page says, in the order in which it is read: all is decided here, the template only places it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from preflight.reporting.page.characters import Table, table_of
from preflight.reporting.page.entries import Entry, Group, Step, entries_of, groups_of, steps_of
from preflight.reporting.page.money import Money, money_of
from preflight.reporting.page.papers import PaperEntry, papers_of
from preflight.reporting.page.pictures import Figure, Sheet, Store, in_order
from preflight.reporting.page.rules import Asked, Listed, asked_of, left_open, listed_of
from preflight.reporting.pictured import pages_of
from preflight.reporting.report import Report
from preflight.reporting.wording import counted, day, day_if_one, listed, moment


class Number(NamedTuple):
    """One of the numbers at the top, with where to read on."""

    how_many: int
    what: str
    target: str


class Fact(NamedTuple):
    """A label with what it says, and how that is known."""

    label: str
    value: str
    how: str = ""


class View(NamedTuple):
    """The page."""

    title: str
    verdict: str
    reasons: str
    counsel: str
    numbers: tuple[Number, ...]
    facts: tuple[Fact, ...]
    trouble: tuple[str, ...]
    steps: tuple[Step, ...]
    groups: tuple[Group, ...]
    papers: tuple[PaperEntry, ...]
    characters: Table
    questions: tuple[Asked, ...]
    money: Money | None
    dates: tuple[Fact, ...]
    cautions: tuple[str, ...]
    later: tuple[str, ...]
    open_rules: tuple[Listed, ...]
    settled_rules: tuple[Listed, ...]
    other_strictness: str
    pages: tuple[Figure, ...]
    colophon: tuple[Fact, ...]
    sheets: tuple[Sheet, ...]


def view_of(report: Report) -> View:
    """All of the report, in words."""
    store = Store(report)
    entries = tuple(entries_of(report, store))
    verdict, _, reasons = report.headline.partition(":" if report.headline.startswith("FAIL") else ",")
    return View(
        title=f"{report.headline} ({report.bundle.folder})",
        verdict=verdict.strip(),
        reasons=reasons.strip(),
        counsel=_counsel(report, entries),
        numbers=tuple(_numbers(report, entries)),
        facts=tuple(_facts(report)),
        trouble=tuple(f"{n.name} {n.version}: {n.trouble}" for n in (report.tool, *report.plugins) if n.trouble),
        steps=tuple(steps_of(entries)),
        groups=tuple(groups_of(entries)),
        papers=tuple(papers_of(report, store)),
        characters=table_of(report.characters),
        questions=tuple(asked_of(report, store)),
        money=money_of(report.fees) if report.fees else None,
        dates=tuple(Fact(name.replace("_", " "), day_if_one(said)) for name, said in report.dates.items()),
        cautions=report.cautions,
        later=tuple(_later(report)),
        open_rules=tuple(left_open(report)),
        settled_rules=tuple(listed_of(report)),
        other_strictness=report.other_strictness,
        pages=tuple(_all_pages(report, store)),
        colophon=tuple(_colophon(report)),
        sheets=tuple(store.sheets),
    )


def _counsel(report: Report, entries: Iterable[Entry]) -> str:
    """What to do with the verdict, in a sentence."""
    if report.verdict == "pass":
        asked = sum(question.answer is None for question in report.by_hand)
        rest = f" {counted(asked, 'question')} below can only be answered by a person." if asked else ""
        return f"Nothing that was measured stands against the upload.{rest}"
    if any(entry.blocks for entry in entries):
        return "Do not upload yet: mend what stands first below, then check again."
    return "Do not upload yet: look at the questions that were answered with no."


def _numbers(report: Report, entries: Iterable[Entry]) -> Iterator[Number]:
    shown = list(entries)
    yield Number(sum(e.blocks and e.state == "broken" for e in shown), "to mend before the upload", "first")
    yield Number(sum(e.state == "unread" and not e.signed for e in shown), "not read", "findings")
    yield Number(sum(q.answer is None for q in report.by_hand), "for a person to answer", "questions")


def _facts(report: Report) -> Iterator[Fact]:
    head, known = report.bundle, report.bundle.how_known
    yield Fact("folder", head.folder)
    yield Fact("filing", f"{head.kind}, office {head.office}", known.get("kind", ""))
    yield Fact("filing day", day(head.filing_date), known.get("filing_date", ""))
    yield Fact("payment day", day(head.payment_date), known.get("payment_date", ""))
    yield Fact("entity", head.entity, known.get("entity", ""))
    yield Fact("ready for", head.ready_for, known.get("ready_for", ""))
    yield Fact("rulebook", f"{report.rulebook.title}, edition of {day(report.rulebook.edition)}")
    for added in report.rulebook.extensions:
        yield Fact("and", f"{added.title}, edition of {day(added.edition)}", f"plug-in {added.plugin}")
    yield Fact("checked", moment(report.created))


def _later(report: Report) -> Iterator[str]:
    titles = {row.id: row.title for row in report.requirements}
    yield from dict.fromkeys(titles.get(later.requirement, later.requirement) for later in report.for_later)


def _all_pages(report: Report, store: Store) -> Iterator[Figure]:
    """Every page, where every page was asked for: then some picture belongs to nothing else on this page."""
    elsewhere = {(document.file, paper.first_page) for document in report.documents for paper in document.papers}
    elsewhere |= {page for finding in report.findings for page in pages_of(finding)}
    elsewhere |= {(question.file or "", question.page or 0) for question in report.by_hand}
    shown = {(one.file, one.page) for one in report.page_pictures}
    for one in in_order(report) if shown - elsewhere else ():
        if figure := store.page(one.file, one.page):
            yield figure._replace(caption=figure.said)


def _colophon(report: Report) -> Iterator[Fact]:
    yield Fact("program", f"{report.tool.name} {report.tool.version}")
    yield Fact("read with", listed(f"{name} {version}" for name, version in report.readers.items()) or "nothing")
    yield Fact("rulebook", f"{report.rulebook.id}, SHA-256 {report.rulebook.sha256[:12]}")
    plugins = [f"{plugin.name} {plugin.version}" for plugin in report.plugins]
    yield Fact("plug-ins", listed(plugins) or "none")
