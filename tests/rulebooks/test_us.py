"""The words and the shape of the US rulebook, without the sheets it was made from."""

from __future__ import annotations

import re
from collections.abc import Iterator
from graphlib import TopologicalSorter

import pytest

from preflight.rulebooks import Note, Question, Requirement
from preflight.rulebooks.model import Reading
from preflight.testing import rulebook

BOOK = rulebook("us")
ENTRIES = (*BOOK.requirements, *BOOK.notes)
SENTENCES = re.compile(r"^[A-Z0-9].*[^.]\.$")


def _id(entry: Requirement | Note | Question) -> str:
    return entry.id


@pytest.mark.parametrize("entry", ENTRIES, ids=_id)
def test_a_title_is_a_heading(entry: Requirement | Note) -> None:
    assert re.match(r"^[A-Z].*[^.:;]$", entry.title)
    assert len(entry.title) <= 70


@pytest.mark.parametrize("entry", ENTRIES, ids=_id)
def test_reasons_and_exceptions_are_sentences(entry: Requirement | Note) -> None:
    texts = [entry.text] if isinstance(entry, Note) else [entry.why, entry.exceptions]
    for text in filter(None, texts):
        assert SENTENCES.match(text), text


@pytest.mark.parametrize("requirement", [r for r in BOOK.requirements if r.fix], ids=_id)
def test_a_fix_says_what_to_do(requirement: Requirement) -> None:
    for fix in filter(None, (requirement.fix, *(grade.fix for grade in requirement.levels))):
        first = fix.split()[0]
        assert re.fullmatch(r"[a-z]+", first), fix
        assert first not in {"the", "a", "an", "this", "it", "there", "please", "you"}
        assert not fix.endswith(".")


@pytest.mark.parametrize("question", BOOK.questions, ids=_id)
def test_a_question_can_be_answered_with_yes_or_no(question: Question) -> None:
    assert re.match(r"^(Does|Do|Are|Is|Was|Were|Did|Has) .*\?", question.text)


@pytest.mark.parametrize("question", BOOK.questions, ids=_id)
def test_a_yes_hides_no_part_of_a_question(question: Question) -> None:
    letters = re.findall(r"\((\w)\)", question.text)
    assert letters == list("abcdefgh"[: len(letters)])
    assert bool(letters) == ("Yes only if " in question.text), "several facts are lettered, and yes means all"
    assert not re.search(r"\b(will|shall|going to)\b", question.text.split("?")[0]), "a promise is no fact"


@pytest.mark.parametrize("requirement", [r for r in BOOK.requirements if r.waits_for and r.filing != "none"], ids=_id)
def test_what_is_measured_later_already_says_how_it_is_mended(requirement: Requirement) -> None:
    assert requirement.fix


def test_a_later_limit_is_not_given_before_there_is_a_check() -> None:
    assert [r.id for r in BOOK.requirements if r.limits and not r.check] == []


def test_each_kind_of_reading_is_waited_for() -> None:
    assert {r.waits_for for r in BOOK.requirements if r.waits_for} == set(_literals())


def _literals() -> Iterator[str]:
    yield from Reading.__args__  # type: ignore[attr-defined]


def test_of_two_that_yield_to_each_other_neither_would_speak() -> None:
    TopologicalSorter({r.id: r.yields_to for r in BOOK.requirements}).prepare()


def test_who_speaks_instead_weighs_something() -> None:
    by_id = {r.id: r for r in BOOK.requirements}
    silent = [
        (r.id, other) for r in BOOK.requirements for other in r.yields_to if by_id[other].worst == ("none", "none")
    ]
    assert silent == []


def test_nothing_weighs_nothing() -> None:
    assert [r.id for r in BOOK.requirements if r.worst == ("none", "none")] == []
