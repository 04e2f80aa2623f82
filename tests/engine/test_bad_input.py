"""Folders as they really are: a clear line each, the other files still checked, nothing written."""

from __future__ import annotations

import datetime as dt
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path
from types import ModuleType
from typing import Any

import pikepdf
import pytest

from preflight.checks import NoLimits, Outcomes, Seen, check
from preflight.engine import CannotStart, Request, check_folder
from preflight.papers import Filing
from preflight.plugging import Plugin, Registry, built_in, hookimpl, registry_of
from preflight.reading import Cache
from preflight.reporting import Report

SAMPLES = Path(__file__).resolve().parents[2] / "sample_bundles"
NOON = dt.datetime(2026, 11, 25, 17, tzinfo=dt.UTC)


@pytest.fixture(scope="module")
def registry() -> Registry:
    return registry_of(built_in())


@pytest.fixture
def proper(tmp_path: Path) -> Path:
    return Path(shutil.copytree(SAMPLES / "proper", tmp_path / "bundle"))


def run(folder: Path, registry: Registry, **asked: object) -> Report:
    """The report; the proper papers among the files are read once a run of the tests, whatever they are called."""
    kept = Cache(Path(os.environ["PREFLIGHT_TESTS_KEEP"]), now=time.time(), say=str)
    return check_folder(folder, Request(**asked), now=NOON, registry=registry, cache=kept)  # type: ignore[arg-type]


def run_anew(folder: Path, registry: Registry) -> Report:
    """The report with every file opened, where it is the opening that is tried."""
    return check_folder(folder, Request(), now=NOON, registry=registry)


def told(report: Report, requirement: str) -> list[tuple[str | None, str]]:
    return [(f.file, f.message) for f in report.findings if f.requirement == requirement]


def state(report: Report, requirement: str) -> str:
    return next(r.state for r in report.requirements if r.id == requirement)


def test_an_empty_folder_fails_for_want_of_a_specification(tmp_path: Path, registry: Registry) -> None:
    report = run(tmp_path, registry)
    assert report.verdict == "fail"
    assert told(report, "us.prov.filing-date") == [(None, "no specification is in the folder")]
    assert [f.consequence for f in report.findings if f.requirement == "us.prov.filing-date"] == ["refusal"]


def test_a_folder_without_a_pdf_names_what_is_there(tmp_path: Path, registry: Registry) -> None:
    (tmp_path / "notes.txt").write_text("remember the milk")
    report = run(tmp_path, registry)
    assert report.verdict == "fail"
    assert [file for file, _ in told(report, "us.folder.other-files")] == ["notes.txt"]


@pytest.mark.parametrize(
    ("content", "words"),
    [(b"", "empty"), (b"PK\x03\x04 no pdf at all", "must be a PDF"), (b"%PDF-1.4\nand then nothing", "does not open")],
)
def test_a_file_that_is_not_what_its_name_says_is_a_refusal_and_the_rest_is_checked(
    proper: Path, registry: Registry, content: bytes, words: str
) -> None:
    (proper / "broken.pdf").write_bytes(content)
    report = run(proper, registry)
    ((file, message),) = told(report, "us.pdf.valid")
    assert file == "broken.pdf"
    assert words in message
    assert {f.file for f in report.findings if f.consequence != "advice"} == {"broken.pdf"}
    assert state(report, "us.text.page-numbers") == "met"


def test_a_file_that_needs_a_password_is_one_refusal(proper: Path, registry: Registry) -> None:
    with pikepdf.open(proper / "micro.pdf") as pdf:
        pdf.save(proper / "locked.pdf", encryption=pikepdf.Encryption(user="secret", owner="secret"))
    report = run(proper, registry)
    found = [f.requirement for f in report.findings if f.file == "locked.pdf" and f.consequence != "advice"]
    assert found == ["us.pdf.encrypted"]


def test_stray_system_files_are_passed_over_in_silence(proper: Path, registry: Registry) -> None:
    for name in (".DS_Store", "Thumbs.db", "desktop.ini", "~$spec.docx", ".~lock.spec.odt#"):
        (proper / name).write_bytes(b"x")
    report = run(proper, registry)
    assert [f.message for f in report.findings] == []
    assert sum("not looked at" in (d.note or "") for d in report.documents) == 5


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there")
def test_sub_folders_and_links_out_are_named_and_not_opened(proper: Path, registry: Registry, tmp_path: Path) -> None:
    (proper / "old").mkdir()
    shutil.copy(proper / "cover.pdf", proper / "old" / "cover.pdf")
    outside = tmp_path / "other.pdf"
    shutil.copy(proper / "cover.pdf", outside)
    (proper / "link.pdf").symlink_to(outside)
    report = run(proper, registry)
    assert report.verdict == "pass"
    assert {file for file, _ in told(report, "us.folder.left-out")} == {"old", "link.pdf"}


@pytest.mark.parametrize("name", ["明細書.pdf", "описание.pdf", "mémoire.pdf", "spec‮fdp.exe.pdf", "spec\u200b.pdf"])
def test_names_in_any_script_are_read_and_refused_by_name(proper: Path, registry: Registry, name: str) -> None:
    (proper / "specification.pdf").rename(proper / name)
    report = run(proper, registry)
    assert [file for file, _ in told(report, "us.name.characters")] == [name]
    assert state(report, "us.prov.filing-date") == "met"


def test_the_folder_is_only_read(proper: Path, registry: Registry) -> None:
    before = {p.name: (p.stat().st_mtime_ns, p.read_bytes()) for p in proper.iterdir()}
    run_anew(proper, registry)
    assert {p.name: (p.stat().st_mtime_ns, p.read_bytes()) for p in proper.iterdir()} == before


def test_the_order_in_which_files_were_made_does_not_matter(proper: Path, registry: Registry, tmp_path: Path) -> None:
    backwards = tmp_path / "again" / "bundle"
    backwards.mkdir(parents=True)
    for path in sorted(proper.iterdir(), reverse=True):
        shutil.copy(path, backwards / path.name)
    assert run_anew(backwards, registry) == run(proper, registry)


def test_one_combined_pdf_is_split_into_its_papers(proper: Path, registry: Registry, tmp_path: Path) -> None:
    folder = tmp_path / "combined"
    folder.mkdir()
    with pikepdf.new() as whole:
        for name in ("cover", "specification", "drawings", "micro"):
            with pikepdf.open(proper / f"{name}.pdf") as part:
                whole.pages.extend(part.pages)
        whole.save(folder / "application.pdf")
    report = run(folder, registry)
    (document,) = report.documents
    assert [(p.role, p.first_page, p.last_page) for p in document.papers] == [
        ("cover-sheet", 1, 1),
        ("specification", 2, 5),
        ("claims", 6, 6),
        ("abstract", 7, 7),
        ("drawings", 8, 10),
        ("entity-certification", 11, 11),
    ]
    assert [f.message for f in report.findings if f.consequence != "advice"] == []


def test_a_declared_paper_beats_the_guess_and_a_contradiction_is_a_finding(proper: Path, registry: Registry) -> None:
    (proper / "filing.toml").write_text('[papers]\n"micro.pdf" = "drawings"\n')
    report = run(proper, registry)
    ((file, message),) = told(report, "us.folder.declared-role")
    assert file == "micro.pdf"
    assert "declared as drawings, but reads as entity" in message.replace("-", " ")


def test_an_unknown_office_or_kind_cannot_start(proper: Path, registry: Registry) -> None:
    with pytest.raises(CannotStart, match='office "uz" is unknown'):
        run(proper, registry, office="uz")
    with pytest.raises(CannotStart, match='kind "design" is unknown'):
        run(proper, registry, kind="design")


def test_without_any_rulebook_nothing_starts(proper: Path) -> None:
    with pytest.raises(CannotStart, match="no rulebook is installed"):
        run(proper, registry_of([p for p in built_in() if not p.name.endswith(".us")]))


@pytest.mark.plugin
def test_a_check_that_throws_makes_its_requirement_unread_and_is_named(proper: Path, tmp_path: Path) -> None:
    @check("loose-cannon", of=Filing, takes=NoLimits)
    def loose_cannon(_filing: Filing, _: NoLimits) -> Outcomes:
        """Throw."""
        yield Seen(what="cannon", held=True)
        raise RuntimeError("bang")

    (tmp_path / "rules.toml").write_text(
        '[rulebook]\nid = "x-provisional"\noffice = "x"\nkind = "provisional"\ntitle = "X"\nedition = 2026-11-25\n'
        'timezone = "America/New_York"\n[[requirement]]\nid = "x.cannon"\ntitle = "Cannon"\ncheck = "loose-cannon"\n'
        'filing = "notice"\nexamination = "notice"\nwhy = "x"\nmessage = "{what}"\nfix = "tie it down"\n'
        '[[requirement.citations]]\nsource = "x"\nknown = "read"\n'
    )

    ship: Any = ModuleType("ship")
    ship.preflight_checks = hookimpl(lambda: (loose_cannon,))
    ship.preflight_rulebooks = hookimpl(lambda: (tmp_path,))
    registry = registry_of([*built_in(), Plugin("ship", "1.0", ship)])
    report = run(proper, registry, office="x")
    assert state(report, "x.cannon") == "unread"
    assert report.verdict == "fail"
    (finding,) = report.findings
    assert 'check "loose-cannon" of ship failed (RuntimeError: bang)' in finding.message


@pytest.mark.plugin
def test_a_broken_plug_in_is_a_finding_and_the_rest_is_checked(proper: Path) -> None:
    registry = registry_of([*built_in(), Plugin("rusty", "0.3", trouble="it could not be loaded (ImportError)")])
    report = run(proper, registry)
    ((file, message),) = told(report, "preflight.plug-ins")
    assert file is None
    assert "rusty 0.3" in message
    assert report.verdict == "fail"
    assert state(report, "us.text.margins") == "met"


@pytest.mark.skipif(sys.platform == "win32", reason="signals differ there")
def test_an_interruption_ends_with_130_and_leaves_no_worker(proper: Path) -> None:
    command = [sys.executable, "-P", "-m", "preflight", "check", str(proper)]
    program = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, start_new_session=True)
    time.sleep(1.2)
    program.send_signal(signal.SIGINT)
    stdout, stderr = program.communicate(timeout=30)
    assert program.returncode in (130, 0), stderr.decode()  # a quick machine may be through already
    assert program.returncode == 0 or stdout == b""
