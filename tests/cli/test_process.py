"""The command line as a process of its own: streams kept apart, pipes that close, exit codes that scripts rely on."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

STAND_INS = Path(__file__).with_name("stand_ins.py")
REPORT = Path(__file__).parents[1] / "reporting" / "reports" / "hostile_names.json"
ROOT = Path(__file__).parents[2]
ENVIRONMENT = os.environ | {"PYTHONPATH": os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])}


def start(*arguments: str, **settings) -> subprocess.CompletedProcess[bytes]:
    environment = ENVIRONMENT | settings.pop("env", {})
    streams = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE} | settings
    return subprocess.run([sys.executable, *arguments], env=environment, timeout=60, check=False, **streams)


def stand_in(name: str, *arguments: str, **settings) -> subprocess.CompletedProcess[bytes]:
    return start(str(STAND_INS), name, *arguments, **settings)


def test_stray_prints_do_not_touch_the_report(tmp_path):
    result = stand_in("prints", "check", str(tmp_path), "--json", "-")
    assert result.stdout == REPORT.read_bytes()
    said = result.stderr.decode()
    for kind in ("print", "write", "bytes", "child", "last words", "last bytes"):
        assert f"stray {kind}" in said
    assert result.returncode == 1


def test_a_plug_in_cannot_end_the_program_with_a_pass(tmp_path):
    result = stand_in("ends_the_program", "check", str(tmp_path))
    assert (result.returncode, result.stdout) == (3, b"")


def test_an_interruption_is_130(tmp_path):
    result = stand_in("is_interrupted", "check", str(tmp_path))
    assert (result.returncode, result.stdout) == (130, b"")
    assert result.stderr.strip() == b"interrupted; nothing was proven about these papers"


def test_long_work_says_how_far_it_is_and_only_on_standard_error(tmp_path):
    result = stand_in("takes_long", "check", str(tmp_path), "--json", "-")
    assert result.stdout == REPORT.read_bytes()
    assert result.stderr.decode().startswith("reading draw␛ings.pdf, ")
    assert result.stderr.count(b"\n") == 1


@pytest.mark.parametrize("form", [[], ["--json", "-"]], ids=["text", "json"])
def test_a_reader_who_has_gone_changes_no_verdict(tmp_path, form):
    reading, writing = os.pipe()
    os.close(reading)
    try:
        result = stand_in("behaves", "check", str(tmp_path), *form, stdout=writing)
    finally:
        os.close(writing)
    assert (result.returncode, result.stderr) == (1, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
def test_standard_output_that_is_full_is_told(tmp_path):
    with Path("/dev/full").open("wb") as full:
        result = stand_in("behaves", "check", str(tmp_path), stdout=full)
    assert result.returncode == 3
    assert b"the report could not be shown: No space left on device" in result.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
def test_a_file_that_is_full_is_told_and_the_report_still_shown(tmp_path):
    result = stand_in("behaves", "check", str(tmp_path), "--json", "/dev/full")
    assert result.returncode == 3
    assert result.stdout.startswith(b"FAIL: 1 refusal, 1 notice\n")
    assert result.stderr.startswith(b"the papers were checked, but /dev/full could not be written: No space left")
    assert result.stderr.count(b"\n") == 1


@pytest.mark.parametrize("target", ["missing/report.json", "."])
def test_a_file_that_cannot_be_written_is_told_before_the_work(tmp_path, target):
    result = stand_in("prints", "check", str(tmp_path), "--json", str(tmp_path / target))
    assert (result.returncode, result.stdout) == (2, b"")
    assert b"nothing was checked" in result.stderr
    assert b"stray" not in result.stderr


@pytest.mark.skipif(os.name != "posix", reason="closed by the shell")
def test_without_standard_output_the_verdict_is_still_the_exit_code(tmp_path):
    line = f'exec "{sys.executable}" "{STAND_INS}" behaves check "{tmp_path}" >&-'
    result = subprocess.run(["sh", "-c", line], env=ENVIRONMENT, stderr=subprocess.PIPE, timeout=60, check=False)
    assert (result.returncode, result.stderr) == (1, b"")


@pytest.mark.parametrize(
    "arguments", [("requirements",), ("drawings", str(ROOT / "sample_bundles" / "proper" / "drawings.pdf"))]
)
def test_whoever_has_seen_enough_of_a_list_is_not_told_of_a_failure(arguments):
    reading, writing = os.pipe()
    os.close(reading)
    try:
        result = stand_in("behaves", *arguments, stdout=writing)
    finally:
        os.close(writing)
    told = [line for line in result.stderr.splitlines() if not line.startswith(b"reading ")]  # how far it is, if slow
    assert (result.returncode, told) == (0, [])


def test_a_terminal_of_few_characters_still_gets_the_report(tmp_path):
    result = stand_in("behaves", "check", str(tmp_path), env={"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"})
    assert result.returncode == 1
    assert result.stdout.startswith(b"FAIL: 1 refusal, 1 notice\n")
    assert rb"\u56f3" in result.stdout


def test_an_installation_that_does_not_load_is_3(tmp_path):
    broken = "import sys; sys.modules['preflight.engine'] = None; from preflight.cli import main; main()"
    result = start("-c", broken, "check", str(tmp_path))
    assert (result.returncode, result.stdout) == (3, b"")
    assert b"preflight could not be loaded: ModuleNotFoundError" in result.stderr


def test_started_as_a_module(tmp_path):
    result = start("-m", "preflight", "--version")
    told = [line for line in result.stderr.splitlines() if not line.startswith(b"reading ")]  # how far it is, if slow
    assert (result.returncode, told) == (0, [])
    assert result.stdout.startswith(b"preflight 0.")


@pytest.mark.parametrize("page", ["cp1252", "cp437"])
def test_the_characters_of_an_older_console_are_enough(tmp_path, page):
    result = stand_in("behaves", "check", str(tmp_path), env={"PYTHONIOENCODING": f"{page}:strict", "PYTHONUTF8": "0"})
    assert result.returncode == 1
    assert result.stdout.startswith(b"FAIL: 1 refusal, 1 notice")
    assert rb"\u56f3" in result.stdout
    assert result.stdout.decode(page)
    assert b"\x1b" not in result.stdout, "nothing is coloured in a pipe"


def test_an_older_console_shows_also_what_is_told_in_one_line(tmp_path):
    folder = tmp_path / "\u56f3\u9762"
    folder.mkdir()
    result = stand_in("behaves", "verify", str(folder), env={"PYTHONIOENCODING": "cp437:strict", "PYTHONUTF8": "0"})
    assert (result.returncode, result.stdout) == (2, b"")
    assert result.stderr.count(b"\n") == 1
    assert b"there is no seal" in result.stderr
