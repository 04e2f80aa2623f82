"""Short texts with what a reader finds in them: sections, claims with their references, the list of figures.

A text of the corpus is data: `pages` (lines from the top down), `sections` in order, `claims` as "2: 1" (claim 2 refers
to claim 1), "3: 1,2 alternative" (the form of a reference to several), `figures` as the list of figures names them,
`role` of the paper, and `inferred` (how many things no heading tells).
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from preflight.papers.specification.claims import Claim
from preflight.papers.specification.structure import understood
from preflight.testing import paper

FOLDER = Path(__file__).parent / "corpus"
TEXTS = [text for file in sorted(FOLDER.glob("*.toml")) for text in tomllib.loads(file.read_text("utf-8"))["text"]]
KNOWN = {"name", "pages", "sections", "claims", "figures", "role", "inferred", "words", "source"}


def told(claim: Claim) -> str:
    refers = "; ".join(
        ",".join(map(str, one.claims)) + ("" if one.form == "single" else f" {one.form}") for one in claim.refers
    )
    number = "-" if claim.number is None else str(claim.number)
    return f"{number}: {refers.strip()}" if refers else number


def test_there_are_enough() -> None:
    assert len(TEXTS) >= 60
    assert len({text["name"] for text in TEXTS}) == len(TEXTS)
    assert [text["name"] for text in TEXTS if set(text) - KNOWN] == []


@pytest.mark.parametrize("text", TEXTS, ids=lambda text: text["name"])
def test_text(text: dict[str, Any]) -> None:
    pages = [page.strip("\n").splitlines() for page in text["pages"]]
    found = understood([paper({"pages": [{"text": page} for page in pages]}, role=text.get("role", "specification"))])
    assert found is not None
    assert [section.part for section in found.sections if section.part] == text["sections"]
    assert [told(claim) for claim in found.claims] == text.get("claims", [])
    assert [name for view in found.views for name in view.figures] == text.get("figures", [])
    assert len(found.inferred) == text.get("inferred", 0)
    everything = " ".join(p.text for s in found.sections for p in s.paragraphs)
    for said in text.get("words", ()):
        assert said in everything
