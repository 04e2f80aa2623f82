"""Whatever the pages hold, each lands in exactly one paper."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from preflight.papers import BUILT_IN_ROLES, Declared, find_papers
from preflight.testing import file_facts

LINES = st.sampled_from(
    [
        "CLAIMS",
        "ABSTRACT",
        "BACKGROUND",
        "PROVISIONAL APPLICATION COVER SHEET",
        "CERTIFICATION OF MICRO ENTITY STATUS",
        "FIG. 1",
        "1/3",
        "Dear Sir,",
        "Respectfully submitted,",
        "Commissioner for Patents",
        "[0001] The lever turns.",
        "1. A clamp.",
        "2. The clamp of claim 1.",
        "The lever turns about the pin and lifts the band of the clamp off the wall of the hose.",
    ]
)
PAGES = st.lists(st.one_of(st.lists(LINES, max_size=12), st.just("blank"), st.just("scan")), min_size=1, max_size=8)


def _page(said: list[str] | str) -> dict[str, object]:
    if said == "scan":
        return {"ink": [2, 2, 19, 26]}
    return {"blank": True} if said == "blank" else {"text": said}


@settings(max_examples=60, deadline=None)
@given(PAGES, st.sampled_from(["bundle.pdf", "spec.pdf", "drawings.pdf"]))
def test_every_page_is_in_one_paper_and_in_order(pages: list[list[str] | str], name: str) -> None:
    facts = file_facts({"name": name, "pages": [_page(said) for said in pages]})
    papers = find_papers([facts], BUILT_IN_ROLES, Declared())
    assert [page.number for paper in papers for page in paper.pages] == list(range(1, len(pages) + 1))
    assert all(paper.how_known for paper in papers)


@settings(max_examples=30, deadline=None)
@given(PAGES)
def test_the_order_of_files_changes_nothing(pages: list[list[str] | str]) -> None:
    files = [file_facts({"name": f"{n}.pdf", "pages": [_page(said)]}) for n, said in enumerate(pages)]
    forward = find_papers(files, BUILT_IN_ROLES, Declared())
    backward = find_papers(files[::-1], BUILT_IN_ROLES, Declared())
    assert {(p.file, p.role, p.how_known) for p in forward} == {(p.file, p.role, p.how_known) for p in backward}
