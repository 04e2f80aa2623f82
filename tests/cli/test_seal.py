"""`preflight seal` and `preflight verify`: beside the papers, after a pass, in one line."""

from __future__ import annotations

import sys
from pathlib import Path

import msgspec
import pytest
from click.testing import CliRunner, Result

from preflight.bundle import read_folder
from preflight.cli import seal as seal_module
from preflight.cli.commands import preflight
from preflight.plugging import Registry
from preflight.reporting.report import Document, Report

REPORTS = Path(__file__).parents[1] / "reporting" / "reports"


class Check:
    """Stands in for `check_folder`: the verdict is given, the documents are those of the folder."""

    verdict = "clean_pass"

    def __call__(self, folder: Path, *_: object, **__: object) -> Report:
        whole = msgspec.json.decode((REPORTS / f"{self.verdict}.json").read_bytes(), type=Report)
        files = tuple(Document(e.name, e.sha256, e.size, "application/pdf", 1) for e in read_folder(folder).files)
        return msgspec.structs.replace(whole, documents=files)


@pytest.fixture
def checking(monkeypatch) -> Check:
    stand_in = Check()
    monkeypatch.setattr(seal_module, "check_folder", stand_in)
    monkeypatch.setattr(seal_module, "built_in_and_installed", Registry)
    return stand_in


@pytest.fixture
def folder(tmp_path, checking) -> Path:
    papers = tmp_path / "DEMO-001"
    papers.mkdir()
    (papers / "drawings.pdf").write_bytes(b"lines")
    (papers / "specification.pdf").write_bytes(b"words")
    return papers


def run(*arguments: object) -> Result:
    return CliRunner(env={"COLUMNS": "200"}).invoke(preflight, [str(a) for a in arguments])


def flat(text: str) -> str:
    return " ".join(text.split())


def test_sealed_and_verified(folder):
    made = run("seal", folder)
    assert made.exit_code == 0, made.stderr
    assert "sealed 2 files in " in made.stdout
    assert sorted(p.name for p in folder.parent.iterdir()) == ["DEMO-001", "DEMO-001.seal.json"]
    assert sorted(p.name for p in folder.iterdir()) == ["drawings.pdf", "specification.pdf"]
    same = run("verify", folder)
    assert (same.exit_code, same.stdout.count("\n")) == (0, 1)
    assert same.stdout.startswith("SAME: the 2 files in the folder are what passed on ")


def test_every_kind_of_change_in_one_line(folder):
    run("seal", folder)
    (folder / "drawings.pdf").write_bytes(b"linez")
    (folder / "specification.pdf").rename(folder / "spec.pdf")
    (folder / "filing.toml").write_text("")
    found = run("verify", folder)
    assert found.exit_code == 1
    assert found.stdout.startswith("NOT THE SAME as what passed on ")
    assert found.stdout.endswith(
        ": changed: drawings.pdf; renamed: specification.pdf to spec.pdf; "
        "filing.toml, which is not uploaded, has changed\n"
    )


def test_what_fails_is_not_sealed(folder, checking):
    checking.verdict = "everything"
    result = run("seal", folder)
    assert result.exit_code == 1
    headline, why, *named = result.stdout.splitlines()
    assert headline.startswith("FAIL: ")
    assert why == "not sealed, since only what passes is. In the way:"
    assert any(line.startswith("- refusal: ") for line in named)
    assert any("[finding " in line for line in named)
    assert not any("advice" in line for line in named)
    said = flat(result.stdout)
    assert f"next: mend the papers (each fix: preflight check {folder}), then seal again" in said
    assert said.endswith(f"what may stay as it is: preflight sign {folder} FINDING --by INITIALS --reason TEXT")
    assert run("verify", folder).exit_code == 2


def test_an_earlier_seal_stays_where_the_papers_fail_now(folder, checking):
    run("seal", folder)
    kept = (folder.parent / "DEMO-001.seal.json").read_bytes()
    checking.verdict = "everything"
    assert "; the seal of " in run("seal", folder, "--replace").stdout
    assert (folder.parent / "DEMO-001.seal.json").read_bytes() == kept


def test_an_earlier_seal_is_lost_only_when_asked(folder):
    run("seal", folder)
    kept = (folder.parent / "DEMO-001.seal.json").read_bytes()
    (folder / "drawings.pdf").write_bytes(b"better lines")
    again = run("seal", folder)
    assert again.exit_code == 2
    assert "an earlier seal is there, of " in again.stderr
    assert "seal again with --replace to write over it and see what differs, or with --to FILE" in again.stderr
    assert len(again.stderr.splitlines()) == 1
    assert (folder.parent / "DEMO-001.seal.json").read_bytes() == kept
    assert run("seal", folder, "--to", folder.parent / "two.json").exit_code == 0
    assert run("verify", folder, "--seal", folder.parent / "two.json").exit_code == 0
    assert run("verify", folder).exit_code == 1
    (folder / "specification.pdf").rename(folder / "spec.pdf")
    better = run("seal", folder, "--replace")
    assert better.exit_code == 0
    assert "since then changed: drawings.pdf; renamed: specification.pdf to spec.pdf" in flat(better.stdout)
    assert run("verify", folder).exit_code == 0
    assert ", of the same files" in flat(run("seal", folder, "--replace").stdout)


@pytest.mark.parametrize(
    ("target", "said"),
    [
        ("DEMO-001/seal.json", "a seal among the papers would be taken for one"),
        ("none/seal.json", "does not exist; create it first or name another"),
        ("letter.txt", "this is no seal of preflight"),
    ],
)
def test_where_no_seal_may_be_written(folder, target, said):
    (folder.parent / "letter.txt").write_text("dear client")
    result = run("seal", folder, "--to", folder.parent / target, "--replace")
    assert (result.exit_code, result.stdout) == (2, "")
    assert said in result.stderr
    assert (folder.parent / "letter.txt").read_text() == "dear client"
    assert sorted(p.name for p in folder.iterdir()) == ["drawings.pdf", "specification.pdf"]


def test_without_a_seal_or_with_a_changed_one_nothing_is_said_of_the_papers(folder):
    nothing = run("verify", folder)
    assert (nothing.exit_code, nothing.stdout) == (2, "")
    assert "there is no seal; preflight seal makes one after a pass" in nothing.stderr
    run("seal", folder)
    path = folder.parent / "DEMO-001.seal.json"
    path.write_bytes(path.read_bytes().replace(b"23:", b"22:").replace(b'"bytes": 5', b'"bytes": 6'))
    changed = run("verify", folder)
    assert (changed.exit_code, changed.stdout) == (2, "")
    assert "this seal was changed after it was made" in changed.stderr


@pytest.mark.skipif(sys.platform == "win32", reason="a folder cannot be closed to its owner so there")
def test_a_full_disk_is_told(folder, monkeypatch):
    def no_room(descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("preflight.cli.outputs.os.fsync", no_room)
    result = run("seal", folder)
    assert result.exit_code == 2
    assert "could not be written (No space left on device); nothing was sealed" in result.stderr
    assert [p.name for p in folder.parent.iterdir()] == ["DEMO-001"]


def test_no_folder_is_told(tmp_path):
    assert run("verify", tmp_path / "none").exit_code == 2
    assert run("seal", tmp_path / "none").exit_code == 2
