"""`check --watch`: again after each change, through mistakes, until Ctrl-C."""

from __future__ import annotations

import threading

import msgspec
import pytest

from preflight.cli import rechecking
from preflight.cli.endings import CannotDeliver, Exit
from preflight.cli.rechecking import changes_in, keep_checking
from preflight.datafiles import DataMistakes


def then_interrupted(*changes: object):
    """Changes, and then Ctrl-C while waiting."""
    yield from changes
    raise KeyboardInterrupt


def checks(*answers: object):
    """A check that answers, or fails, so each time."""
    left = iter(answers)

    def check():
        answer = next(left)
        if isinstance(answer, BaseException):
            raise answer
        return answer

    return check


@pytest.fixture
def reports(engine):
    """A failing one and a passing one."""
    return engine.answers["us"], engine.answers["jp"]


def test_the_last_verdict_is_the_exit_code(reports, tmp_path, capsys):
    fail, good = reports
    assert keep_checking(tmp_path, checks([fail], [good]), then_interrupted((), ["a.pdf"])) == Exit.PASS
    assert keep_checking(tmp_path, checks([good], [fail]), then_interrupted((), ["a.pdf"])) == Exit.FAIL
    assert keep_checking(tmp_path, checks([fail, good]), then_interrupted(())) == Exit.FAIL
    capsys.readouterr()


def test_it_says_what_changed_and_what_became_of_the_findings(reports, tmp_path, capsys):
    fail, _ = reports
    less = msgspec.structs.replace(fail, findings=fail.findings[1:])
    keep_checking(tmp_path, checks([fail], [less]), then_interrupted((), ["a\x1b.pdf", "b", "c", "d", "e", "f"]))
    said = capsys.readouterr().err
    assert "changed: a␛.pdf, b, c, d and 2 more; checking again" in said
    assert "since the last check: " in said
    assert "8 still there" in said


@pytest.mark.parametrize("mistake", [DataMistakes(["filing.toml: line 2"]), CannotDeliver("out.json is full")])
def test_a_mistake_of_the_person_is_told_and_waited_for(reports, tmp_path, capsys, mistake):
    _, good = reports
    assert keep_checking(tmp_path, checks(mistake, [good]), then_interrupted((), ["filing.toml"])) == Exit.PASS
    assert str(mistake) in capsys.readouterr().err


def test_a_pass_of_before_is_no_pass_of_what_could_not_be_checked_now(reports, tmp_path):
    _, good = reports
    for mistake, code in ((DataMistakes(["line 2"]), Exit.COULD_NOT_START), (CannotDeliver("full"), Exit.TOOL_FAILED)):
        assert keep_checking(tmp_path, checks([good], mistake), then_interrupted((), ["x"])) == code


def test_a_folder_that_is_gone_ends_it(tmp_path):
    with pytest.raises(DataMistakes):
        keep_checking(tmp_path / "gone", checks(DataMistakes(["no such folder"])), then_interrupted(()))


def test_a_check_that_is_interrupted_proves_nothing(tmp_path):
    with pytest.raises(KeyboardInterrupt):
        keep_checking(tmp_path, checks(KeyboardInterrupt()), then_interrupted(()))


def test_a_failure_of_the_program_is_no_mistake_of_the_person(tmp_path):
    with pytest.raises(RuntimeError):
        keep_checking(tmp_path, checks(RuntimeError("bug")), then_interrupted(()))


@pytest.mark.slow
def test_real_changes_are_seen_and_traces_of_programs_are_not(tmp_path, monkeypatch):
    monkeypatch.setattr(rechecking, "_QUIET_SECONDS", 0.05)
    (tmp_path / "a.pdf").write_bytes(b"1")
    stop = threading.Event()
    seen = changes_in(tmp_path, stop)
    assert next(seen) == (), "it begins before the first check"
    for name in (".filing.toml.77.partial", "~$letter.docx", ".DS_Store"):
        (tmp_path / name).write_bytes(b"x")
    (tmp_path / "a.pdf").write_bytes(b"2")
    (tmp_path / "filing.toml").write_text("")
    names: set[str] = set()
    while len(names) < 2:
        names |= set(next(seen))
    assert names == {"a.pdf", "filing.toml"}
    stop.set()
    assert list(seen) == []


def watched(monkeypatch, *changes: object):
    monkeypatch.setattr(rechecking, "changes_in", lambda *_: then_interrupted(*changes))


def test_the_command_checks_again_and_writes_its_files_again(run, engine, papers, tmp_path, monkeypatch):
    watched(monkeypatch, (), ["drawings.pdf"])
    stamps = []
    engine.does = lambda: stamps.append((tmp_path / "r.json").exists())
    result = run("check", papers, "--watch", "--json", tmp_path / "r.json")
    assert result.exit_code == 1
    assert stamps == [False, True]
    assert len(engine.calls) == 2
    assert "waiting for changes; Ctrl-C ends" in result.stderr
    assert "\x1b" not in result.stdout, "no terminal, nothing to clear"
    assert result.stdout.count(engine.answers["us"].headline) == 4


def test_the_page_reloads_itself_while_it_is_watched_and_not_after(run, engine, papers, tmp_path, monkeypatch):
    page = tmp_path / "checked.html"
    watched(monkeypatch, (), ["drawings.pdf"])
    met = []
    engine.does = lambda: met.append(page.exists() and "location.reload()" in page.read_text())
    assert run("check", papers, "--watch", "--html", page).exit_code == 1
    assert met == [False, True]
    assert "<script" not in page.read_text()


@pytest.mark.parametrize("option", ["--json", "--csv", "--junit"])
def test_nothing_can_take_the_place_of_a_text_that_is_shown_again_and_again(run, engine, papers, option):
    result = run("check", papers, "--watch", option, "-")
    assert result.exit_code == 2
    assert f"{option} -: --watch shows the text again and again; name a file" in result.stderr
    assert engine.calls == []


def test_what_it_writes_must_not_become_a_paper(run, engine, papers):
    result = run("check", papers, "--watch", "--csv", papers / "out.csv")
    assert result.exit_code == 2
    assert "among the papers it would be checked as one of them; name a file beside the folder" in result.stderr
    assert engine.calls == []


def test_without_a_folder_there_is_nothing_to_watch(run, tmp_path):
    result = run("check", tmp_path / "none", "--watch")
    assert result.exit_code == 2
    assert "none: no such folder" in result.stderr
