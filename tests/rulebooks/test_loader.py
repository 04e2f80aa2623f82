"""A rulebook is read strictly: all mistakes of all its files at once, each with file, requirement and key."""

import datetime as dt
from pathlib import Path

import msgspec
import pytest

from preflight.datafiles import DataMistakes
from preflight.rulebooks import as_struct, load

HEAD = """
[rulebook]
id = "demo-provisional"
office = "demo"
kind = "provisional"
title = "A demonstration"
edition = 2026-11-25
timezone = "America/New_York"
"""
RULE = """
[[requirement]]
id = "demo.margins"
title = "Margins"
applies_to = ["drawings"]
check = "white"
with = { left = 2.5 }
filing = "advice"
examination = "notice"
why = "ink in the margin can be lost"
message = "{what} is {measured}, must be {required}"
fix = "move the drawing"

[[requirement.citations]]
source = "37 CFR 1.84(g)"
known = "read"
"""


class White(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    left: float


class Demo:
    name = "white"
    takes = White
    sorts = ("cut-off",)
    says = ("edge",)


ROLES = ("drawings", "specification")


def mistakes(folder: Path, text: str) -> list[str]:
    (folder / "rules.toml").write_text(text, encoding="utf-8")
    with pytest.raises(DataMistakes) as error:
        load(folder, [Demo()], ROLES)
    return list(error.value.mistakes)


def test_a_sound_rulebook(tmp_path: Path) -> None:
    (tmp_path / "rules.toml").write_text(HEAD + RULE)
    book = load(tmp_path, [Demo()], ROLES)
    assert book.edition == dt.date(2026, 11, 25)
    (requirement,) = book.requirements
    assert as_struct(requirement, Demo()) == White(left=2.5)
    assert list(requirement.numbers()) == [("left", 2.5)]


def test_line_ends_do_not_change_the_digest(tmp_path: Path) -> None:
    (tmp_path / "rules.toml").write_bytes((HEAD + RULE).encode())
    unix = load(tmp_path, [Demo()], ROLES).sha256
    (tmp_path / "rules.toml").write_bytes((HEAD + RULE).replace("\n", "\r\n").encode())
    assert load(tmp_path, [Demo()], ROLES).sha256 == unix


def test_every_mistake_of_form_is_named_with_file_requirement_and_key(tmp_path: Path) -> None:
    text = HEAD + RULE.replace("yields", "").replace('filing = "advice"', 'filing = "warning"').replace(
        'why = "ink', 'wy = "ink'
    )
    lines = mistakes(tmp_path, text)
    where = f"{tmp_path.name}/rules.toml: requirement > demo.margins: "
    assert f'{where}"wy" is unknown; did you mean "why"?' in lines
    assert f"{where}why is missing" in lines
    assert any(line.startswith(f"{tmp_path.name}/rules.toml: requirement > demo.margins > filing: ") for line in lines)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('check = "white"', 'check = "wite"', 'check "wite" is unknown; did you mean "white"?'),
        ("left = 2.5", "lft = 2.5", "with, for check"),
        ("left = 2.5", 'left = "2.5"', "with, for check"),
        ('"drawings"', '"drawing"', 'role "drawing" is unknown; did you mean "drawings"?'),
        ("{measured}", "{mesured}", '"{mesured}" is unknown to check "white"; did you mean "measured"?'),
        ('fix = "move', 'yields_to = ["demo.marginz"]\nfix = "move', 'yields_to "demo.marginz" is unknown'),
        (
            'fix = "move',
            'levels = [{ sort = "cutoff", filing = "notice", examination = "notice" }]\nfix = "move',
            'has no sort "cutoff"; did you mean "cut-off"?',
        ),
        ('known = "read"', 'known = "memory"', "it rests on memory alone, so it can be advice at most"),
    ],
)
def test_what_does_not_fit_the_code_is_refused(tmp_path: Path, old: str, new: str, said: str) -> None:
    (line,) = mistakes(tmp_path, HEAD + RULE.replace(old, new))
    assert said in line
    assert "demo.margins" in line


def test_an_id_stands_once(tmp_path: Path) -> None:
    assert any("stands 2 times" in line for line in mistakes(tmp_path, HEAD + RULE + RULE))


def test_broken_toml_and_a_missing_head_are_said_together(tmp_path: Path) -> None:
    lines = mistakes(tmp_path, "[[requirement\n")
    assert any("rules.toml: Expected" in line for line in lines)
    assert any("no file has a [rulebook] table" in line for line in lines)


def test_a_requirement_is_measured_or_asked_or_waits(tmp_path: Path) -> None:
    both = RULE.replace('check = "white"', 'question = "is it white?"\ncheck = "white"')
    (line,) = mistakes(tmp_path, HEAD + both)
    assert "exactly one of" in line
