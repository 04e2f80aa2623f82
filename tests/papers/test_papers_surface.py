"""The names that this room promises."""

from __future__ import annotations

import pytest

import preflight.papers
from preflight.papers import BUILT_IN_ROLES
from preflight.papers.words.remembered import remembered
from preflight.testing import paper


@pytest.mark.parametrize("name", preflight.papers.__all__)
def test_each_promised_name_is_there(name: str) -> None:
    assert getattr(preflight.papers, name) is not None


def test_the_roles_of_the_house() -> None:
    assert {role.id for role in BUILT_IN_ROLES} == {
        *("specification", "claims", "abstract", "drawings", "cover-sheet", "entity-certification"),
        *("application-data-sheet", "fee-sheet", "assignment", "power-of-attorney", "declaration"),
        *("acknowledgement-receipt", "letter", "other"),
        *("payment-card-form", "citation-list", "invoice", "engagement-letter", "invention-disclosure"),
    }


def test_a_paper_is_worked_out_once_and_never_mistaken_for_an_equal_one() -> None:
    asked = []
    find = remembered(lambda of: asked.append(of) or len(asked))
    first, second = paper({"pages": 1}), paper({"pages": 1})
    assert (find(first), find(second), find(first)) == (1, 2, 1)
