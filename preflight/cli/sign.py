"""`preflight sign`, `answer` and `withdraw`: what a reviewer accepts or answers, kept in filing.toml."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import click
import msgspec

from preflight.bundle import DECLARATION, declaration_text, read_declared, read_folder, with_entry, without_entry
from preflight.cli.options import OFFICE, assumptions
from preflight.cli.outputs import replace_file
from preflight.cli.streams import ReportConsole, shown_as_far_as_read
from preflight.cli.watching import watched_reading
from preflight.datafiles import nearest
from preflight.engine import Judged, ReadFiling, Request, judge_filing, read_filing, report_of
from preflight.facts.declared import Answer, SignOff
from preflight.judging import Finding, objection, rests_on
from preflight.plugging import Registry, built_in_and_installed
from preflight.reporting.findings_told import tell_finding
from preflight.reporting.lines import STRONG, Sheet, styled
from preflight.reporting.report import Report
from preflight.reporting.wording import day, listed
from preflight.rulebooks import Question

_LONGEST = {"by": 40, "reason": 1000}
_FEWEST = 4
"""So many characters of a finding's number are enough, if no other begins so."""


def _said(_: click.Context, parameter: click.Parameter, value: str) -> str:
    """What is written on one line, as it is shown later."""
    line = " ".join(value.split())
    most = _LONGEST["by" if parameter.name == "by" else "reason"]
    if not line and parameter.required:
        raise click.BadParameter("it is empty")
    if len(line) > most or not line.isprintable():
        raise click.BadParameter(f"write at most {most} characters, on one line, without control characters")
    return line


_FOLDER = click.argument("folder", type=click.Path(path_type=Path))
_BY = click.option("--by", required=True, callback=_said, metavar="INITIALS", help="Who answers for it.")


@click.command()
@_FOLDER
@click.argument("finding")
@_BY
@click.option("--reason", required=True, callback=_said, metavar="TEXT", help="Why it is accepted as it is.")
@OFFICE
@assumptions
def sign(folder: Path, finding: str, by: str, reason: str, **assumed: Any) -> None:
    """Accept one FINDING of the papers in FOLDER as it is, with initials and reason.

    FINDING is its number in the report, such as dda7352329b1. A refusal cannot be accepted, only mended. What could not
    be read can, as read by eye, unless its file cannot be opened. The sign-off stands in filing.toml, with the day,
    until a file changes that it speaks of.
    """
    registry, now = built_in_and_installed(), dt.datetime.now().astimezone()
    read = _read(folder, Request(**assumed), now, registry)
    judged = judge_filing(read, registry)
    found = _finding_called(finding, judged)
    digests = read.filing.digests
    told = tell_finding(found, digests, judged.verdict.ready_for)
    if why := objection(found, judged.verdict.ready_for, judged.review.unopened):
        fix = f"; fix: {told.fix}" if told.fix else ""
        raise click.ClickException(f"finding {found.id}, {told.message}: {why}{fix}")
    files = sorted({place.file for place in told.places}) or sorted(digests)
    entry = SignOff(
        finding=found.id,
        by=by,
        on=now.date(),
        reason=reason,
        requirement=told.requirement,
        message=told.message,
        files={name: digests[name] for name in files if name in digests},
    )
    _keep(folder, with_entry(declaration_text(folder), entry))
    _tell(
        f"finding {found.id} is signed off by {by} on {day(entry.on)}: {told.message}",
        _anew(folder, read, registry, now),
    )


@click.command()
@_FOLDER
@click.argument("question")
@click.argument("value", type=click.Choice(["yes", "no", "does not apply"]))
@_BY
@click.option("--note", default="", callback=_said, metavar="TEXT", help="What to add: who looked at what, and when.")
@OFFICE
@assumptions
def answer(folder: Path, question: str, value: Any, by: str, note: str, **assumed: Any) -> None:
    """Answer a QUESTION that only a person can, by its name in the report, such as two-eyes.

    Say what was done, not what is planned. Yes to a question with lettered parts means every one of them; if one is not
    so, the answer is no. The answer stands in filing.toml, with the day, until a paper changes on which it rests. The
    answer no fails the filing where what is asked matters so much.
    """
    registry, now = built_in_and_installed(), dt.datetime.now().astimezone()
    read = _read(folder, Request(**assumed), now, registry)
    asked = _asked(read, judge_filing(read, registry))
    if question not in asked:
        hint = nearest(question, asked) or f"; asked are {listed(asked) or 'none'}"
        raise click.ClickException(f'question "{question}" is not asked of these papers{hint}')
    entry = Answer(question, value, by, now.date(), note, rests_on(asked[question], read.filing))
    _keep(folder, with_entry(declaration_text(folder), entry))
    _tell(
        f"question {question} is answered {value} by {by} on {day(entry.on)}: {asked[question].text}",
        _anew(folder, read, registry, now),
    )


@click.command()
@_FOLDER
@click.argument("entry", metavar="FINDING|QUESTION")
def withdraw(folder: Path, entry: str) -> None:
    """Take a sign-off or an answer out of filing.toml again, whether it holds or is void."""
    registry = built_in_and_installed()
    declared = read_declared(folder, read_folder(folder), registry.roles)
    known = [*(one.finding for one in declared.signed_off), *(one.question for one in declared.answers)]
    if entry not in known:
        hint = nearest(entry, known) or f"; there are {listed(known) or 'none'}"
        raise click.ClickException(f'{DECLARATION} holds no sign-off or answer "{entry}"{hint}')
    _keep(folder, without_entry(declaration_text(folder), entry))
    _tell(f"{entry} is withdrawn", None)


def _read(folder: Path, request: Request, now: dt.datetime, registry: Registry) -> ReadFiling:
    with watched_reading(folder, now) as (tell, cache):
        return read_filing(folder, request, now=now, registry=registry, tell=tell, cache=cache)


def _asked(read: ReadFiling, judged: Judged) -> dict[str, Question]:
    """The questions of the rulebook that these papers raise, in its order, by name."""
    states = judged.verdict.states
    raised = {e.requirement.asked_in for e in judged.examined if states[e.requirement.id] == "by hand"}
    return {one.id: one for one in read.rulebook.questions if one.id in raised}


def _finding_called(name: str, judged: Judged) -> Finding:
    """The finding with this number, or whose number alone begins so."""
    findings = judged.verdict.findings
    near = [f for f in findings if f.id == name or (len(name) >= _FEWEST and f.id.startswith(name))]
    if len(near) == 1:
        return near[0]
    if near:
        raise click.ClickException(f'finding "{name}": {len(near)} begin so; write more of the number')
    of_this = [f.id for f in findings if f.requirement.id == name]
    if of_this:
        raise click.ClickException(f"{name} is a requirement; its findings here are {listed(of_this)}")
    if any(f.id == name for f in judged.verdict.for_later):
        raise click.ClickException(f"{name} matters for the later application only: there is nothing to accept now")
    hint = nearest(name, [f.id for f in findings]) or "; preflight check shows the numbers"
    raise click.ClickException(f'finding "{name}" is not among those of these papers{hint}')


def _keep(folder: Path, text: str) -> None:
    """Write filing.toml beside itself, then put it in its place."""
    path = folder / DECLARATION
    try:
        replace_file(path.resolve(), text.encode("utf-8"))
    except OSError as error:
        why = error.strerror or type(error).__name__
        raise click.ClickException(f"{path} could not be written ({why}); nothing was changed") from error


def _anew(folder: Path, read: ReadFiling, registry: Registry, now: dt.datetime) -> Report:
    """The report with what filing.toml says now, of the same papers."""
    declared = read_declared(folder, read.manifest, registry.roles)
    kept = msgspec.structs.replace(read.filing.declared, signed_off=declared.signed_off, answers=declared.answers)
    again = msgspec.structs.replace(read, filing=msgspec.structs.replace(read.filing, declared=kept))
    return report_of(again, judge_filing(again, registry), registry, now)


def _tell(done: str, report: Report | None) -> None:
    with shown_as_far_as_read() as stream:
        sheet = Sheet(ReportConsole(stream))
        sheet.hang(done)
        sheet.hang(f"kept in {DECLARATION}" if report else f"{DECLARATION} holds it no more")
        if report:
            sheet.hang(styled(report.headline, STRONG))
