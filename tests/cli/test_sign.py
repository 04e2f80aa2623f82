"""`preflight sign`, `answer` and `withdraw`: only the reading of the papers is stood in for."""

from __future__ import annotations

import datetime as dt
import sys
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from preflight.bundle import read_declared, read_folder, settle
from preflight.checks import NoLimits, Place, Seen, check
from preflight.cli import sign as sign_module
from preflight.cli.commands import preflight
from preflight.engine import ReadFiling, Request, judge_filing, report_of
from preflight.facts import FileFacts
from preflight.facts.declared import Declared
from preflight.papers import Filing
from preflight.plugging import Registry
from preflight.rulebooks import Citation, Question, Requirement, Rulebook

NOW = dt.datetime(2026, 11, 26, 12, tzinfo=dt.UTC)


@check("each file", of=FileFacts, takes=NoLimits)
def each_file(file: FileFacts, limits: NoLimits):
    """Look at every file and find a fault in it."""
    yield Seen(what=f"{file.name} as it is", held=False, at=Place(file.name))


@check("the folder", of=Filing, takes=NoLimits)
def the_folder(filing: Filing, limits: NoLimits):
    """Look at the folder as a whole and find nothing there."""
    yield Seen(what="receipt", held=False, at=Place())


def rule(name: str, **more: object) -> Requirement:
    fields = {"title": name, "filing": "notice", "examination": "notice", "why": "because", "fix": "mend it"}
    citations = (Citation("37 CFR 0.0", "read"),)
    return Requirement(id=name, citations=citations, message="{what} is wrong", **(fields | more))  # type: ignore[arg-type]


BOOK = Rulebook(
    id="us.provisional",
    office="us",
    kind="provisional",
    title="US",
    edition=dt.date(2026, 11, 25),
    timezone="America/New_York",
    requirements=(
        rule("us.file.fault", check="each file"),
        rule("us.file.refused", check="the folder", filing="refusal"),
        rule("us.hand", asked_in="two-eyes"),
    ),
    questions=(Question("two-eyes", "Has a second person looked?", rests_on=()),),
)
REGISTRY = Registry(checks={"each file": each_file, "the folder": the_folder}, rulebooks={("us", "provisional"): BOOK})


def read(folder: Path, request: Request, **_: object) -> ReadFiling:
    manifest = read_folder(folder)
    declared = read_declared(folder, manifest, ())
    settled = settle(Declared(), declared, timezone="UTC", now=NOW)
    files = tuple(FileFacts(name=e.name, size=e.size, sha256=e.sha256) for e in manifest.files)
    filing = Filing("us", "provisional", manifest.entries, files, (), NOW.date(), NOW.date(), settled.declared)
    return ReadFiling(manifest, settled, BOOK, filing)


@pytest.fixture
def folder(tmp_path, monkeypatch) -> Path:
    monkeypatch.setattr(sign_module, "read_filing", read)
    monkeypatch.setattr(sign_module, "built_in_and_installed", lambda: REGISTRY)
    papers = tmp_path / "DEMO-001"
    papers.mkdir()
    (papers / "drawings.pdf").write_bytes(b"lines")
    (papers / "specification.pdf").write_bytes(b"words")
    return papers


def run(*arguments: object) -> Result:
    return CliRunner(env={"COLUMNS": "200"}).invoke(preflight, [str(a) for a in arguments])


def report(folder: Path):
    now = read(folder, Request())
    return report_of(now, judge_filing(now, REGISTRY), REGISTRY, NOW)


def the_id(folder: Path, words: str) -> str:
    (found,) = (f.id for f in report(folder).findings if words in f.message)
    return found


def entries(folder: Path) -> dict:
    return tomllib.loads((folder / "filing.toml").read_text(encoding="utf-8"))


SIGNED = ("--by", "AE", "--reason", "looked at it")


def test_a_finding_is_signed_off_with_what_it_said_and_on_which_bytes(folder):
    finding = the_id(folder, "drawings.pdf")
    result = run("sign", folder, finding, "--by", " A.  E. ", "--reason", "the client wants it so")
    assert result.exit_code == 0, result.stderr
    assert f"finding {finding} is signed off by A. E. on " in result.stdout
    assert "FAIL: 1 refusal, 1 notice; 1 signed off" in result.stdout
    (entry,) = entries(folder)["signed_off"]
    assert entry.pop("on").year >= 2026
    digest = read_folder(folder).entries[0].sha256
    assert entry == {
        "finding": finding,
        "by": "A. E.",
        "reason": "the client wants it so",
        "requirement": "us.file.fault",
        "message": "drawings.pdf as it is is wrong",
        "files": {"drawings.pdf": digest},
    }


def test_the_beginning_of_the_number_is_enough(folder):
    assert run("sign", folder, the_id(folder, "drawings.pdf")[:6], *SIGNED).exit_code == 0
    assert [f.signed_off is not None for f in report(folder).findings] == [False, True, False]


def test_comments_and_order_of_the_person_stay(folder):
    own = '# mine\nentity = "micro"  # why\n\n[papers]\n'
    (folder / "filing.toml").write_text(own, encoding="utf-8")
    run("sign", folder, the_id(folder, "drawings.pdf"), *SIGNED)
    assert (folder / "filing.toml").read_text(encoding="utf-8").startswith(own + "\n[[signed_off]]\n")


def test_a_changed_file_voids_it_and_the_other_sign_off_holds(folder):
    run("sign", folder, the_id(folder, "drawings.pdf"), *SIGNED)
    run("sign", folder, the_id(folder, "specification.pdf"), *SIGNED)
    (folder / "drawings.pdf").write_bytes(b"other lines")
    now = report(folder)
    assert [f.file for f in now.findings if f.signed_off] == ["specification.pdf"]
    assert [(v.of, v.text, v.why) for v in now.void] == [
        ("finding", "drawings.pdf as it is is wrong", "drawings.pdf has changed since")
    ]
    assert now.reasons.signed_off == 1


@pytest.mark.hostile
@pytest.mark.skipif(sys.platform == "win32", reason="such names are not allowed there")
def test_a_hostile_name_is_harmless_where_it_is_signed_kept_listed_and_withdrawn(folder):
    (folder / "a\u202efdp\x1b[31m<b>.pdf").write_bytes(b"x")
    finding = the_id(folder, "fdp")
    for done in (run("sign", folder, finding, *SIGNED), run("check", folder), run("withdraw", folder, finding)):
        assert not {c for c in done.output if c != "\n" and not c.isprintable()}, done.output
        kept = (folder / "filing.toml").read_text(encoding="utf-8")
        assert not {c for c in kept if c != "\n" and not c.isprintable()}, kept
    assert finding not in kept


@settings(
    deadline=None, max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture], phases=[Phase.generate]
)
@given(st.sampled_from(["drawings.pdf", "specification.pdf"]), st.integers(0, 4), st.integers(0, 255))
def test_any_byte_that_changes_voids_what_was_signed_on_its_file_and_a_new_name_is_told_apart(folder, name, at, other):
    contents = {"drawings.pdf": b"lines", "specification.pdf": b"words"}
    for file, content in contents.items():
        (folder / file).write_bytes(content)
    (folder / "filing.toml").unlink(missing_ok=True)
    for file in contents:
        run("sign", folder, the_id(folder, file), *SIGNED)
    changed = bytearray(contents[name])
    changed[at] ^= other
    (folder / name).write_bytes(changed)
    voided = [(v.text, v.why) for v in report(folder).void]
    assert voided == ([(f"{name} as it is is wrong", f"{name} has changed since")] if other else [])
    (folder / name).rename(folder / "renamed.pdf")
    voided = [(v.text, v.why) for v in report(folder).void]
    (folder / "renamed.pdf").unlink()
    assert voided == [(f"{name} as it is is wrong", f"{name} is no longer there")]


@pytest.mark.parametrize(
    ("called", "said"),
    [
        (lambda f: the_id(f, "receipt"), "a refusal cannot be signed off, only mended"),
        (lambda _: "us.file.refused", "us.file.refused is a requirement; its findings here are "),
        (lambda _: "0123456789ab", "is not among those of these papers"),
        (lambda f: the_id(f, "drawings.pdf")[:-1] + "x", "; did you mean "),
        (lambda _: "", 'finding "" is not among those of these papers'),
        (lambda _: "\x1b[31m", "preflight check shows the numbers"),
    ],
)
def test_what_cannot_be_signed_off_is_told_in_one_line_and_nothing_is_written(folder, called, said):
    result = run("sign", folder, called(folder), *SIGNED)
    assert (result.exit_code, result.stdout) == (2, "")
    assert said in result.stderr
    assert "\x1b" not in result.stderr
    assert len(result.stderr.splitlines()) == 1
    assert not (folder / "filing.toml").exists()


@pytest.mark.parametrize(
    "options", [("--by", "AE"), ("--reason", "x"), ("--by", " ", "--reason", "x"), ("--by", "AE", "--reason", "\x07")]
)
def test_without_initials_and_reason_there_is_no_sign_off(folder, options):
    assert run("sign", folder, the_id(folder, "drawings.pdf"), *options).exit_code == 2
    assert not (folder / "filing.toml").exists()


def test_a_question_is_answered_and_answered_again(folder):
    result = run("answer", folder, "two-eyes", "no", "--by", "AE")
    assert result.exit_code == 0, result.stderr
    assert "1 question answered no" in result.stdout
    assert "question two-eyes is answered no by AE on " in result.stdout
    assert ": Has a second person looked?\n" in result.stdout, "what was said no to is read once more"
    run("answer", folder, "two-eyes", "yes", "--by", "PR", "--note", "PR, 9 pages, 23:10")
    assert [(e["value"], e["by"], e["note"]) for e in entries(folder)["answers"]] == [
        ("yes", "PR", "PR, 9 pages, 23:10")
    ]
    (question,) = report(folder).by_hand
    assert (question.answer.value, question.answer.by) == ("yes", "PR")
    assert report(folder).reasons.questions == 0


def test_a_question_that_is_not_asked_is_told(folder):
    result = run("answer", folder, "two-eye", "yes", "--by", "AE")
    assert result.exit_code == 2
    assert 'question "two-eye" is not asked of these papers; did you mean "two-eyes"?' in result.stderr


def test_what_was_signed_can_be_withdrawn_also_when_void(folder):
    finding = the_id(folder, "drawings.pdf")
    run("sign", folder, finding, *SIGNED)
    run("answer", folder, "two-eyes", "yes", "--by", "AE")
    (folder / "drawings.pdf").write_bytes(b"other lines")
    assert run("withdraw", folder, finding).exit_code == 0
    assert list(entries(folder)) == ["answers"]
    assert run("withdraw", folder, "two-eyes").exit_code == 0
    assert entries(folder) == {}
    again = run("withdraw", folder, finding)
    assert again.exit_code == 2
    assert "holds no sign-off or answer" in again.stderr


def test_a_broken_declaration_is_left_as_it_is(folder):
    (folder / "filing.toml").write_text("entity = \n", encoding="utf-8")
    result = run("sign", folder, "0123456789ab", *SIGNED)
    assert result.exit_code == 2
    assert result.stderr.startswith("filing.toml: ")
    assert (folder / "filing.toml").read_text(encoding="utf-8") == "entity = \n"


@pytest.mark.parametrize("before", [None, 'entity = "micro"\n'])
def test_where_nothing_can_be_written_nothing_is_lost(folder, monkeypatch, before):
    if before:
        (folder / "filing.toml").write_text(before, encoding="utf-8")
    finding = the_id(folder, "drawings.pdf")

    def no_room(descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("preflight.cli.outputs.os.fsync", no_room)
    result = run("sign", folder, finding, *SIGNED)
    assert result.exit_code == 2
    assert "filing.toml could not be written (No space left on device); nothing was changed" in result.stderr
    left = {path.name: path.read_text() for path in folder.iterdir() if path.suffix != ".pdf"}
    assert left == ({"filing.toml": before} if before else {})


@pytest.mark.skipif(sys.platform == "win32", reason="rights are kept otherwise there")
def test_who_may_read_the_file_stays_as_it_was(folder):
    (folder / "filing.toml").write_text('entity = "micro"\n', encoding="utf-8")
    (folder / "filing.toml").chmod(0o640)
    run("sign", folder, the_id(folder, "drawings.pdf"), *SIGNED)
    assert (folder / "filing.toml").stat().st_mode & 0o777 == 0o640
