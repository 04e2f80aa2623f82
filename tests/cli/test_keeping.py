"""`--no-cache`, `PREFLIGHT_CACHE`, `preflight forget`; the whole program reports the same with and without."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from preflight.cli import keeping
from preflight.cli.commands import preflight
from preflight.facts import Entry, FileFacts
from preflight.reading import Limits

ROOT = Path(__file__).parents[2]
PROPER = ROOT / "sample_bundles" / "proper"


@pytest.fixture
def usual(tmp_path, monkeypatch) -> Path:
    """The user's own folder for caches."""
    folder = tmp_path / "usual"
    monkeypatch.setattr(keeping.platformdirs, "user_cache_path", lambda *_, **__: folder)
    return folder


@pytest.fixture
def named(tmp_path, monkeypatch) -> Path:
    """The folder that the variable names."""
    folder = tmp_path / "named"
    monkeypatch.setenv("PREFLIGHT_CACHE", str(folder))
    return folder


def fill(engine, files: int = 1) -> None:
    """Keep something in the cache that the engine was given."""
    entries = [Entry(f"{n}.pdf", 1, f"{n:064}") for n in range(files)]
    engine.caches[-1].keep(entries, [FileFacts(e.name, e.size, e.sha256) for e in entries], Limits())


def test_it_is_in_the_users_own_folder(run, engine, papers, usual, monkeypatch):
    for said in (None, "", " "):
        monkeypatch.setenv("PREFLIGHT_CACHE", said) if said is not None else monkeypatch.delenv("PREFLIGHT_CACHE")
        assert run("check", papers).stderr == ""
    assert not usual.exists(), "nothing was read, nothing is made"
    fill(engine)
    assert len(list((usual / "preflight-facts").glob("*.facts"))) == 1


def test_the_variable_names_another_folder(run, engine, papers, usual, named):
    run("check", papers)
    fill(engine)
    assert (named / "preflight-facts").is_dir()
    assert not usual.exists()


@pytest.mark.parametrize("said", ["off", "OFF", " off "])
def test_the_variable_switches_it_off(run, engine, papers, monkeypatch, said):
    monkeypatch.setenv("PREFLIGHT_CACHE", said)
    assert run("check", papers).stderr == ""
    assert engine.caches == [None]


def test_the_option_switches_it_off(run, engine, papers, named):
    assert run("check", papers, "--no-cache").exit_code == 1
    assert engine.caches == [None]


def test_all_offices_use_one(run, engine, papers, named):
    run("check", papers, "--office", "us", "--office", "jp")
    first, second = engine.caches
    assert first is second is not None


def test_a_path_that_depends_on_where_one_stands_is_not_used(run, engine, papers, monkeypatch):
    monkeypatch.setenv("PREFLIGHT_CACHE", "kept")
    result = run("check", papers)
    assert result.stderr == "what was read is not kept: PREFLIGHT_CACHE must be off or a whole path, not kept\n"
    assert (result.exit_code, engine.caches) == (1, [None])


@pytest.mark.parametrize("inside", [".", "sub-folder"])
def test_nothing_is_kept_among_the_papers(run, engine, papers, monkeypatch, inside):
    monkeypatch.setenv("PREFLIGHT_CACHE", str(papers / inside))
    result = run("check", papers)
    assert "lies in the folder that is checked" in result.stderr
    assert result.stderr.count("\n") == 1
    assert engine.caches == [None]
    assert [path.name for path in papers.iterdir()] == ["drawings.pdf"]


def test_what_the_cache_says_is_harmless_on_a_terminal(run, engine, papers, tmp_path, monkeypatch):
    monkeypatch.setenv("PREFLIGHT_CACHE", str(tmp_path / "a\x1b[31m"))
    engine.does = lambda: fill(engine)
    said = run("check", papers).stderr
    assert "a␛[31m" in said
    assert "\x1b" not in said


# Forgetting


def test_forgetting_says_what_it_removed_and_where(run, engine, papers, named):
    run("check", papers)
    fill(engine, 3)
    size = sum(path.stat().st_size for path in (named / "preflight-facts").glob("*.facts"))
    result = run("forget")
    assert result.stdout == f"removed what was read of 3 files, {size} bytes: {named / 'preflight-facts'}\n"
    assert (result.exit_code, list(named.iterdir())) == (0, [])
    result = run("forget")
    assert (result.exit_code, result.stdout) == (0, f"nothing was kept in {named / 'preflight-facts'}\n")


def test_forgetting_with_the_cache_off_removes_what_earlier_runs_kept(run, engine, papers, usual, monkeypatch):
    monkeypatch.setenv("PREFLIGHT_CACHE", "")
    run("check", papers)
    fill(engine)
    monkeypatch.setenv("PREFLIGHT_CACHE", "off")
    assert run("forget").stdout.startswith("removed what was read of 1 file, ")


def test_what_cannot_be_removed_is_told_and_is_no_success(run, named):
    named.mkdir()
    (named / "preflight-facts").write_text("mine")
    result = run("forget")
    assert (result.exit_code, result.stdout) == (2, "")
    assert "could not be removed: it is a file or a link, not a folder" in result.stderr


# The whole program


@pytest.fixture
def command(tmp_path) -> Callable[..., list[str]]:
    def arguments(name: str, *more: str, folder: Path = PROPER) -> list[str]:
        options = ["--filing-date", "2026-11-25", "--json", str(tmp_path / name)]
        return [sys.executable, "-P", "-m", "preflight", "check", str(folder), *options, *more]

    return arguments


def surroundings(cache: Path | str) -> dict[str, str]:
    path = os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])
    return os.environ | {"PYTHONPATH": path, "PREFLIGHT_CACHE": str(cache)}


def report(path: Path) -> bytes:
    return re.sub(rb'"created": *"[^"]*"', b"", path.read_bytes())


@pytest.mark.slow
def test_the_report_is_the_same_with_and_without(tmp_path, command):
    cache = tmp_path / "cache"
    folder = tmp_path / "proper"
    shutil.copytree(PROPER, folder)
    (folder / "notes.txt").write_text("notes")
    (folder / "broken.pdf").write_bytes(b"%PDF-1.7\nno more")
    shown = {}
    for name, where, more in (
        ("without", "off", []),
        ("first", cache, []),
        ("second", cache, []),
        ("not used", cache, ["--no-cache"]),
    ):
        ended = subprocess.run(
            command(name, *more, folder=folder), env=surroundings(where), capture_output=True, timeout=60, check=False
        )
        assert ended.returncode == 1
        shown[name] = re.sub(rb"made .*", b"", ended.stdout)
        named = [line for line in ended.stderr.splitlines() if not line.startswith(b"reading ")]
        assert len(named) == (1 if name == "first" else 0), named
    assert len(list(cache.rglob("*.facts"))) == 5
    assert len({report(tmp_path / name) for name in shown}) == 1
    assert len({*shown.values()}) == 1


@pytest.mark.slow
def test_two_checks_at_once_give_the_same_report(tmp_path, command):
    cache = tmp_path / "cache"
    both = [
        subprocess.Popen(command(name), env=surroundings(cache), stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
        for name in ("one", "two")
    ]
    said = b"".join(process.communicate(timeout=100)[1] for process in both)
    assert [process.returncode for process in both] == [0, 0]
    assert report(tmp_path / "one") == report(tmp_path / "two")
    assert len([line for line in said.splitlines() if not line.startswith(b"reading ")]) == 1
    assert sorted({path.suffix for path in cache.rglob("*") if path.is_file()}) == [".TAG", ".facts"]


@pytest.mark.slow
def test_a_cache_that_is_a_file_costs_a_line_and_no_verdict(tmp_path, command):
    (tmp_path / "cache").write_text("mine")
    ended = subprocess.run(
        command("report"), env=surroundings(tmp_path / "cache"), capture_output=True, timeout=60, check=False
    )
    (line,) = [line for line in ended.stderr.splitlines() if not line.startswith(b"reading ")]
    assert line.endswith(b"(Not a directory); the report is the same without it")
    assert ended.returncode == 0
    assert (tmp_path / "cache").read_text() == "mine"


def test_the_tests_themselves_use_no_cache():
    assert os.environ["PREFLIGHT_CACHE"] == "off"


def test_help_names_them():
    def helped(*of: str) -> Result:
        return CliRunner().invoke(preflight, [*of, "--help"])

    assert "--no-cache" in helped("check").stdout
    assert "forget" in helped().stdout
