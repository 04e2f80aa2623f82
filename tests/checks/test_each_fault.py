"""Each fault that a reader of a specification or of the forms looks for has a case with its place, and a proper twin.

The list is that of what is looked for within the specification, between the papers and on the forms. Common practice,
no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from preflight.checks import Measured, Seen, Unread
from preflight.checks.built_in import CHECKS
from preflight.judging.judgement import grade_for
from preflight.testing import load_cases, requirements, rulebook, run_case

US = Path(__file__).parent.parent / "cases" / "us"
BY_ID = {requirement.id: requirement for requirement in requirements(office="us")}
CASES = load_cases(US)
FEES = rulebook("us").fees

FAULTS = [
    # within the specification
    ("one character for two parts", "us.drawing.same-part", ""),
    ("one part with two characters", "us.drawing.same-part", "two characters"),
    ("a name that drifts", "us.drawing.same-part", "two names"),
    ("a character used before it is named", "us.practice.named-first", ""),
    ("two figures in one paragraph", "us.practice.figures-in-turn", "mixed"),
    ("figures out of order in the description", "us.practice.figures-in-turn", "order"),
    ("a figure without paragraph", "us.text.brief-description", "not described"),
    ("a figure without entry", "us.text.brief-description", "not listed"),
    ("no list of figures", "us.text.brief-description", "no list"),
    ("an entry twice", "us.practice.one-figure-paragraph", "twice"),
    ("entries out of order", "us.practice.one-figure-paragraph", "order"),
    ("an entry without kind of view", "us.practice.one-figure-paragraph", "kind"),
    ("a paragraph number left out", "us.text.paragraphs", "gap"),
    ("a paragraph number twice", "us.text.paragraphs", "repeat"),
    ("paragraphs out of order", "us.text.paragraphs", "order"),
    ("a page number left out", "us.text.page-numbers", "gap"),
    ("a page number twice", "us.text.page-numbers", "repeat"),
    ("pages out of order", "us.text.page-numbers", "order"),
    ("a claim number left out", "us.text.claims-form", "gap"),
    ("a claim number twice", "us.text.claims-form", "repeat"),
    ("claims that begin with another number", "us.text.claims-form", "begins"),
    ("a claim of two sentences", "us.text.claims-form", "sentences"),
    ("a claim without full stop", "us.text.claims-form", "unended"),
    ("a claim that depends on none that is there", "us.text.claims-dependency", "missing"),
    ("a claim that depends on a later one", "us.text.claims-dependency", "later"),
    ("a claim that depends on itself", "us.text.claims-dependency", "itself"),
    ("the without a", "us.text.terms", ""),
    ("a character in a claim without parentheses", "us.text.claims-form.characters", ""),
    ("an abstract that is too long", "us.text.abstract", ""),
    ("a title of more than 15 words", "us.practice.title", "long"),
    ("a title with the sign of a trade mark", "us.practice.title", "mark"),
    ("a title that is not the same in all papers", "us.text.title", "small"),
    ("a trade mark in the text", "us.practice.trademark", ""),
    ("a placeholder, field or note to self", "us.practice.placeholders", ""),
    ("words struck out", "us.practice.track-changes", "struck"),
    ("words inserted", "us.practice.track-changes", "inserted"),
    ("a comment", "us.pdf.comments", "comment"),
    ("highlighted words", "us.practice.highlighted", ""),
    ("a watermark in words", "us.practice.watermark", "words"),
    ("a watermark as a shape", "us.practice.watermark", "shape"),
    ("a page missing within a sentence", "us.text.pages-present", "within"),
    ("the end missing", "us.text.pages-present", "end"),
    ("something left for later", "us.text.no-claims-new-matter", "later"),
    ("a heading with nothing below it", "us.text.no-claims-new-matter", "empty"),
    ("the title of another matter", "us.practice.wrong-client", "title"),
    ("the docket number of another matter", "us.practice.wrong-client", "docket"),
    ("a statement that a careful person avoids", "us.practice.admissions", ""),
    ("incorporation in other words", "us.text.incorporation", "words"),
    ("incorporation of a document without number", "us.text.incorporation", "blank"),
    ("incorporation of a web page", "us.text.incorporation-web", "web"),
    ("a benefit claim", "us.prov.no-benefit", ""),
    ("a design", "us.prov.no-design", ""),
    ("words that are not English", "us.text.english", ""),
    ("a copyright notice", "us.text.copyright", ""),
    # between papers
    ("a figure named and not drawn", "us.drawing.figures-present", ""),
    ("a figure drawn and not named", "us.drawing.figures-described", ""),
    ("a character described and not drawn", "us.drawing.orphan-in-text", ""),
    ("a character drawn and not described", "us.drawing.orphan-in-drawing", ""),
    ("a character drawn and doubtfully read", "us.drawing.orphan-in-drawing", "look"),
    ("an inventor spelled otherwise", "us.practice.names", "spelling"),
    ("another inventor", "us.practice.names", "other"),
    ("a source that was saved after its export", "us.practice.source-agrees", "later"),
]
"""Fault, requirement, sort of the outcome."""

ON_PAGES = [
    ("a title of more characters than the office takes", "us.prov.cover.title", ""),
    ("a blank page", "us.practice.pages", "blank"),
    ("a page twice", "us.practice.pages", "doubled"),
    ("a file twice", "us.practice.identical-files", ""),
    ("claims of another matter", "us.practice.same-device", ""),
    ("fewer pages than stated", "us.prov.cover.counts", "fewer"),
    ("more sheets than stated", "us.prov.cover.counts", "more"),
    ("a fee that nobody pays", "us.fee.amount", "nobody"),
    ("two entities", "us.prov.cover.entity", "both"),
]
"""Faults of whole pages or files, which have no line."""

ON_FORMS = [
    ("a residence left out", "us.prov.cover.residence", ""),
    ("an inventor without family name", "us.prov.cover.inventors", ""),
    ("both entities ticked", "us.prov.cover.entity", "both"),
    ("an entity that the fee does not fit", "us.micro.no-mix", "overpaid"),
    ("a certification that the fee does not fit", "us.micro.no-mix", "not used"),
    ("a certification of another matter", "us.micro.no-mix", "other-matter"),
    ("no certification", "us.micro.form", "missing"),
    ("a certification that nobody signed", "us.micro.form", "unsigned"),
    ("a certification on another basis than it ticks", "us.micro.institution", "other"),
    ("a certification on another basis than the cover says", "us.micro.institution", "stated"),
    ("neither block of the institution basis", "us.micro.institution", ""),
    ("one of two inventors has signed", "us.micro.signer", "short"),
    ("an officer has signed", "us.micro.signer", "officer"),
    ("an organisation signs without practitioner", "us.sign.who", ""),
    ("a signature without slashes", "us.sign.s", ""),
    ("a signature of other characters", "us.sign.s-characters", ""),
    ("nothing between the slashes", "us.sign.s-one", ""),
    ("no name in print", "us.sign.s-name", ""),
    ("no number of the practitioner", "us.sign.s-number", ""),
    ("a cover sheet that nobody signed", "us.sign.hand", "cover"),
    ("a signature of the future", "us.sign.date", "future"),
    ("a certification of last year", "us.sign.date", "other year"),
    ("a signer spelled otherwise", "us.practice.names", "signer"),
    ("an inventor spelled otherwise on a form", "us.practice.names", "spelling"),
    ("a fee of an older table", "us.fee.amount", "older"),
    ("no size fee", "us.fee.amount", "size"),
    ("a fee code of another entity", "us.fee.codes", ""),
    ("a government contract that is not answered", "us.prov.cover.government", ""),
    ("a government contract without its number", "us.prov.cover.government", "not named"),
    ("no correspondence address", "us.prov.cover.address", ""),
    ("no title", "us.prov.cover.title", "blank"),
    ("a certification without its date", "us.micro.form.fields", ""),
    ("a certification without title", "us.micro.form.identified", ""),
    ("a benefit claim on a form", "us.prov.no-benefit", ""),
]
"""Faults of what is filled in: each at its line, field or box, and with what mends it."""


NOT_ALWAYS = {"us.pdf.comments"}
"""Several comments of a file are one fault, at its first page."""


def faults_seen(requirement: str, sort: str) -> list[Measured | Seen]:
    return [
        outcome
        for case in CASES
        if case.requirement == requirement and case.kind == "broken"
        for outcome in run_case(case, BY_ID[requirement], CHECKS, fees=FEES)
        if not isinstance(outcome, Unread) and not outcome.held and outcome.sort == sort
    ]


@pytest.mark.parametrize(("fault", "requirement", "sort"), FAULTS, ids=[fault for fault, _, _ in FAULTS])
def test_a_fault_of_the_text_is_seen_at_its_line(fault: str, requirement: str, sort: str) -> None:
    seen = faults_seen(requirement, sort)
    assert seen, fault
    assert all(one.at.page for one in seen), fault
    assert any(one.at.box for one in seen) if requirement in NOT_ALWAYS else all(one.at.box for one in seen), fault


@pytest.mark.parametrize(("fault", "requirement", "sort"), ON_PAGES, ids=[fault for fault, _, _ in ON_PAGES])
def test_a_fault_of_pages_is_seen_at_its_file(fault: str, requirement: str, sort: str) -> None:
    seen = faults_seen(requirement, sort)
    assert seen, fault
    assert all(one.at.file or one.at.page for one in seen), fault


@pytest.mark.parametrize(("fault", "requirement", "sort"), ON_FORMS, ids=[fault for fault, _, _ in ON_FORMS])
def test_a_fault_of_a_form_is_seen_at_its_field_with_what_mends_it(fault: str, requirement: str, sort: str) -> None:
    seen = faults_seen(requirement, sort)
    assert seen, fault
    assert all(one.at.file or one.at.page for one in seen), fault
    assert all(one.at.page and one.at.box for one in seen), fault
    assert all(grade_for(BY_ID[requirement], one)[3] for one in seen), fault


def test_each_fault_has_a_proper_twin() -> None:
    proper = {case.requirement for case in CASES if case.kind == "met"}
    assert {requirement for _, requirement, _ in (*FAULTS, *ON_PAGES, *ON_FORMS)} <= proper
