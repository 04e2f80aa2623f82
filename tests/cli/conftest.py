"""The command line with a stand-in for the engine: here it is the contract that is tried, not the measuring."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec
import pytest
from click.testing import CliRunner, Result

from preflight.checks import NoLimits, check
from preflight.cli import catalogue
from preflight.cli import check as check_module
from preflight.cli.commands import preflight
from preflight.engine import Request
from preflight.papers import Filing
from preflight.plugging import Registry
from preflight.reading import Cache
from preflight.reporting import BUILT_IN_RENDERERS, Pictures
from preflight.reporting.report import Report
from preflight.rulebooks import Rulebook
from preflight.rulebooks.model import Citation, Grade, Note, Question, Requirement

REPORTS = Path(__file__).parents[1] / "reporting" / "reports"
READ = Citation(
    source="37 CFR 1.84(g)",
    known="read",
    read_on=dt.date(2026, 11, 25),
    stands_there=("2.5", "3/8 in"),
    derived={"bottom": "3/8 in = 0.9525"},
    house={"allow": "measuring tolerance"},
)
HEARD = Citation(source="Legal Framework 2025", known="third party", read_on=dt.date(2026, 8, 13))


@check("margins", of=Filing, takes=NoLimits)
def margins(filing: Filing, limits: NoLimits):
    """Measure the white on each side of every page."""
    yield from ()


REQUIREMENTS = (
    Requirement(
        id="us.drawing.margins",
        title="Margins of drawing sheets",
        filing="advice",
        examination="notice",
        why="Ink in the margin can be lost when the sheet is scanned.",
        citations=(READ,),
        check="margins",
        limits={"top": 2.5, "bottom": 0.95, "allow": 0.05, "sizes": [[21.0, 29.7], [21.6, 27.9]], "both_sides": True},
        applies_to=("drawings",),
        levels=(Grade("notice", "notice", below=0.5), Grade("refusal", "refusal", sort="cut off")),
        yields_to=("us.pdf.page-size",),
        fix="move the drawing until it lies inside the margins",
    ),
    Requirement(
        id="us.sign.cover",
        title="Cover sheet signed",
        filing="notice",
        examination="notice",
        why="An unsigned cover sheet brings a letter.",
        citations=(HEARD,),
        asked_in="signature",
    ),
    Requirement(
        id="us.text.sequence",
        title="Sequence listing",
        filing="none",
        examination="notice",
        why="A listing has a form of its own.",
        citations=(Citation(source="37 CFR 1.821", known="memory"),),
        waits_for="other kinds of file",
        since=dt.date(2022, 7, 1),
        until=dt.date(2030, 1, 1),
    ),
)
QUESTIONS = (Question(id="signature", text="is the signature that of the person named beside it?"),)
NOTES = (
    Note(
        id="us.text.linenumbers",
        title="Line numbers",
        about="proper",
        text="No rule asks for line numbers and none forbids them.",
        citations=(HEARD,),
        also=("us.text.line-numbers",),
    ),
)


def _book(office: str, timezone: str) -> Rulebook:
    return Rulebook(
        id=f"{office}.provisional",
        office=office,
        kind="provisional",
        title="US provisional application",
        edition=dt.date(2026, 11, 25),
        timezone=timezone,
        requirements=REQUIREMENTS,
        questions=QUESTIONS,
        notes=NOTES,
    )


class Engine:
    """Stands in for `check_folder`: notes how it was called and answers with hand-made reports."""

    def __init__(self) -> None:
        self.calls: list[tuple[Path, Request]] = []
        self.moments: list[dt.datetime] = []
        self.caches: list[Cache | None] = []
        self.pictures: list[Pictures] = []
        self.answers: dict[str, Report] = {}
        self.does: Callable[[], object] = lambda: None

    def __call__(
        self, folder: Path, request: Request, *, now: dt.datetime, cache: Cache | None, pictures: Pictures, **_: Any
    ) -> Report:
        self.calls.append((folder, request))
        self.moments.append(now)
        self.caches.append(cache)
        self.pictures.append(pictures)
        self.does()
        return self.answers[request.office or "us"]


def made(name: str) -> Report:
    return msgspec.json.decode((REPORTS / f"{name}.json").read_bytes(), type=Report)


@pytest.fixture
def registry() -> Registry:
    books = {
        (office, "provisional"): _book(office, zone)
        for office, zone in (("us", "America/New_York"), ("jp", "Asia/Tokyo"))
    }
    renderers = {renderer.name: renderer for renderer in BUILT_IN_RENDERERS}
    return Registry(checks={"margins": margins}, renderers=renderers, rulebooks=books)


@pytest.fixture
def engine(monkeypatch, registry) -> Engine:
    stand_in = Engine()
    stand_in.answers = {"us": made("everything"), "jp": made("clean_pass")}
    monkeypatch.setattr(check_module, "check_folder", stand_in)
    monkeypatch.setattr(check_module, "built_in_and_installed", lambda: registry)
    monkeypatch.setattr(catalogue, "built_in_and_installed", lambda: registry)
    return stand_in


@pytest.fixture
def run(engine) -> Callable[..., Result]:
    """Run the command line inside this process."""

    def command(*arguments: object) -> Result:
        return CliRunner(env={"COLUMNS": "80"}).invoke(preflight, [str(a) for a in arguments])

    return command


@pytest.fixture
def papers(tmp_path) -> Path:
    """A folder with a file in it."""
    folder = tmp_path / "DEMO-001"
    folder.mkdir()
    (folder / "drawings.pdf").write_bytes(b"%PDF-1.6 drawings")
    return folder
