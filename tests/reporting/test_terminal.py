"""The report at a terminal: as the golden files show it, and harmless whatever the papers say."""

from __future__ import annotations

import io
import re

import msgspec
import pytest
from rich.cells import cell_len
from rich.console import Console

from preflight.reporting.findings import MEANING
from preflight.reporting.renderer import BUILT_IN_RENDERERS, PAGE_BEGINS, to_text
from preflight.reporting.report import Report
from preflight.reporting.terminal import show_report, show_reports

ESCAPES = re.compile(r"\x1b\[[\d;]*m")


def shown(report: Report, width: int = 80, **settings) -> str:
    page = io.StringIO()
    settings = {"color_system": None, "force_terminal": False} | settings
    show_report(report, Console(file=page, width=width, _environ={}, **settings))
    return page.getvalue()


@pytest.mark.parametrize("width", [80, 120])
def test_as_the_golden_file(report, every_report, width, golden):
    golden(f"{every_report}-{width}.txt", shown(report(every_report), width))


@pytest.mark.parametrize("width", [40, 57, 80, 120, 400])
def test_no_line_is_wider_than_the_window_or_ends_in_blanks(report, every_report, width):
    for line in shown(report(every_report), width).splitlines():
        assert cell_len(line) <= min(width, 120), line
        assert line == line.rstrip()


def test_colour_adds_nothing_and_takes_nothing(report, every_report):
    coloured = shown(report(every_report), color_system="truecolor", force_terminal=True)
    assert ESCAPES.search(coloured)
    assert ESCAPES.sub("", coloured) == shown(report(every_report))


@pytest.mark.parametrize("surroundings", [{"NO_COLOR": "1", "TERM": "xterm-256color"}, {"TERM": "dumb"}])
def test_without_colour_none_is_used(report, surroundings):
    page = io.StringIO()
    show_report(report("everything"), Console(file=page, width=80, force_terminal=True, _environ=surroundings))
    colours = [code for code in ESCAPES.findall(page.getvalue()) if re.search(r"[34]\d", code)]
    assert colours == []


def test_text_from_papers_steers_nothing(report):
    made = shown(report("hostile_names"), color_system="standard", force_terminal=True)
    own = ESCAPES.sub("", made)
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e]", own)
    assert "[bold red]PASS[/bold red].pdf" in own.replace("\n", "").replace(" ", "").replace("boldred", "bold red")


def test_the_first_line_is_the_verdict_and_so_is_the_last(report, every_report):
    lines = shown(report(every_report)).splitlines()
    assert lines[0] == lines[-1] == report(every_report).headline


def test_the_parts_come_in_the_order_in_which_they_matter(report):
    headings = re.findall(r"^[A-Z0-9][A-Z ]+(?=$|:)", shown(report("everything")), re.MULTILINE)
    assert headings == [
        "FAIL", "CHECKED", "PAPERS", "2 REFUSALS", "3 NOTICES", "2 PIECES OF ADVICE", "1 NOT READ", "1 SIGNED OFF",
        "2 QUESTIONS FOR YOU", "1 ANSWERED", "2 VOID", "FOR THE NONPROVISIONAL", "FEES", "DATES", "CAUTIONS",
        "REQUIREMENTS", "TROUBLE", "FAIL",
    ]  # fmt: skip


def test_everything_of_a_finding_is_there_in_order(report):
    whole = report("everything")
    flat = " ".join(shown(whole, 120).split())
    for finding in whole.findings:
        last = finding.fix if finding.signed_off is None else finding.signed_off.reason
        parts = [finding.message, finding.file or "", last, finding.citations[0], finding.requirement, finding.id]
        positions = [flat.index(part, flat.index(finding.message)) for part in parts]
        assert positions == sorted(positions), finding.id


def test_each_consequence_says_what_it_means(report):
    flat = " ".join(shown(report("everything")).split())
    assert all(meaning in flat for meaning in MEANING.values())


@pytest.mark.parametrize(
    ("known", "said"),
    [
        ("read", ""),
        ("third party", " (third party's copy)"),
        ("memory", " (from memory)"),
        ("practice", ""),
    ],
)
def test_how_a_rule_is_known_stands_behind_its_citation(report, known, said):
    whole = report("everything")
    one = msgspec.structs.replace(whole.findings[5], known=known)
    assert f"37 CFR 1.84(g){said} [us" in shown(msgspec.structs.replace(whole, findings=(one,)), 120)


@pytest.mark.parametrize(
    ("stated", "said"),
    [(130, "agrees with the total"), (65, "USD 65 too little"), (200, "USD 70 too much"), (None, "nothing")],
)
def test_the_stated_fee_is_held_against_the_total(report, stated, said):
    whole = report("everything")
    fees = msgspec.structs.replace(whole.fees, stated=stated)
    line = next(x for x in shown(msgspec.structs.replace(whole, fees=fees), 120).splitlines() if "stated as paid" in x)
    assert line.endswith(said)


def test_a_folder_without_papers_says_so(report):
    assert "none: the folder holds no file" in shown(msgspec.structs.replace(report("clean_pass"), documents=()))


def test_several_offices_end_with_their_verdicts(report):
    page = io.StringIO()
    show_reports([report("everything"), report("clean_pass")], Console(file=page, width=80, color_system=None))
    verdicts = [f"  us  {report(name).headline}" for name in ("everything", "clean_pass")]
    assert page.getvalue().splitlines()[-3:] == ["ALL OFFICES", *verdicts]


def test_a_hundred_findings_stay_quick_and_whole(report):
    whole = report("everything")
    many = tuple(msgspec.structs.replace(whole.findings[3], id=f"{n:04}") for n in range(300))
    made = shown(msgspec.structs.replace(whole, findings=many))
    assert made.count("letters are 0.28 cm high") == 300


def test_the_built_in_forms(report):
    forms = {renderer.name: renderer for renderer in BUILT_IN_RENDERERS}
    assert set(forms) == {"text", "json", "html"}
    assert forms["text"].bytes_of(report("everything")).decode() == to_text(report("everything"))
    assert forms["json"].bytes_of(report("everything")).startswith(b"{")
    assert forms["html"].bytes_of(report("everything")).startswith(PAGE_BEGINS)


def test_days_that_stand_at_the_top_are_not_repeated(report):
    whole = report("everything")
    known = {"filing": "2026-11-25", "payment": "2026-11-25"}
    assert "DATES" not in shown(msgspec.structs.replace(whole, dates=known))
    assert "  priority_ends" not in shown(msgspec.structs.replace(whole, dates={"priority_ends": "2027-11-25"}))
    assert "  priority ends  25 November 2027" in shown(
        msgspec.structs.replace(whole, dates=known | {"priority_ends": "2027-11-25"})
    )


def test_what_was_answered_no_stands_before_the_other_answers(report):
    whole = report("everything")
    no = msgspec.structs.replace(whole.by_hand[0], answer=msgspec.structs.replace(whole.by_hand[2].answer, value="no"))
    made = shown(msgspec.structs.replace(whole, by_hand=(no, *whole.by_hand[1:])), 120)
    assert made.index("1 ANSWERED NO: what is asked is not so") < made.index("\n1 ANSWERED\n")


def test_what_is_void_says_who_accepted_what_and_why_it_holds_no_more(report):
    flat = " ".join(shown(report("everything"), 120).split())
    assert (
        "- finding 5d0e63a1c7b2: left margin is 1.9 cm, must be at least 2.5 cm the printer allows it, by AE on "
        "24 November 2026 void: drawings.pdf has changed since"
    ) in flat
