"""`preflight check`: what goes in, what comes out, and the exit code."""

from __future__ import annotations

import datetime as dt
import json
from pathlib import Path

import click
import msgspec
import pytest

from preflight.datafiles import DataMistakes
from preflight.engine import Request
from preflight.reporting.machine import set_to_json, to_json
from preflight.reporting.renderer import PAGE_BEGINS, Renderer


def test_a_failing_folder_is_1_and_the_report_goes_to_standard_output(run, engine, papers):
    result = run("check", papers)
    assert result.exit_code == 1
    assert result.stdout.startswith(engine.answers["us"].headline + "\n")
    assert result.stderr == ""


def test_a_passing_folder_is_0(run, papers):
    assert run("check", papers, "--office", "jp").exit_code == 0


def test_left_to_itself_nothing_is_decided_here(run, engine, papers):
    run("check", papers)
    assert engine.calls == [(papers, Request())]


def test_every_option_reaches_the_engine(run, engine, papers):
    run(
        *("check", papers, "--office", "jp", "--kind", "provisional", "--filing-date", "2026-11-25"),
        *("--payment-date", "2026-11-27", "--ready-for", "examination", "--entity", "micro"),
    )
    ((_, request),) = engine.calls
    assert request == Request(
        "jp", "provisional", dt.date(2026, 11, 25), dt.date(2026, 11, 27), "examination", "micro"
    )  # fmt: skip


def test_all_offices_are_checked_at_one_moment_whose_time_zone_is_known(run, engine, papers):
    run("check", papers, "--office", "us", "--office", "jp")
    first, second = engine.moments
    assert first == second
    assert first.utcoffset() is not None


def test_several_offices_fail_if_one_does_and_are_named_once(run, engine, papers):
    result = run("check", papers, "--office", "jp", "--office", "us", "--office", "jp")
    assert result.exit_code == 1
    assert [request.office for _, request in engine.calls] == ["jp", "us"]
    assert "ALL OFFICES" in result.stdout


def test_json_in_place_of_the_text(run, engine, papers):
    result = run("check", papers, "--json", "-")
    assert result.stdout_bytes == to_json(engine.answers["us"])
    assert result.exit_code == 1


def test_json_of_several_offices_is_a_set(run, engine, papers):
    result = run("check", papers, "--office", "us", "--office", "jp", "--json", "-")
    assert result.stdout_bytes == set_to_json([engine.answers["us"], engine.answers["jp"]])


def test_json_beside_the_text(run, engine, papers, tmp_path):
    result = run("check", papers, "--json", tmp_path / "report.json")
    assert (tmp_path / "report.json").read_bytes() == to_json(engine.answers["us"])
    assert result.stdout.startswith("FAIL")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["DEMO-001", "report.json"]


def test_another_form(run, papers, tmp_path, registry):
    registry.renderers["tally"] = Renderer("tally", lambda report: f"{len(report.findings)}\n", "text/plain")
    run("check", papers, "--write", "tally", tmp_path / "tally.txt", "--write", "text", tmp_path / "report.txt")
    assert (tmp_path / "tally.txt").read_text() == "9\n"
    assert (tmp_path / "report.txt").read_text(encoding="utf-8").startswith("FAIL")


def test_a_page_beside_the_text_and_once_more_over_itself(run, papers, tmp_path):
    for _ in range(2):
        assert run("check", papers, "--html", papers / "report.html").exit_code == 1
        assert (papers / "report.html").read_bytes().startswith(PAGE_BEGINS)
    assert run("check", papers, "--html", papers / "drawings.pdf").exit_code == 2


@pytest.mark.parametrize(
    ("options", "made"),
    [
        ((), "none"),
        (("--json", "{}"), "places"),
        (("--html", "{}"), "findings"),
        (("--html", "{}", "--pictures", "all"), "all"),
        (("--write", "html", "{}", "--pictures", "findings"), "findings"),
        (("--json", "{}", "--pictures", "all"), "places"),
        (("--json", "{}", "--pictures", "none"), "none"),
        (("--html", "{}", "--pictures", "none"), "none"),
    ],
)
def test_only_the_pictures_that_an_output_shows_are_made(run, engine, papers, tmp_path, options, made):
    run("check", papers, *(option.format(tmp_path / "report") for option in options))
    assert engine.pictures == [made]


def test_a_page_is_not_shown_at_a_terminal(run, engine, papers):
    result = run("check", papers, "--html", "-")
    assert result.exit_code == 2
    assert "name a file" in result.stderr


def test_two_outputs_in_one_file_are_refused(run, engine, papers, tmp_path):
    result = run("check", papers, "--html", tmp_path / "x", "--json", tmp_path / "x")
    assert result.exit_code == 2
    assert "--json and --html name the same file" in result.stderr
    assert engine.calls == []


def test_a_report_may_lie_in_the_folder_if_it_is_named(run, papers):
    assert run("check", papers, "--json", papers / "report.json").exit_code == 1
    assert run("check", papers, "--json", papers / "report.json").exit_code == 1
    assert json.loads((papers / "report.json").read_bytes())["verdict"] == "fail"


def _link(papers: Path) -> Path:
    link = papers.parent / "elsewhere.json"
    link.symlink_to(papers / "drawings.pdf")
    return link


def _hard_link(papers: Path) -> Path:
    link = papers.parent / "elsewhere.json"
    link.hardlink_to(papers / "drawings.pdf")
    return link


def _declaration(papers: Path) -> Path:
    (papers / "filing.toml").write_text('office = "us"')
    return papers / "filing.toml"


@pytest.mark.parametrize(
    "target",
    [
        pytest.param(lambda papers: papers / "drawings.pdf", id="a paper"),
        pytest.param(lambda papers: papers / ".." / papers.name / "drawings.pdf", id="a paper by another path"),
        pytest.param(_link, id="a link to a paper"),
        pytest.param(_hard_link, id="a second name of a paper"),
        pytest.param(_declaration, id="the declaration"),
    ],
)
@pytest.mark.parametrize("option", [("--json",), ("--write", "text")], ids=["json", "another form"])
def test_no_file_of_the_folder_is_written_over(run, engine, papers, target, option):
    path = target(papers)
    before = path.read_bytes()
    result = run("check", papers, *option, path)
    assert result.exit_code == 2
    assert "would be lost; name another file" in result.stderr
    assert path.read_bytes() == before
    assert engine.calls == []


@pytest.mark.parametrize(
    ("target", "said"),
    [
        ("missing/report.json", "does not exist; create it first or name another"),
        (".", "this is a folder; name a file in it"),
    ],
)
def test_where_nothing_can_be_written_nothing_is_begun(run, engine, papers, tmp_path, target, said):
    result = run("check", papers, "--json", tmp_path / target)
    assert result.exit_code == 2
    assert said in result.stderr
    assert engine.calls == []


def test_all_mistakes_about_outputs_are_told_at_once(run, papers, tmp_path):
    result = run("check", papers, "--json", tmp_path, "--write", "gold", tmp_path / "none" / "x", "--office", "us")
    assert result.exit_code == 2
    assert "this is a folder" in result.stderr
    assert "--write gold: this form is unknown; known are html, json, text" in result.stderr
    assert "does not exist" in result.stderr


def test_other_forms_take_one_office(run, papers, tmp_path):
    result = run("check", papers, "--office", "us", "--office", "jp", "--write", "text", tmp_path / "x")
    assert result.exit_code == 2
    assert "--write takes one office at a time: check once for each" in result.stderr


def test_a_form_that_throws_is_a_failure_of_the_program_and_no_verdict(run, papers, tmp_path, registry):
    registry.renderers["bad"] = Renderer("bad", lambda _: 1 / 0, "text/plain")
    result = run("check", papers, "--write", "bad", tmp_path / "x")
    assert result.exit_code == 3
    assert result.stdout == ""


def test_a_full_disk_is_told_and_leaves_nothing_half_written(run, papers, tmp_path, monkeypatch):
    def no_room(descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("preflight.cli.outputs.os.fsync", no_room)
    result = run("check", papers, "--json", tmp_path / "report.json")
    assert result.exit_code == 3
    assert "could not be written: No space left on device" in result.stderr
    assert result.stdout.startswith("FAIL: "), "what was found is not lost"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["DEMO-001"]


@pytest.mark.parametrize("value", ["2026-02-30", "tomorrow", "20261125"])
def test_a_day_that_is_none_says_how_to_write_it(run, engine, papers, value):
    result = run("check", papers, "--filing-date", value)
    assert result.exit_code == 2
    assert f'"{value}" is not a day; write year, month and day, such as 2026-11-25' in result.stderr
    assert engine.calls == []


@pytest.mark.parametrize("arguments", [["--entity", "large"], ["--ready-for", "fun"], ["--office"], ["--nonsense"]])
def test_bad_arguments_are_2(run, papers, arguments):
    assert run("check", papers, *arguments).exit_code == 2


def test_without_a_folder_it_is_2(run):
    assert run("check").exit_code == 2


def test_what_keeps_it_from_starting_is_2_with_every_mistake(run, engine, papers):
    def refuse():
        raise DataMistakes(["filing.toml: kind is unknown", "filing.toml: \x1b[31mpapers"])

    engine.does = refuse
    result = run("check", papers)
    assert result.exit_code == 2
    assert result.stderr.splitlines()[:2] == ["filing.toml: kind is unknown", "filing.toml: ␛[31mpapers"]
    assert result.stdout == ""


@pytest.mark.parametrize(
    ("trouble", "code"),
    [
        (KeyboardInterrupt(), 130),
        (click.Abort(), 130),
        (ValueError("secret\n\x1b[31mtext"), 3),
        (RecursionError("too deep"), 3),
        (MemoryError(), 3),
        (SystemExit(0), 3),
        (SystemExit(1), 3),
        (click.exceptions.Exit(0), 3),
        (click.ClickException("click"), 3),
        (BrokenPipeError(), 3),
        (EOFError(), 3),
    ],
    ids=lambda value: type(value).__name__,
)
def test_nothing_that_goes_wrong_inside_reads_as_a_verdict(run, engine, papers, trouble, code):
    def fail():
        raise trouble

    engine.does = fail
    result = run("check", papers)
    assert result.exit_code == code
    assert result.stdout == ""
    assert "nothing was proven" in result.stderr
    assert "\x1b" not in result.stderr


def test_a_failure_of_the_program_says_what_to_type_next(run, engine, papers):
    engine.does = lambda: 1 / 0
    brief = run("check", papers).stderr
    assert brief.startswith("preflight failed: ZeroDivisionError: division by zero (test_check.py, line ")
    assert "preflight --traceback check FOLDER" in brief
    assert "Traceback" not in brief
    assert "Traceback" in run("--traceback", "check", papers).stderr


def test_a_verdict_that_is_not_a_pass_is_never_0(run, engine, papers):
    engine.answers["us"] = msgspec.structs.replace(engine.answers["us"], verdict="unknown")
    assert run("check", papers).exit_code == 1


def test_version_and_help(run):
    assert run("--version").stdout.startswith("preflight 0.")
    assert run("--help").exit_code == 0
    assert "130 if it was interrupted" in " ".join(run("check", "--help").stdout.split())


@pytest.mark.parametrize(
    ("option", "begins"), [("--junit", b"<?xml"), ("--sarif", b"{"), ("--csv", b"\xef\xbb\xbfoffice")]
)
def test_other_forms_beside_the_text_or_in_its_place(run, papers, tmp_path, option, begins):
    beside = run("check", papers, option, tmp_path / "out")
    assert beside.exit_code == 1
    assert beside.stdout.startswith("FAIL")
    assert run("check", papers, option, "-").stdout_bytes == (tmp_path / "out").read_bytes()
    assert (tmp_path / "out").read_bytes().startswith(begins)


@pytest.mark.parametrize("option", ["--junit", "--sarif", "--csv", "--record"])
def test_each_form_may_lie_in_the_folder_and_is_known_again(run, papers, option):
    """An earlier one is renewed; a paper never is."""
    assert run("check", papers, option, papers / "out").exit_code == 1
    assert run("check", papers, option, papers / "out").exit_code == 1
    assert run("check", papers, option, papers / "drawings.pdf").exit_code == 2
    assert (papers / "drawings.pdf").read_bytes() == b"%PDF-1.6 drawings"


def test_several_forms_take_several_offices(run, papers, tmp_path):
    run("check", papers, "--office", "us", "--office", "jp", "--sarif", tmp_path / "s", "--record", tmp_path / "r.pdf")
    assert len(json.loads((tmp_path / "s").read_bytes())["runs"]) == 2


def test_one_place_holds_one_form(run, engine, papers, tmp_path):
    result = run("check", papers, "--json", tmp_path / "x", "--csv", tmp_path / "x", "--junit", "-", "--sarif", "-")
    assert result.exit_code == 2
    assert "--json and --csv name the same file" in result.stderr
    assert "--junit - and --sarif -: only one of them can take the place of the text" in result.stderr
    assert engine.calls == []
