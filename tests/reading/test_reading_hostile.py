"""Every awkward PDF ends in facts or in a clear reason, within its limits, with nothing written and nobody left."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from preflight.facts import Entry, FileFacts, from_json, to_json
from preflight.reading import Limits, read_files

SHARED = Path(__file__).resolve().parents[3] / "shared"
HOSTILE = SHARED / "hostile_pdfs"
SHEETS = SHARED / "real_sheets"

pytestmark = [pytest.mark.hostile, pytest.mark.xdist_group("awkward")]  # they are read once


def _entries(folder: Path) -> list[Entry]:
    return [
        Entry(path.name, path.stat().st_size, hashlib.sha256(path.read_bytes()).hexdigest())
        for path in sorted(folder.iterdir())
        if path.suffix.lower() == ".pdf"
    ]


@pytest.fixture(scope="module")
def swept() -> dict[str, FileFacts]:
    if not HOSTILE.is_dir():
        pytest.skip("the awkward PDFs are not beside this checkout")
    before = _entries(HOSTILE)
    facts = read_files(HOSTILE, before, workers=2, limits=Limits(seconds=30, page_seconds=15))
    assert _entries(HOSTILE) == before
    return {each.name: each for each in facts}


@pytest.mark.slow
@pytest.mark.timeout(600)
def test_each_ends_in_facts_or_in_a_reason(swept):
    assert swept
    for facts in swept.values():
        assert facts.unread or facts.pages, facts.name
        assert not facts.unread or (facts.unread[0].islower() and not facts.unread.endswith(".")), facts.unread
        assert [page.number for page in facts.pages] == list(range(1, len(facts.pages) + 1))
        for page in facts.pages:
            assert page.unread or (page.width > 0 and page.height > 0 and page.blur > 0)
        assert from_json(to_json(facts)) == facts


@pytest.mark.slow
@pytest.mark.timeout(600)
def test_none_crashes_hangs_or_meets_a_bug(swept):
    said = {facts.unread for facts in swept.values()} | {p.unread for f in swept.values() for p in f.pages}
    for reason in filter(None, said):
        for bad in ("stopped", "failed on it", "out of turn", "agreed form", "too large", "could not be started"):
            assert bad not in reason


@pytest.mark.slow
@pytest.mark.timeout(600)
@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("pypdf__resources__encryption__r5-user-password.pdf", "it needs a password to open"),
        ("pdfminer.six__samples__encryption__aes-256-r6.pdf", "it needs a password to open"),
        ("pdfium__testing__resources__circular_viewer_ref.pdf", "it is damaged and could not be opened"),
        ("pdfium__testing__resources__bug_828049.pdf", "it is named .pdf but is no PDF"),
    ],
)
def test_some_reasons(swept, name: str, reason: str):
    assert (swept[name].unread or "").startswith(reason)


@pytest.mark.skipif(not SHEETS.is_dir(), reason="the scanned sheets are not beside this checkout")
def test_a_scanned_sheet_has_ink_within_its_edges():
    (facts,) = read_files(SHEETS, _entries(SHEETS)[:1])
    (page,) = facts.pages
    assert 1 < page.ink.left < page.ink.right < page.width - 1
    assert len(page.pictures) == 1
    assert page.pictures[0].dpi == 300
    assert page.colour.share == 0
