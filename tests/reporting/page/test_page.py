"""The page: nothing of the report is missing, it stands by itself, and it holds no more than it may."""

from __future__ import annotations

import base64
import hashlib
import re

import msgspec
import pytest
from markup import Markup

from preflight.facts import Box, Clipping
from preflight.papers import NotRead
from preflight.reporting.page import to_page
from preflight.reporting.report import PagePicture, Place, Report, SignedOff
from preflight.reporting.wording import clean

ALLOWED = re.compile(
    "html|head|meta|link|title|style|body|header|nav|main|section|article|footer|h[1-4]|p|a|b|bdi|br|code|span|strong"
    "|ul|ol|li|dl|dt|dd|div|table|thead|tbody|tr|th|td|details|summary|figure|figcaption|svg|defs|image|rect|use"
)
"""No script, form, frame, object, and nothing that loads."""


def words(text: str) -> str:
    return " ".join(clean(text).split())


def pictured(report: Report, *pages: PagePicture) -> Report:
    return msgspec.structs.replace(report, page_pictures=pages)


def test_nothing_of_the_report_is_missing(report, every_report):
    whole = report(every_report)
    said = " ".join(Markup(to_page(whole)).text.split())
    for finding in whole.findings:
        shown = [finding.id, finding.message, finding.fix, finding.why, finding.requirement, *finding.citations]
        shown += [value.text for value in (finding.measured, finding.required) if value and finding.state == "broken"]
        assert [text for text in shown if words(text) not in said] == [], finding.id
    for text in (
        *whole.cautions,
        *(question.question for question in whole.by_hand),
        *(document.file for document in whole.documents),
        *(document.sha256[:12] for document in whole.documents),
        *(paper.how_known for document in whole.documents for paper in document.papers),
        *(row.title for row in whole.requirements if row.state in {"met", "not measured", "unread", "not applicable"}),
        *(row.character for row in whole.characters.characters),
        *(name.name for row in whole.characters.characters for name in row.names),
        *(line.name for line in (whole.fees.lines if whole.fees else ())),
        *(named.trouble for named in whole.plugins if named.trouble),
    ):
        assert words(text) in said


def test_a_finding_stands_once_with_its_number_and_its_step_leads_there(report):
    whole = report("everything")
    page = Markup(to_page(whole))
    anchors = [value for value in page.values("id") if re.fullmatch(r"finding-\d+", value)]
    assert anchors == [f"finding-{n}" for n in range(1, len(whole.findings) + 1)]
    assert len(page.values("id")) == len(set(page.values("id")))
    assert {link[1:] for link in page.values("href") if link.startswith("#")} <= set(page.values("id"))


def test_what_must_be_mended_is_listed_first_file_by_file(report):
    whole = report("everything")
    said = Markup(to_page(whole)).text
    first = said.split("\nDo this first\n")[2].split("\nFindings\n")[0]
    for finding in whole.findings:
        if finding.consequence != "advice" and finding.signed_off is None:
            assert words(finding.fix or finding.message) in " ".join(first.split())


def test_what_is_signed_off_or_answered_shows_by_whom(report):
    whole = report("everything")
    off = SignedOff("A. E.", whole.bundle.filing_date, "seen by eye")
    signed = msgspec.structs.replace(whole.findings[-1], signed_off=off, consequence="notice")
    said = Markup(to_page(msgspec.structs.replace(whole, findings=(signed,)))).text
    assert "1 signed off" in said
    assert "A. E., 25 November 2026: seen by eye" in said
    assert "Nothing has to be mended" in said
    for question in whole.by_hand:
        if question.answer:
            assert f"{question.answer.value} , {question.answer.by}," in said


def test_the_page_stands_by_itself(report, every_report):
    made = to_page(report(every_report))
    page = Markup(made)
    assert page.unbalanced == []
    assert [tag for tag in page.tags if not ALLOWED.fullmatch(tag)] == []
    assert [name for _, name, _ in page.attributes if name.startswith("on") or name == "style"] == []
    assert all(value.startswith(("#", "data:")) for value in page.values("href"))
    assert page.values("src") == []
    (style,) = re.findall(r"<style>(.*?)</style>", made, re.DOTALL)
    assert "url(" not in style
    assert "@import" not in style
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    policy = f"default-src 'none'; img-src data:; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"
    assert policy in page.values("content")


def test_a_picture_is_held_once_however_often_it_is_shown(report):
    whole = report("everything")
    place = Place("drawings.pdf", "0" * 64, "drawings", 2, Box(2, 3, 4, 5))
    found = tuple(msgspec.structs.replace(whole.findings[0], places=(place,)) for _ in range(5))
    shown = pictured(whole, PagePicture("drawings.pdf", 2, 21.0, 29.7, b"a page"))
    page = Markup(to_page(msgspec.structs.replace(shown, findings=found)))
    data = "data:image/webp;base64," + base64.b64encode(b"a page").decode()
    assert page.values("href").count(data) == 1
    assert page.values("href").count("#sheet-1") >= 5


def test_a_mark_stands_round_its_place_and_on_the_page(report):
    whole = report("everything")
    small, corner = Box(10, 10, 10.1, 10.1), Box(-1, -1, 0.2, 0.2)
    places = tuple(Place("drawings.pdf", "0" * 64, "drawings", 2, box) for box in (small, corner))
    close_up = Clipping(2, Box(9, 9, 11.1, 11.1), b"close")
    places = (msgspec.structs.replace(places[0], picture=close_up), places[1])
    found = msgspec.structs.replace(whole.findings[0], places=places)
    shown = pictured(whole, PagePicture("drawings.pdf", 2, 21.0, 29.7, b"a page"))
    page = Markup(to_page(msgspec.structs.replace(shown, findings=(found,))))
    marks = [{n: float(v) for n, v in zip(("x", "y", "width", "height"), m, strict=True)} for m in _marks(page)]
    assert len(marks) == 3
    for mark in marks:
        assert 0 <= mark["x"] < mark["x"] + mark["width"] <= 21.0
        assert 0 <= mark["y"] < mark["y"] + mark["height"] <= 29.7
    assert sum(m["x"] <= small.left and m["x"] + m["width"] >= small.right for m in marks) == 2
    assert min(m["width"] for m in marks) >= 0.35


def _marks(page: Markup) -> list[tuple[str, ...]]:
    """Geometry of each mark: the attributes that follow its class."""
    found = []
    for at, (tag, name, value) in enumerate(page.attributes):
        if (tag, name, value) == ("rect", "class", "mark"):
            found.append(tuple(v for _, _, v in page.attributes[at + 1 : at + 5]))
    return found


def test_a_picture_that_is_not_there_is_told_unless_none_was_wanted(report):
    whole = report("everything")
    said = "No picture of page 3 of drawings.pdf"
    assert said not in Markup(to_page(whole)).text
    assert said in Markup(to_page(pictured(whole, PagePicture("drawings.pdf", 2, 21.0, 29.7, b"a page")))).text


def test_the_same_thing_to_do_stands_once_for_all_that_ask_for_it(report):
    whole = report("everything")
    twice = (whole.findings[0], msgspec.structs.replace(whole.findings[0], id="another"))
    said = Markup(to_page(msgspec.structs.replace(whole, findings=twice))).text
    assert f"{words(twice[0].fix)} refusal, no. 1 refusal, no. 2" in said


def test_papers_stand_in_the_order_of_an_application(report):
    """Cover sheet, specification, drawings: 37 CFR 1.77(a)."""
    whole = report("everything")
    said = Markup(to_page(whole)).text.split("\nPapers\n")[2].split("\nReference characters\n")[0]
    files = [line for line in said.splitlines() if line in {document.file for document in whole.documents}]
    assert files == ["cover sheet.pdf", "application.pdf", "drawings.pdf", "locked.pdf", "old draft.docx"]


def test_what_the_text_may_say_is_not_denied_where_the_text_was_not_read(report):
    whole = report("everything")
    assert "not in the text" in Markup(to_page(whole)).text
    blind = msgspec.structs.replace(
        whole.characters,
        unread=(NotRead("scan.pdf", 1, "specification", "it is a scan"),),
        figures=tuple(msgspec.structs.replace(one, described=False, brief=False) for one in whole.characters.figures),
    )
    said = Markup(to_page(msgspec.structs.replace(whole, characters=blind))).text
    assert "text not read" in said
    assert "not read: scan.pdf, page 1: it is a scan" in said
    assert not any(words in said for words in ("not in the text", "not named in the text", "not in the brief"))


def test_what_keeps_the_filing_from_passing_stands_before_what_does_not(report):
    whole = report("everything")
    names = ["refusal", "notice", "unread", "advice", "signed"]
    assert [name for name in Markup(to_page(whole)).values("id") if name in names] == names


def test_all_pages_are_shown_only_where_all_were_asked_for(report):
    whole = report("everything")
    own = [(paper.first_page, document.file) for document in whole.documents for paper in document.papers]
    firsts = [PagePicture(file, page, 21.0, 29.7, b"first") for page, file in own]
    assert "All pages" not in Markup(to_page(pictured(whole, *firsts))).text
    assert "All pages" in Markup(to_page(pictured(whole, *firsts, PagePicture("x.pdf", 9, 21.0, 29.7, b"more")))).text


@pytest.mark.parametrize("name", ["everything", "clean_pass", "hostile_names"])
def test_the_text_of_the_page(report, golden, name):
    golden(f"{name}-page.txt", Markup(to_page(report(name))).text)
