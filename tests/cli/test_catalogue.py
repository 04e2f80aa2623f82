"""`preflight requirements` and `preflight explain`."""

from __future__ import annotations

import datetime as dt

import pytest

from preflight.rulebooks import Citation, Extension, Requirement, extended


def test_every_requirement_is_listed_with_what_is_known_of_it(run):
    result = run("requirements")
    assert result.exit_code == 0
    assert result.stdout.splitlines()[:5] == [
        "US provisional application, edition of 25 November 2026",
        "3 requirements; consequence for the filing / for the examination",
        "",
        "us.drawing.margins  measured, refusal / refusal",
        "  Margins of drawing sheets",
    ]
    assert "  37 CFR 1.84(g), read 25 November 2026" in result.stdout
    assert "  Legal Framework 2025 (third party's copy), seen 13 August 2026" in result.stdout
    assert "  37 CFR 1.821 (from memory)" in result.stdout


@pytest.mark.parametrize(
    ("state", "names"),
    [
        ("measured", ["us.drawing.margins"]),
        ("by hand", ["us.sign.cover"]),
        ("not measured", ["us.text.sequence"]),
    ],
)
def test_those_that_are_dealt_with_in_one_way(run, state, names):
    shown = run("requirements", "--state", state).stdout.splitlines()
    assert [line.split()[0] for line in shown if line.startswith("us.")] == names
    assert "1 requirement;" in shown[1]


def test_an_office_without_a_rulebook_is_2_and_the_known_are_named(run):
    result = run("requirements", "--office", "moon")
    assert result.exit_code == 2
    assert 'there is no rulebook for office "moon"; known: us and jp' in result.stderr


def test_a_measured_requirement_in_full(run):
    shown = run("explain", "us.drawing.margins").stdout
    assert shown.splitlines()[:2] == ["Margins of drawing sheets", "-------------------------"]
    flat = " ".join(shown.split())
    for part in (
        "id us.drawing.margins",
        "why Ink in the margin can be lost",
        "applies to drawings",
        "measured Measure the white on each side of every page. (check margins)",
        "limits top 2.5; bottom 0.95; allow 0.05; sizes 21 x 29.7, 21.6 x 27.9; both sides yes",
        "if missed advice: good practice; it can be filed as it is (for the examination: notice)",
        "below 0.5: notice (for the examination: notice)",
        "cut off: refusal (for the examination: refusal)",
        "fix move the drawing until it lies inside the margins",
        "source 37 CFR 1.84(g), read 25 November 2026",
        "figures that stand there: 2.5, 3/8 in",
        "bottom follows from them: 3/8 in = 0.9525",
        "allow is ours: measuring tolerance",
        "yields to us.pdf.page-size: one defect is reported once",
    ):
        assert part in flat


def test_a_question_and_what_waits_are_told_as_such(run):
    asked = " ".join(run("explain", "us.sign.cover").stdout.split())
    assert "by hand is the signature that of the person named beside it? (question signature)" in asked
    waiting = " ".join(run("explain", "us.text.sequence").stdout.split())
    assert "not measured this version has no check for it; it waits for other kinds of file" in waiting
    assert "if missed nothing follows (for the examination: notice)" in waiting
    assert "in force from 1 July 2022 until 1 January 2030" in waiting


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ("us.drawing.margin", 'requirement "us.drawing.margin" is unknown; did you mean "us.drawing.margins"?'),
        ("xyz", 'requirement "xyz" is unknown; preflight requirements lists all of them'),
    ],
)
def test_an_unknown_name_is_2_with_the_nearest_known(run, asked, said):
    result = run("explain", asked)
    assert result.exit_code == 2
    assert result.stderr == f"{said}\n"
    assert result.stdout == ""


def test_notes_are_a_list_of_their_own(run):
    shown = run("requirements", "--notes").stdout.splitlines()
    assert shown[:7] == [
        "US provisional application, edition of 25 November 2026",
        "1 note: rules from which nothing follows in the folder",
        "",
        "us.text.linenumbers  proper",
        "  Line numbers",
        "  Legal Framework 2025 (third party's copy), seen 13 August 2026",
        "  No rule asks for line numbers and none forbids them.",
    ]
    assert "us.text.linenumbers" not in run("requirements").stdout


def test_notes_have_no_state(run):
    result = run("requirements", "--notes", "--state", "measured")
    assert result.exit_code == 2
    assert "leave --state out" in result.stderr


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("us.text.linenumbers", "note proper No rule asks for line numbers"),
        ("us.text.line-numbers", "id us.text.linenumbers also us.text.line-numbers"),
        ("signature", "covers us.sign.cover: Cover sheet signed"),
    ],
)
def test_notes_questions_and_other_names_are_explained_too(run, name, said):
    assert said in " ".join(run("explain", name).stdout.split())


def test_what_a_house_adds_is_told_apart_from_the_law(run, registry):
    key = ("us", "provisional")
    practice = Citation(source="house rules, 1", known="practice")
    rule = Requirement("house.gloves", "Gloves", "notice", "notice", "They get lost.", (practice,), check="margins")
    house = Extension("house", "us.provisional", "House rules", dt.date(2026, 11, 2), (rule,), plugin="firm 1.0")
    registry.rulebooks[key] = extended(registry.rulebooks[key], house)
    listed = run("requirements").stdout
    assert "\nwith house: House rules, edition of 2 November 2026, plug-in firm 1.0\n" in listed
    assert "\nhouse.gloves  measured, notice / notice (added by house)\n" in listed
    assert listed.count("added by") == 1
    told = " ".join(run("explain", "house.gloves").stdout.split())
    assert "added by house: House rules, edition of 2 November 2026, plug-in firm 1.0" in told
    assert "added by" not in run("explain", "us.sign.cover").stdout
