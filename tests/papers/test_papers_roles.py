"""By what a page shows its role, and which pages make up which paper.

Form numbers and headings: RULES-us-filing 1b (form texts read), us.prov.form-ids. Headings of specification, claims
and abstract: 37 CFR 1.77(b), 1.75(i), 1.72(b). Wordings beside these are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest

from preflight.papers import BUILT_IN_ROLES, UNKNOWN, Declared, Paper, contradictions, find_papers
from preflight.papers.roles.split import DECLARED, FILE_NAME, name_clue
from preflight.testing import file_facts

PROSE = [
    "The lever turns about the pin and lifts the band of the clamp away from the outer wall of",
    "the hose, so that a user may take the clamp off with one hand and without any tool at all,",
    "as the brief description of the drawings says; the claims and the abstract say the same too.",
]
TEXT = PROSE * 3
FIGURE = {"marks": [[5, 5, 16, 20]]}


def papers(pages: Sequence[Any], name: str = "bundle.pdf", declared: dict[str, str] | None = None) -> tuple[Paper, ...]:
    facts = file_facts({"name": name, "pages": [p if isinstance(p, dict) else {"text": p} for p in pages]})
    return find_papers([facts], BUILT_IN_ROLES, Declared(papers=declared or {}))


def roles(pages: Sequence[Any], name: str = "bundle.pdf") -> list[tuple[str, int, int]]:
    return [(p.role, p.first_page, p.last_page) for p in papers(pages, name)]


def centred(text: str, top: float = 2.6, size: float = 12) -> dict[str, Any]:
    return {"text": text, "at": [10.8 - 0.19 * len(text) * size / 24, top], "size": size}


@pytest.mark.parametrize(
    ("heading", "role"),
    [
        ("PROVISIONAL APPLICATION FOR PATENT COVER SHEET", "cover-sheet"),
        ("Provisional Patent Application Cover Sheet", "cover-sheet"),
        ("Application Cover Sheet", "cover-sheet"),
        ("COVER SHEET FOR PROVISIONAL APPLICATION", "cover-sheet"),
        ("CERTIFICATION OF MICRO ENTITY STATUS (GROSS INCOME BASIS)", "entity-certification"),
        ("Micro Entity Certification", "entity-certification"),
        ("Application Data Sheet 37 CFR 1.76", "application-data-sheet"),
        ("FEE TRANSMITTAL", "fee-sheet"),
        ("POWER OF ATTORNEY", "power-of-attorney"),
        ("ELECTRONIC ACKNOWLEDGEMENT RECEIPT", "acknowledgement-receipt"),
        ("Electronic Acknowledgment Receipt", "acknowledgement-receipt"),
        ("TRANSMITTAL LETTER", "letter"),
        ("CLAIMS", "claims"),
        ("What is claimed is:", "claims"),
        ("WHAT IS CLAIMED IS", "claims"),
        ("I claim:", "claims"),
        ("We Claim", "claims"),
        ("The invention claimed is:", "claims"),
        ("ABSTRACT", "abstract"),
        ("Abstract of the Disclosure", "abstract"),
        ("BACKGROUND OF THE INVENTION", "specification"),
        ("1. Technical Field", "specification"),
        ("Information Disclosure Statement", "citation-list"),
    ],
)
def test_a_heading_names_the_paper(heading: str, role: str) -> None:
    (paper,) = papers([[centred(heading), "", "The application is filed as said below."]])
    assert paper.role == role
    assert paper.how_known == f"heading on page 1: {heading}"


@pytest.mark.parametrize(
    ("number", "role"),
    [
        ("PTO/SB/16 (12-22)", "cover-sheet"),
        ("PTO/SB/16 (09-11)", "cover-sheet"),
        ("Doc Code: MES.GIB PTO/SB/15A (07-14)", "entity-certification"),
        ("PTO/SB/15B (07-14)", "entity-certification"),
        ("PTO/AIA/14 (02-18)", "application-data-sheet"),
        ("PTO/SB/17 (01-18)", "fee-sheet"),
        ("PTO/AIA/82A (07-13)", "power-of-attorney"),
    ],
)
def test_a_form_is_known_by_its_number_in_any_edition(number: str, role: str) -> None:
    (paper,) = papers([[{"text": number, "at": [15, 1.2], "size": 7}, "Fill in below."]])
    assert paper.role == role
    assert paper.how_known.startswith("form number PTO/")


def test_a_number_in_a_sentence_is_another_form() -> None:
    # the cover sheet's own words (form PTO/SB/16): "must attach PTO/SB/15A or B or equivalent"
    said = [
        centred("PROVISIONAL APPLICATION COVER SHEET"),
        "",
        "",
        "Applicant must attach form",
        "PTO/SB/15A or B or equivalent.",
    ]
    assert roles([said]) == [("cover-sheet", 1, 1)]


def test_a_form_over_two_pages_is_one_paper() -> None:
    first = [{"text": "PTO/SB/16 (12-22)", "at": [17, 1.2]}, "Provisional Application Cover Sheet Page 1 of 2"]
    second = [{"text": "PTO/SB/16 (12-22)", "at": [17, 1.2]}, "Provisional Application Cover Sheet Page 2 of 2"]
    assert roles([first, second]) == [("cover-sheet", 1, 2)]


def test_one_certification_an_inventor_is_one_paper_each() -> None:
    # us.micro.signer: each joint inventor on a separate copy
    sheet = [{"text": "PTO/SB/15A (07-14)", "at": [17, 1.2]}, "CERTIFICATION OF MICRO ENTITY STATUS"]
    assert roles([sheet, sheet]) == [("entity-certification", 1, 1), ("entity-certification", 2, 2)]


def test_prose_that_mentions_claims_abstract_and_figures_is_a_description() -> None:
    page = [*TEXT, "FIG. 1 is a perspective view of the clamp,", "FIG. 2 is a side view,", "Claims", "Abstract", *PROSE]
    assert roles([["BACKGROUND", *TEXT], page]) == [("specification", 1, 2)]


def test_a_label_set_apart_from_its_sentence_is_no_drawing() -> None:
    page = [
        "BRIEF DESCRIPTION OF THE DRAWINGS",
        {"text": "FIG. 1", "at": [2.54, 5]},
        {"text": "is a side view", "at": [5, 5]},
    ]
    assert roles([page]) == [("specification", 1, 1)]


def test_claims_in_mid_page_stay_with_the_description() -> None:
    # the page that begins with the heading would begin the paper: 37 CFR 1.52(b)(3) speaks of a sheet
    claims = ["3. The clamp of claim 1, wherein the pin is round.", "4. The clamp of claim 3, which has a spring."]
    assert roles([["BACKGROUND", *TEXT, "CLAIMS", "1. A clamp.", "2. The clamp of claim 1."], claims]) == [
        ("specification", 1, 2)
    ]


def test_a_title_over_the_claims_heading_does_not_hide_it() -> None:
    assert roles([["BACKGROUND", *TEXT], ["HOSE CLAMP", "CLAIMS", "1. A clamp."]])[1] == ("claims", 2, 2)


def test_the_end_of_a_sentence_over_a_claims_heading_does() -> None:
    assert roles([["BACKGROUND", *TEXT], ["of the clamp.", "", "CLAIMS", "1. A clamp."]]) == [("specification", 1, 2)]


def test_a_running_header_over_the_claims_heading_does_not_hide_it() -> None:
    head = {"text": "Attorney Docket No. DEMO-0417", "at": [2.54, 2.2]}
    assert (
        roles([[head, "", "BACKGROUND", *TEXT], [head, "", "", "What is claimed is:", "1. A clamp."]])[1][0] == "claims"
    )


def test_an_abstract_on_the_first_page_of_a_description_does_not_take_it() -> None:
    assert roles([["HOSE CLAMP", "ABSTRACT", *PROSE, "BACKGROUND", *PROSE]]) == [("specification", 1, 1)]


def test_figure_labels_sheet_numbers_and_few_words_make_a_drawing() -> None:
    figures: list[Any] = [
        {**FIGURE, "text": [{"text": "FIG. 1", "at": [10, 22]}]},
        {**FIGURE, "text": [{"text": "Figure 2A", "at": [10, 22], "turned": 90}]},
        {**FIGURE, "sheet_number": "3/4"},
        {**FIGURE, "text": [{"text": str(n), "at": [4 + n / 9, 5 + n / 5]} for n in (10, 12, 14, 16)]},
    ]
    assert roles(figures) == [("drawings", 1, 4)]


def test_a_flow_chart_with_many_words_is_a_drawing() -> None:
    box = "RECEIVE A SIGNAL FROM THE SENSOR AND COMPARE"
    chart = [{"text": box, "at": [7, 4 + n], "size": 9} for n in range(14)]
    assert roles([{"text": [*chart, {"text": "FIG. 1", "at": [10, 22], "size": 16}]}]) == [("drawings", 1, 1)]


def test_one_file_that_holds_everything_is_split() -> None:
    pages = [
        ["PROVISIONAL APPLICATION FOR PATENT COVER SHEET", "Inventor: Ada Example"],
        ["HOSE CLAMP", "BACKGROUND", *TEXT],
        TEXT,
        ["CLAIMS", "1. A clamp."],
        ["ABSTRACT", *PROSE],
        {**FIGURE, "text": [{"text": "FIG. 1", "at": [10, 22]}]},
    ]
    assert roles(pages) == [
        ("cover-sheet", 1, 1),
        ("specification", 2, 3),
        ("claims", 4, 4),
        ("abstract", 5, 5),
        ("drawings", 6, 6),
    ]


def test_any_other_order_is_split_as_well() -> None:
    pages = [
        {**FIGURE, "text": [{"text": "FIG. 1", "at": [10, 22]}]},
        ["ABSTRACT", *PROSE],
        ["HOSE CLAMP", *TEXT, *TEXT],
        ["PROVISIONAL APPLICATION FOR PATENT COVER SHEET"],
    ]
    assert [role for role, _, _ in roles(pages)] == ["drawings", "abstract", "specification", "cover-sheet"]


def test_a_title_page_belongs_to_the_description_that_follows() -> None:
    assert roles([["HOSE CLAMP", "by", "Ada Example"], ["BACKGROUND", *TEXT]]) == [("specification", 1, 2)]


def test_a_letter_is_a_letter_though_it_speaks_of_a_provisional_application() -> None:
    letter = [
        "Commissioner for Patents",
        "P.O. Box 1450",
        "Dear Sir or Madam:",
        "Enclosed please find a provisional application for patent entitled HOSE CLAMP together with drawings.",
        "Respectfully submitted,",
    ]
    assert roles([letter]) == [("letter", 1, 1)]


def test_a_letter_to_the_client_and_a_bill_are_no_papers_of_the_filing() -> None:
    engagement = [
        "Dear Ada Example,",
        "This letter sets out the terms of our engagement. We will prepare and file a provisional application for",
        "your hose clamp, and we ask you not to show it to others before the filing. What you tell us is privileged.",
        *PROSE,
        "Sincerely,",
        "Cleo Sampleton",
    ]
    bill = ["Invoice No. 118", "Description of services    USD", "Preparing an application, flat    2,400.00"]
    assert roles([engagement], "a.pdf") == [("engagement-letter", 1, 1)]
    assert roles([bill], "b.pdf") == [("invoice", 1, 1)]
    assert roles([["DESCRIPTION OF THE HOSE CLAMP", *TEXT]]) == [("specification", 1, 1)]


def test_a_letter_quoted_in_a_description_is_none() -> None:
    page = ["BACKGROUND", *PROSE, "Dear John,", "your claims are enclosed.", "Sincerely,", *PROSE]
    assert roles([page]) == [("specification", 1, 1)]


@pytest.mark.parametrize("heading", ["Assignment of Channels", "Declaration of Variables", "Power Supply"])
def test_headings_of_a_description_that_resemble_legal_papers(heading: str) -> None:
    assert roles([[heading, *TEXT]], "spec.pdf") == [("specification", 1, 1)]


def test_an_assignment_says_who_assigns() -> None:
    said = ["ASSIGNMENT", "The undersigned inventor hereby assigns all right, title and interest to the assignee."]
    assert roles([said]) == [("assignment", 1, 1)]


@pytest.mark.parametrize(
    ("name", "role"),
    [
        ("01-specification.pdf", "specification"),
        ("HoseClampSpec.pdf", "specification"),
        ("spec_claims_abstract.pdf", "specification"),
        ("drawings(final).pdf", "drawings"),
        ("FIGS 1-3.pdf", "drawings"),
        ("cover.pdf", "cover-sheet"),
        ("sb0016.pdf", "cover-sheet"),
        ("SB16.pdf", "cover-sheet"),
        ("Cover Letter.pdf", "letter"),
        ("PTO-SB-15A.pdf", "entity-certification"),
        ("micro.pdf", "entity-certification"),
        ("claims_v2.pdf", "claims"),
        ("abstract.pdf", "abstract"),
        ("ADS.pdf", "application-data-sheet"),
        ("fee transmittal.pdf", "fee-sheet"),
        ("appendix.pdf", "other"),
        ("scan0001.pdf", None),
        ("adspecial.pdf", None),
    ],
)
def test_words_of_a_file_name(name: str, role: str | None) -> None:  # names in common use, no source
    assert name_clue(name, BUILT_IN_ROLES) == role


SCAN = {"ink": [2.5, 2.5, 19, 25], "marks": [[2.5, 2.5 + n, 18, 3.1 + n] for n in range(20)]}


def test_a_scan_is_known_by_its_name_only() -> None:
    (paper,) = papers([SCAN, SCAN], "spec.pdf")
    assert (paper.role, paper.how_known, paper.kind) == ("specification", FILE_NAME, "text")


def test_a_scan_without_a_telling_name_is_unknown() -> None:
    (paper,) = papers([SCAN, SCAN], "scan0001.pdf")
    assert (paper.role, paper.kind, len(paper.pages)) == (UNKNOWN, "other", 2)


def test_a_scan_with_scattered_ink_is_probably_a_drawing() -> None:
    marks = [[5, 5, 15, 18], *([2.5 + 3 * n, 4 + 2 * n, 3.3 + 3 * n, 4.5 + 2 * n] for n in range(6))]
    assert roles([{"marks": marks}], "scan0002.pdf") == [("drawings", 1, 1)]
    assert roles([{"marks": marks}], "spec.pdf") == [("specification", 1, 1)]  # the name weighs more than ink alone


def test_the_text_layer_of_a_scan_names_the_role_and_nothing_else() -> None:
    layer = [{"text": "CLAIMS", "visible": False}, {"text": "1. A clamp.", "visible": False}]
    (paper,) = papers([{**SCAN, "text": layer}], "scan0003.pdf")
    assert paper.role == "claims"
    assert paper.text_unread


def test_what_is_declared_holds_for_the_whole_file() -> None:
    (paper,) = papers([["CLAIMS", "1. A clamp."], TEXT], "a.pdf", {"a.pdf": "specification"})
    assert (paper.role, paper.how_known, len(paper.pages)) == ("specification", DECLARED, 2)


def test_a_declared_role_that_the_pages_contradict() -> None:
    facts = file_facts({"name": "a.pdf", "pages": [{"text": ["ABSTRACT", "A clamp."]}]})
    (found,) = contradictions([facts], BUILT_IN_ROLES, Declared(papers={"a.pdf": "drawings"}))
    assert (found.file, found.declared, found.seen, found.how) == (
        "a.pdf",
        "drawings",
        "abstract",
        "heading on page 1: ABSTRACT",
    )


@pytest.mark.parametrize("declared", ["specification", "claims"])
def test_a_combined_file_declared_as_one_of_its_papers_is_no_contradiction(declared: str) -> None:
    facts = file_facts({"name": "a.pdf", "pages": [{"text": ["BACKGROUND", *TEXT]}, {"text": ["CLAIMS", "1. A."]}]})
    assert contradictions([facts], BUILT_IN_ROLES, Declared(papers={"a.pdf": declared})) == ()


def test_a_scan_contradicts_nothing() -> None:
    facts = file_facts({"name": "a.pdf", "pages": [SCAN]})
    assert contradictions([facts], BUILT_IN_ROLES, Declared(papers={"a.pdf": "claims"})) == ()


def test_a_file_that_cannot_be_opened_gives_no_paper() -> None:
    facts = file_facts({"name": "spec.pdf", "unread": "it is empty (0 bytes)"})
    assert find_papers([facts], BUILT_IN_ROLES, Declared()) == ()


def test_form_fields_go_with_the_pages_that_they_stand_on() -> None:
    fields = [{"name": "a", "value": "x", "page": 1}, {"name": "b", "value": "y", "page": 2}]
    pages = [{"text": ["CLAIMS", "1. A."]}, {"text": ["ABSTRACT", "A."]}]
    facts = file_facts({"name": "a.pdf", "pages": pages, "structure": {"fields": fields}})
    found = find_papers([facts], BUILT_IN_ROLES, Declared())
    # the builder puts every field on page 1 unless the field says another page
    assert [[field.name for field in paper.fields] for paper in found] == [["a"], ["b"]]
