"""A rulebook is read strictly: all mistakes of all its files at once, each with file, requirement and key."""

import datetime as dt
import tomllib
from pathlib import Path
from typing import get_args

import msgspec
import pytest

from preflight import rulebooks
from preflight.datafiles import DataMistakes, against_schema, plain, schema
from preflight.rulebooks import When, as_struct, load
from preflight.rulebooks.loader import FORM_CHECKED, contents_of, form_digest, read_tables
from preflight.rulebooks.model import About, Reading

LAW = Path(rulebooks.__file__).parent / "us"

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
            'unread_yields_to = ["demo.marginz"]\nfix = "move',
            'unread_yields_to "demo.marginz" is unknown',
        ),
        (
            'fix = "move',
            'levels = [{ sort = "cutoff", filing = "notice", examination = "notice" }]\nfix = "move',
            'has no sort "cutoff"; did you mean "cut-off"?',
        ),
        ('known = "read"', 'known = "memory"', "it rests on memory alone, so it can be advice at most"),
        ('fix = "move', 'also = ["demo.margins"]\nfix = "move', 'also "demo.margins" has an entry of its own'),
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
    both = RULE.replace('check = "white"', 'asked_in = "white"\ncheck = "white"')
    (line,) = mistakes(tmp_path, HEAD + both)
    assert "exactly one of" in line


def waiting(kind: str, known: str = "read") -> str:
    rule = RULE.replace('check = "white"', f'waits_for = "{kind}"').replace("with = { left = 2.5 }\n", "")
    return rule.replace('known = "read"', f'known = "{known}"')


def test_what_waits_names_its_kind_of_reading(tmp_path: Path) -> None:
    (line,) = mistakes(tmp_path, HEAD + waiting("better eyes"))
    assert '"better eyes" is unknown; known are reading the drawings' in line


def test_what_waits_and_rests_on_memory_is_advice_at_most(tmp_path: Path) -> None:
    (line,) = mistakes(tmp_path, HEAD + waiting("reading the drawings", "memory"))
    assert "it rests on memory alone" in line


def test_the_kinds_of_reading_are_a_closed_list_and_the_same_in_schema_and_model() -> None:
    assert tuple(schema("rulebook")["$defs"]["reading"]["enum"]) == get_args(Reading)
    about = schema("rulebook")["$defs"]["note"]["properties"]["about"]["enum"]
    assert tuple(about) == get_args(About)


QUESTION = """
[[question]]
id = "white-enough"
text = "Is it white enough?"
when = { role = ["drawings", "specification"] }
"""
ASKED = RULE.replace('check = "white"', 'asked_in = "white-enough"').replace("with = { left = 2.5 }\n", "")


def test_a_requirement_that_is_asked_has_the_conditions_of_its_question(tmp_path: Path) -> None:
    narrow = ASKED.replace("demo.margins", "demo.ground").replace("why =", 'when = { role = ["drawings"] }\nwhy =')
    (tmp_path / "rules.toml").write_text(HEAD + QUESTION + ASKED + narrow)
    wide, close = load(tmp_path, [Demo()], ROLES).requirements
    assert wide.when == When(role=("drawings", "specification"))
    assert close.when == When(role=("drawings",))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (ASKED, 'question "white-enough" is unknown'),
        (QUESTION + RULE, "question white-enough: no requirement is asked in it"),
        (
            QUESTION.replace(', "specification"', "")
            + ASKED.replace("why =", 'when = { role = ["specification"] }\nwhy ='),
            "when: role specification is wider than that of question white-enough",
        ),
        (QUESTION.replace('"drawings"', '"drawing"') + ASKED, 'question white-enough: role "drawing" is unknown'),
        (QUESTION + 'rests_on = ["claim"]\n' + ASKED, 'question white-enough: role "claim" is unknown'),
        (QUESTION + QUESTION + ASKED, "question white-enough: stands 2 times"),
    ],
)
def test_questions_and_requirements_fit_each_other(tmp_path: Path, text: str, said: str) -> None:
    assert any(said in line for line in mistakes(tmp_path, HEAD + text))


NOTE = """
[[note]]
id = "demo.lines"
title = "Line numbers"
about = "proper"
text = "Nothing follows from them."
also = ["demo.line-numbers"]
citations = [{ source = "common practice", known = "practice" }]
"""
TABLES = """
[[income_limit]]
since = 2025-09-01
income_year = 2024
median = 83730
limit = 251190
citation = "a report"
known = "third party"

[[income_limit]]
since = 2026-09-01
income_year = 2025
citation = "a report"
known = "memory"

[[holiday]]
id = "thanksgiving"
name = "Thanksgiving Day"
month = 11
weekday = "Thursday"
nth = 4
citation = "5 USC 6103"
known = "read"

[[closed_day]]
day = 2018-03-02
next_business_day = 2018-03-05
citation = "a notice"
known = "read"

[[document_description]]
code = "DRW"
description = "Drawings"
role = "drawings"
new_filing = "yes"
citation = "a list"
known = "read"
"""


def test_notes_and_tables(tmp_path: Path) -> None:
    (tmp_path / "rules.toml").write_text(HEAD + NOTE + TABLES)
    book = load(tmp_path, [Demo()], ROLES)
    assert [(note.id, note.also, note.known) for note in book.notes] == [
        ("demo.lines", ("demo.line-numbers",), "practice")
    ]
    assert [limit.limit for limit in book.income_limits] == [251190, None]
    assert (book.holidays[0].nth, book.holidays[0].day) == (4, None)
    assert book.closed_days[0].next_business_day == dt.date(2018, 3, 5)
    assert book.document_descriptions[0].new_filing == "yes"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('about = "proper"', 'about = "fine"', '"fine" is unknown; known are proper'),
        ('id = "demo.lines"', 'id = "demo.margins"', "demo.margins: stands 2 times"),
        ('also = ["demo.line-numbers"]', 'also = ["demo.margins"]', "has an entry of its own"),
        ("median = 83730\n", "", "'median' is a dependency of 'limit'"),
        ("since = 2026-09-01", "since = 2025-09-01", "income_limit 2025-09-01: stands 2 times"),
        ("nth = 4", "nth = 5", '"5" is unknown'),
        ("nth = 4", "nth = 4\nday = 26", "it needs exactly one of: day; weekday with nth"),
        ('role = "drawings"\nnew', 'role = "drawing"\nnew', 'description DRW: role "drawing" is unknown'),
        ('new_filing = "yes"', 'new_filing = "maybe"', '"maybe" is unknown; known are yes, no, by hand'),
    ],
)
def test_notes_and_tables_are_read_as_strictly(tmp_path: Path, old: str, new: str, said: str) -> None:
    whole = HEAD + RULE + NOTE + TABLES
    assert old in whole
    lines = mistakes(tmp_path, whole.replace(old, new))
    assert any(said in line for line in lines), lines


def test_a_form_that_was_checked_when_the_files_were_made_is_checked_again_after_any_edit(tmp_path: Path) -> None:
    (tmp_path / "rules.toml").write_text(HEAD + RULE.replace('fix = "move the drawing"', 'fix = "move it"\nfixx = 1'))
    contents = contents_of(tmp_path, [])
    assert any("fixx" in line for line in mistakes(tmp_path, (tmp_path / "rules.toml").read_text()))
    (tmp_path / FORM_CHECKED).write_text(form_digest(contents, schema("rulebook")) + "\n")
    assert read_tables(tmp_path, schema("rulebook")).mistakes == ()  # the digest vouches for exactly these files
    edited = (tmp_path / "rules.toml").read_text().replace("fixx", "fixxx")
    assert any("fixxx" in line for line in mistakes(tmp_path, edited))
    assert read_tables(tmp_path, {**schema("rulebook"), "title": "another form"}).mistakes


def test_what_comes_with_the_program_has_the_right_form() -> None:
    """The digest spares each start this; scripts/generate.py writes it after the same test."""
    contents = contents_of(LAW, trouble := [])
    assert not trouble
    wrong = [
        line
        for name, raw in contents.items()
        for line in against_schema(plain(tomllib.loads(raw.decode())), schema("rulebook"), name)
    ]
    assert wrong == []
    assert (LAW / FORM_CHECKED).read_text().strip() == form_digest(contents, schema("rulebook"))
