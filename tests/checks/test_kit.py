"""The kit itself: a wrong case says so in full, and a slip in a case is refused rather than passed over."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from preflight.checks import Measured, Outcomes, Place, Unread, check
from preflight.facts import Box, FileFacts
from preflight.papers import Filing
from preflight.rulebooks import Citation, Requirement
from preflight.testing import assert_case, file_facts, filing, load_cases, page, paper, run_case


class Most(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The greatest number of pages."""

    most: int


@check("page-count", of=FileFacts, takes=Most)
def page_count(file: FileFacts, limit: Most) -> Outcomes:
    """Count the pages."""
    if file.unread:
        yield Unread(why=file.unread, at=Place(file=file.name))
    elif file.pages:
        at = Place(file=file.name)
        yield Measured(what="file", value=len(file.pages), unit="pages", most=limit.most, at=at)


FEW_PAGES = Requirement(
    id="test.few-pages",
    title="Few pages",
    filing="notice",
    examination="none",
    why="It is a test.",
    citations=(Citation("house", "practice"),),
    check="page-count",
    limits={"most": 2},
    message="{what} has {measured}, must have {required}",
    fix="take a page out",
)


def outcome_of(tmp_path: Path, text: str) -> str:
    """What the kit says of the one case in `text`; empty if the case comes out as it says."""
    path = tmp_path / "test-few-pages.toml"
    path.write_text(f'requirement = "test.few-pages"\n{text}', "utf-8")
    (case,) = load_cases(path)
    try:
        assert_case(case, FEW_PAGES, [page_count])
    except AssertionError as wrong:
        return str(wrong)
    return ""


@pytest.mark.parametrize(
    "text",
    [
        '[[met]]\nname = "two"\nfile = { pages = 2 }',
        '[[broken]]\nname = "three"\nfile = { pages = 3 }\nexpect = [{ value = 3, most = 2, filing = "notice" }]',
        '[[broken]]\nname = "says"\nfile = { pages = 3 }\nexpect = [{ message = "must have at most 2" }]',
        '[[unread]]\nname = "locked"\nfile = { unread = "it is locked" }\nexpect = [{ why = "locked" }]',
        '[[nothing]]\nname = "no pages"\nfile = "notes.txt"',
    ],
)
def test_a_right_case_passes(tmp_path: Path, text: str) -> None:
    assert outcome_of(tmp_path, text) == ""


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[[met]]\nname = "x"\nfile = { pages = 3 }', "it must be met, and is not"),
        ('[[met]]\nname = "x"\nfile = "notes.txt"', "nothing to look at"),
        ('[[broken]]\nname = "x"\nfile = { pages = 2 }\nexpect = [{}]', "it must be broken, and is not"),
        ('[[broken]]\nname = "x"\nfile = { pages = 3 }\nexpect = [{ value = 4 }]', "other outcomes were expected"),
        ('[[broken]]\nname = "x"\nfile = { pages = 3 }\nexpect = [{ filing = "refusal" }]', "other outcomes"),
        ('[[broken]]\nname = "x"\nfile = { pages = 3 }\nexpect = [{}, {}]', "other outcomes were expected"),
        ('[[broken]]\nname = "x"\nfiles = [{ pages = 3 }, { pages = 4 }]\nexpect = [{ value = 3 }]', "other outcomes"),
        ('[[unread]]\nname = "x"\nfile = { pages = 3 }', "it must be unread"),
        ('[[nothing]]\nname = "x"\nfile = { pages = 2 }', "nothing to look at was expected"),
    ],
)
def test_a_wrong_case_fails(tmp_path: Path, text: str, says: str) -> None:
    assert says in outcome_of(tmp_path, text)


def test_the_failure_shows_expected_and_got_in_full(tmp_path: Path) -> None:
    text = '[[broken]]\nname = "four of two"\nfile = { pages = 3 }\nexpect = [{ value = 4 }]'
    told = outcome_of(tmp_path, text)
    assert told.splitlines()[0].startswith('test-few-pages.toml, test.few-pages, broken case "four of two"')
    assert "value = 4" in told
    assert "not held: file = 'specification.pdf', what = 'file', value = 3" in told
    assert "filing = 'notice', examination = 'none', message = 'file has 3 pages, must have at most 2 pages'" in told


def test_outcomes_can_be_had_without_judging_them(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text('requirement = "test.few-pages"\n[[met]]\nname = "x"\nfiles = ["a.pdf", "b.pdf"]', "utf-8")
    (case,) = load_cases(path)
    assert [o.at.file for o in run_case(case, FEW_PAGES, [page_count])] == ["a.pdf", "b.pdf"]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('requirement = "a.b"\n[[mte]]\nname = "x"', "mte is unknown"),
        ('requirement = "a.b"\n[[broken]]\nname = "x"', "needs expect"),
    ],
)
def test_a_slip_in_a_case_file_is_refused(tmp_path: Path, text: str, says: str) -> None:
    path = tmp_path / "a.toml"
    path.write_text(text, "utf-8")
    with pytest.raises(ValueError, match=says):
        load_cases(path)


def test_an_unknown_word_of_a_page_is_refused() -> None:
    with pytest.raises(ValueError, match="Page has no colur"):
        page({"colur": 0.1})


def test_several_requirements_may_share_a_file(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text('requirement = ["a.b", "a.c"]\n[[met]]\nname = "x"\nfile = "a.pdf"', "utf-8")
    assert [case.requirement for case in load_cases(tmp_path)] == ["a.b", "a.c"]


def test_a_page_shows_what_is_said_of_it() -> None:
    made = page({"sheet": "A4", "text": ["One line."], "foot": "7", "marks": [[3.0, 10.0, 8.0, 12.0]]}, number=2)
    assert (made.number, made.width, made.height) == (2, 21.0, 29.7)
    assert [line.text for line in made.lines] == ["One line.", "7"]
    assert made.ink is not None
    assert made.ink.bottom > 28
    assert len(made.marks) == 3


def test_a_wide_page_is_the_same_sheet_on_its_side() -> None:
    assert (page({"wide": True}).width, page({"wide": True}).height) == (27.94, 21.59)


def test_a_blank_page_has_no_ink() -> None:
    assert page({"blank": True}).ink is None
    assert page({"unread": "why"}).ink is None


def test_papers_of_one_file_have_running_pages() -> None:
    made: Filing = filing({"papers": [{"file": "a.pdf", "pages": 2}, {"role": "drawings", "file": "a.pdf"}]})
    assert [(p.role, p.first_page, p.last_page) for p in made.papers] == [("specification", 1, 2), ("drawings", 3, 3)]
    assert [(f.name, len(f.pages)) for f in made.files] == [("a.pdf", 3)]


def test_a_paper_has_the_kind_of_its_role() -> None:
    drawing = paper({"role": "drawings"})
    assert drawing.kind == "drawing"
    assert drawing.pages[0].ink == Box(4.0, 4.0, 16.0, 22.0)


def test_a_file_that_was_not_opened_has_no_pages() -> None:
    made = file_facts({"name": "a.pdf", "unread": "it is locked"})
    assert (made.structure, made.pages) == (None, ())
