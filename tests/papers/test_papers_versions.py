"""Two versions of one paper. The share of words that makes them versions is a house value."""

from __future__ import annotations

from typing import Any

from preflight.papers import Paper, near_twins, text_of
from preflight.papers.matter.versions import similarity
from preflight.testing import paper

WORDS = [f"word{n}" for n in range(90)]


def said(words: list[str], file: str, role: str = "specification", **more: Any) -> Paper:
    lines = [" ".join(words[n : n + 10]) for n in range(0, len(words), 10)]
    return paper({"role": role, "file": file, "pages": [{"text": lines}], **more})


def test_a_paper_and_its_older_version() -> None:
    first, second = said(WORDS, "spec.pdf"), said([*WORDS[:70], *["new"] * 20], "spec_old.pdf")
    (twins,) = near_twins([first, second])
    assert (twins.first, twins.second) == (first, second)
    assert 0.6 <= twins.alike < 1


def test_the_same_words_in_another_file_are_twins_too() -> None:
    assert [t.alike for t in near_twins([said(WORDS, "a.pdf"), said(WORDS, "b.pdf")])] == [1.0]


def test_the_same_bytes_are_another_matter() -> None:
    assert near_twins([said(WORDS, "a.pdf", sha256="11"), said(WORDS, "b.pdf", sha256="11")]) == ()


def test_twice_in_one_file() -> None:
    assert len(near_twins([said(WORDS, "a.pdf", sha256="11"), said(WORDS, "a.pdf", sha256="11")])) == 1


def test_other_words_and_other_roles_are_no_twins() -> None:
    other = [f"other{n}" for n in range(90)]
    assert near_twins([said(WORDS, "a.pdf"), said(other, "b.pdf")]) == ()
    assert near_twins([said(WORDS, "a.pdf"), said(WORDS, "b.pdf", role="claims")]) == ()


def test_certifications_are_alike_by_right() -> None:
    # us.micro.signer: each joint inventor signs a copy of the same form
    role = "entity-certification"
    assert near_twins([said(WORDS, "a.pdf", role=role), said(WORDS, "b.pdf", role=role)]) == ()


def test_too_few_words_prove_nothing() -> None:
    assert similarity(said(WORDS[:10], "a.pdf"), said(WORDS[:10], "b.pdf")) == 0


def test_invisible_words_are_not_read() -> None:
    scan = paper({"pages": [{"text": [{"text": "word", "visible": False}]}]})
    assert text_of(scan) == ""
