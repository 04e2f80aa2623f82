"""`preflight declare`: a filing.toml proposed from the papers, which the next check takes as it stands."""

from __future__ import annotations

import datetime as dt
import json
import os
import shutil
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from preflight.cli.commands import preflight
from preflight.datafiles import schema
from preflight.papers import FilePaper, Proposal, Proposed
from preflight.papers.matter.proposed import Other
from preflight.reporting.declaration_told import declaration

KEEP = {"PREFLIGHT_CACHE": os.environ["PREFLIGHT_TESTS_KEEP"]}
BUNDLES = Path(__file__).parents[2] / "sample_bundles"


def run(*arguments: str | Path):
    return CliRunner(env=KEEP).invoke(preflight, [*map(str, arguments)])


@pytest.fixture
def folder(tmp_path):
    """The proper papers, for writing beside them."""
    return Path(shutil.copytree(BUNDLES / "proper", tmp_path / "papers"))


def test_what_the_papers_say_is_proposed_with_its_source():
    said = run("declare", BUNDLES / "proper")
    assert said.exit_code == 0
    data = tomllib.loads(said.stdout)
    assert [error.message for error in Draft202012Validator(schema("filing")).iter_errors(data)] == []
    assert data == {
        "office": "us",
        "kind": "provisional",
        "entity": "micro",
        "title": "GARDEN HOSE GUIDE WITH TILTING ROLLER",
        "docket": "DEMO-0417",
        "inventors": ["Ada Example"],
        "papers": {"cover.pdf": "cover-sheet", "drawings.pdf": "drawings", "micro.pdf": "entity-certification"},
    }
    assert 'docket = "DEMO-0417"  # specification.pdf, page 1' in said.stdout
    assert '# "specification.pdf" holds specification (pages 1 to 4), claims (page 5) and abstract' in said.stdout


def test_what_a_scan_says_is_proposed_as_read_from_its_picture():
    said = run("declare", BUNDLES / "scanned").stdout
    assert 'docket = "DEMO-0417"  # specification.pdf, page 1, read from its picture' in said
    assert 'title = "GARDEN HOSE GUIDE WITH TILTING ROLLER"  # drawings.pdf, page 1' in said


def test_another_matter_is_told_beside_it():
    lines = run("declare", BUNDLES / "mixed-up").stdout.splitlines()
    assert "# but drawings.pdf, page 1 says: FOLDING BOOT RACK" in lines
    assert "# but drawings.pdf, page 1 says: DEMO-0388" in lines


def test_what_cannot_be_read_is_left_open():
    lines = run("declare", BUNDLES / "scanned").stdout.splitlines()
    assert '# entity = ""  # no paper that could be read says it' in lines
    assert not any(line.startswith("entity") for line in lines)


def test_the_next_check_takes_it_and_tells_a_contradiction(folder):
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    assert run("declare", folder, "--write").exit_code == 0
    assert {p.name: p.read_bytes() for p in folder.iterdir() if p.name != "filing.toml"} == before
    written = folder / "filing.toml"
    assert run("check", folder).exit_code == 0
    written.write_text(written.read_text(encoding="utf-8").replace("DEMO-0417", "DEMO-9999"), encoding="utf-8")
    data = json.loads(run("check", folder, "--json", "-").stdout)
    assert "us.practice.wrong-client" in {finding["requirement"] for finding in data["findings"]}


def test_what_a_person_declared_is_never_written_over(folder):
    (folder / "filing.toml").write_text('docket = "MINE-1"\n')
    refused = run("declare", folder, "--write")
    assert refused.exit_code == 2
    assert "filing.toml is in the folder already" in refused.stderr
    assert (folder / "filing.toml").read_text() == 'docket = "MINE-1"\n'
    shown = run("declare", folder).stdout
    assert 'docket = "MINE-1"  # declared in filing.toml' in shown
    assert "# but specification.pdf, page 1 says: DEMO-0417" in shown


@pytest.mark.parametrize("arguments", [["no-such-folder"], [str(BUNDLES / "proper" / "cover.pdf")]])
def test_what_is_no_folder_is_said(arguments):
    said = run("declare", *arguments)
    assert said.exit_code == 2
    assert "Traceback" not in said.output


ANY = st.text(st.characters(exclude_categories=[]), max_size=30)


@given(title=ANY.filter(bool), name=ANY.filter(bool), other=ANY, file=ANY)
def test_whatever_a_paper_says_is_valid_and_harmless(title, name, other, file):
    proposal = Proposal(
        (Proposed("title", title, file, (Other(other, file),)), Proposed("inventors", (name, title), file)),
        (FilePaper(file, ()),),
        ("drawings",),
    )
    text = declaration(proposal, dt.date(2026, 11, 26))
    assert all(c == "\n" or c.isprintable() for c in text)
    data = tomllib.loads(text)
    whole = {ord(c): "\ufffd" for c in title + name if 0xD800 <= ord(c) < 0xE000}
    assert data == {
        "title": title.translate(whole),
        "inventors": [name.translate(whole), title.translate(whole)],
        "papers": {},
    }
