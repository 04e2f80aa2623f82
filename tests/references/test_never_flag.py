"""What the sheets say must never be flagged, item by item: a case without a finding, or openly not measured yet."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from law_sheets import FILING, MARKS, PAPERS, lines

from preflight.testing import load_cases, requirements, rulebook

pytestmark = MARKS

TESTS = Path(__file__).parents[1]
CASES = {(c.requirement, c.name): c.kind for c in load_cases(TESTS / "cases")}
WHOLE = set(
    re.findall(r'^    "([^"]+)": [({]', (TESTS / "checks/test_whole_filings.py").read_text("utf-8"), re.MULTILINE)
)
NOTES = {note.id for note in rulebook("us").notes}
ALL = {r.id: r for r in requirements(office="us")}

PAPERS_6C = {
    "No claims": ["us.prov.filing-date: no claims, no abstract, no oath, no drawings"],
    "no abstract": ["us.text.abstract-sheet: no abstract"],
    "no oath": ["us.prov.no-oath: the usual papers"],
    "no assignee": ["whole: specification without figures, cover sheet"],
    "application number blank on a first filing": ["us.micro.form.identified: first named inventor and title"],
    "PDF specification instead of DOCX": ["us.folder.other-files: PDFs only"],
    "PDF 1.7": ["level: us.pdf.version: advice"],
    "PDF/A": ["us.pdf.version: PDF/A-1 is 1.4"],
    "vector drawings": ["us.pdf.images: no pictures", "us.drawing.photo: line drawing"],
    "fonts present but not used": ["test: reading/test_reading_fonts.py: test_what_counts_as_used"],
    "internal links": ["test: reading/test_reading_inside.py: test_links_within_the_file_are_nothing"],
    "form widgets of the office's forms and their small print": [
        "us.text.font-size: the small print of a form",
        "us.text.margins: the office's own form is printed closer to the edge",
        "us.pdf.encrypted: a form with fields is not encrypted",
    ],
    "hand-drawn figures that are legible": ["us.practice.scan: drawings are pictures by right"],
    "Letter text with A4 drawings": [
        "us.pdf.same-size: Letter text and A4 drawings",
        "us.drawing.size: text of the other size",
        "whole: Letter text with A4 drawings",
    ],
    "landscape drawing sheet with its top at the right": [
        "us.pdf.rotate: a drawing sheet with its top at the right",
        "whole: a sheet turned with its top at the right",
    ],
    "no cross-hairs": ["us.drawing.margins: A4, the whole usable area of 17.0 x 26.2"],
    'a single figure without "FIG. 1"': ["whole: a single sheet without a number"],
    "no sheet number on a single sheet": ["us.drawing.sheet-number: a single sheet without a number"],
    '"Fig." for "FIG."': ["us.drawing.view-number: Fig. for FIG."],
    "informal or bold headings": ["us.text.headings: informal headings"],
    "absent sections": ["us.text.headings: few sections"],
    "line numbers in the margin": ["us.text.margins: line numbers in the left margin"],
    "page numbers in the bottom margin": ["us.text.page-numbers: 1 to 3 in the middle of the footer"],
    "no paragraph numbers": ["us.text.paragraphs: paragraphs without numbers"],
    "British spelling": ["us.text.english: British spelling"],
    "numerals with letters or primes": [
        "us.drawing.orphan-in-drawing: lists, ranges, letters, brackets, a step",
        "us.drawing.characters-plain: plain numbers",
    ],
    "graph axis titles turned": ["us.pdf.rotate: a stamp on its side beside upright text"],
    "a certification without patent number": ["us.micro.form.identified: first named inventor and title"],
    "an unsigned cover sheet beside a signed data sheet": ["whole: cover sheet and data sheet"],
    "data sheet *small* although the fee is *micro*": ["us.fee.amount: micro fee beside small on the data sheet"],
}
FILING_10A = {
    1: [
        "us.prov.filing-date: no claims, no abstract, no oath, no drawings",
        "us.drawing.needed: no figure is named: text without drawings is proper",
    ],
    2: ["us.micro.no-mix: small on the data sheet, certification signed, micro fee: the web data sheet has no micro"],
    3: [
        "whole: data sheet in place of the form",
        "whole: letter in place of the form",
        "us.prov.cover: form and data sheet at once",
    ],
    4: ["us.fee.amount: small fee without a tick: the payment asserts", "whole: small fee without a tick"],
    5: ["us.micro.form: a signed certification without its application number: none is known at filing"],
    6: [
        "us.practice.one-version: one certification an inventor, alike by right",
        "us.micro.signer: two joint inventors, one practitioner signed for all",
    ],
    7: ["whole: cover sheet and data sheet", "whole: specification without figures, cover sheet"],
    8: ["us.prov.cover.edition: a newer one than is known here", "us.prov.cover.residence: filled in"],
    9: ["asked: us.micro.four"],
    10: ["us.micro.form: signed in a script between slashes, spaces inside", "us.sign.s: blanks inside the slashes"],
    11: ["note: us.receipt.children"],
    12: ["us.practice.wrong-client: another matter mentioned as related in the text is not a paper of it"],
    13: ["whole: Letter text with A4 drawings"],
}


def never_report() -> list[str]:
    """The items of 6c, without their remarks in parentheses."""
    every = lines(PAPERS)
    begin = next((n for n, line in enumerate(every) if line.startswith("### 6c")), None)
    if begin is None:
        return []
    end = next(n for n in range(begin + 1, len(every)) if every[n].startswith("#"))
    text = re.sub(r"\s*\([^()]*\)", "", " ".join(every[begin + 1 : end]))
    return [" ".join(item.split()).rstrip(".") for item in text.split(";") if item.strip()]


def proper_as_they_are() -> list[int]:
    """The numbers of 10a."""
    every = lines(FILING)
    begin = next((n for n, line in enumerate(every) if line.startswith("### 10a")), 0)
    end = next((n for n in range(begin + 1, len(every)) if every[n].startswith("#")), len(every))
    return [int(found.group(1)) for line in every[begin:end] if (found := re.match(r"(\d+)\. ", line))]


@pytest.mark.parametrize("item", never_report())
def test_each_item_of_6c_is_accounted_for(item: str) -> None:
    assert [key for key in PAPERS_6C if item == key or item.startswith(key)], item


def test_each_number_of_10a_is_accounted_for() -> None:
    assert proper_as_they_are() == list(FILING_10A)


@pytest.mark.parametrize("evidence", sorted({e for d in (PAPERS_6C, FILING_10A) for es in d.values() for e in es}))
def test_the_evidence_is_there(evidence: str) -> None:
    kind, rest = evidence.split(": ", 1)
    if kind == "whole":
        assert rest in WHOLE
    elif kind == "asked":
        assert ALL[rest].asked_in
    elif kind == "level":
        requirement, level = rest.split(": ")
        tolerated = [g for g in ALL[requirement].levels if g.sort == "tolerated"]
        assert [(g.filing, g.examination) for g in tolerated] == [(level, level)]
    elif kind == "test":
        path, name = rest.split(": ")
        assert f"def {name}(" in (TESTS / path).read_text("utf-8")
    elif kind == "note":
        assert rest in NOTES
    else:
        assert CASES.get((kind, rest)) in ("met", "nothing"), evidence
