"""House requirements: they stand beside the law, cannot change it, and whatever is wrong with them stops nothing."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from msgspec.json import decode

from preflight.checks import AnyCheck, NoLimits, Outcomes, Seen, check
from preflight.datafiles import DataMistakes, schema
from preflight.engine import Request, check_folder
from preflight.papers import Filing
from preflight.plugging import Plugin, Registry, built_in, built_in_and_installed, hookimpl, registry_of
from preflight.reporting import Report
from preflight.reporting.machine import to_json
from preflight.reporting.renderer import to_text

pytestmark = pytest.mark.plugin

NOW = dt.datetime(2026, 11, 25, 23, 40, tzinfo=dt.UTC)
US = ("us", "provisional")
HEAD = '[rulebook]\nid = "house-rules"\nextends = "us-provisional"\ntitle = "House rules"\nedition = 2026-11-02\n'
RULE = """
[[requirement]]
id = "house.glove-box"
title = "Glove box"
check = "glove-box"
filing = "notice"
examination = "notice"
why = "Gloves get lost."
message = "{what} is {measured}, must be {required}"
fix = "empty the glove box"
citations = [{ source = "house rules, 1", known = "practice" }]
"""
ASKED = """
[[requirement]]
id = "house.second-look"
title = "Second look"
asked_in = "second-look"
filing = "notice"
examination = "notice"
why = "Two see more than one."
citations = [{ source = "house rules, 2", known = "practice" }]

[[question]]
id = "second-look"
text = "Did a second person look at it?"

[[note]]
id = "house.tea"
title = "Tea"
about = "proper"
text = "Tea may stand on the desk."
citations = [{ source = "house rules, 3", known = "practice" }]
"""


@check("glove-box", of=Filing, takes=NoLimits)
def glove_box(_filing: Filing, _: NoLimits) -> Outcomes:
    """Look into the glove box."""
    yield Seen(what="glove box", held=False, measured="full", required="empty")


@check("glove-box", of=Filing, takes=NoLimits)
def jammed(_filing: Filing, _: NoLimits) -> Outcomes:
    """Fail half way."""
    yield Seen(what="glove box", held=True)
    raise RuntimeError("it is\njammed")


def house(folder: Path, text: str | bytes | None, *, of: AnyCheck = glove_box, name: str = "firm") -> Plugin:
    """A plug-in with one check and, in `folder`, one data file or none."""
    folder.mkdir(exist_ok=True)
    if text is not None:
        (folder / "house.toml").write_bytes(text.encode() if isinstance(text, str) else text)
    module: Any = ModuleType(name)
    checks: Iterable[AnyCheck] = (of,) if name == "firm" else ()
    module.preflight_checks = hookimpl(lambda: checks)
    module.preflight_rulebooks = hookimpl(lambda: (folder,))
    return Plugin(name, "1.0", module)


def with_house(folder: Path, text: str | bytes | None, **more: Any) -> Registry:
    return registry_of([*built_in(), house(folder / "rules", text, **more)])


def trouble(registry: Registry) -> str:
    (line,) = [p.trouble for p in registry.plugins if p.trouble]
    return line


def checked(tmp_path: Path, registry: Registry) -> Report:
    folder = tmp_path / "papers"
    folder.mkdir()
    (folder / "notes.txt").write_text("nothing of weight")
    return check_folder(folder, Request(), now=NOW, registry=registry)


def test_house_requirements_are_judged_with_the_law_and_named_in_every_output(tmp_path: Path) -> None:
    registry = with_house(tmp_path, HEAD + RULE + ASKED)
    report = checked(tmp_path, registry)
    (finding,) = [f for f in report.findings if f.requirement.startswith("house.")]
    assert (finding.message, finding.known) == ("glove box is full, must be empty", "practice")
    assert report.by_hand[-1].covers == ("house.second-look",)
    (extension,) = report.rulebook.extensions
    assert (extension.id, extension.edition, extension.plugin) == ("house-rules", dt.date(2026, 11, 2), "firm 1.0")
    assert len(extension.sha256) == 64
    Draft202012Validator(schema("report")).validate(decode(to_json(report)))
    assert "and          House rules, edition of 2 November 2026 (plug-in firm 1.0)" in to_text(report)


def test_the_law_stays_as_it_is_and_first(tmp_path: Path) -> None:
    law = registry_of(built_in()).rulebooks[US]
    book = with_house(tmp_path, HEAD + RULE + ASKED).rulebooks[US]
    assert book.requirements[: len(law.requirements)] == law.requirements
    assert [r.id for r in book.requirements[len(law.requirements) :]] == ["house.glove-box", "house.second-look"]
    assert [n.id for n in book.notes[len(law.notes) :]] == ["house.tea"]
    assert (book.sha256, book.edition, book.id) == (law.sha256, law.edition, law.id)
    assert book.added_by("us.text.title") is None
    assert all(book.added_by(name) == book.extensions[0] for name in ("house.glove-box", "second-look", "house.tea"))


def test_a_house_requirement_may_yield_to_the_law_but_not_the_other_way_round(tmp_path: Path) -> None:
    yielding = RULE.replace('fix = "empty', 'yields_to = ["us.folder.other-files"]\nfix = "empty')
    registry = with_house(tmp_path, HEAD + yielding)
    assert [p.trouble for p in registry.plugins if p.trouble] == []
    assert registry.rulebooks[US].requirements[-1].yields_to == ("us.folder.other-files",)


def edit(old: str, new: str) -> str:
    whole = HEAD + RULE + ASKED
    assert old in whole
    return whole.replace(old, new, 1)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (edit("us-provisional", "us-provisonal"), 'extends "us-provisonal", which is unknown; did you mean "us-prov'),
        (edit("house.glove-box", "us.text.title"), '"us.text.title" is already taken by us-provisional'),
        (edit("house.glove-box", "us.house.gloves"), 'names that begin with "us." are the rulebook\'s own'),
        (edit('id = "second-look"', 'id = "two-eyes"'), '"two-eyes" is already taken by us-provisional'),
        (edit("[[note]]", '[[note]]\nalso = ["us.text.title"]'), '"us.text.title" is already taken'),
        (edit('check = "glove-box"', 'check = "glove-bix"'), 'check "glove-bix" is unknown; did you mean "glove-box"?'),
        (edit('asked_in = "second-look"', 'asked_in = "two-eyes"'), 'question "two-eyes" is unknown'),
        (edit('filing = "notice"', 'filing = "refusal"'), "house.glove-box: a house can give notice at most"),
        (
            edit('known = "practice"', 'known = "read"'),
            'house.glove-box: citations: what a house asks for is known = "',
        ),
        (edit("{measured}", "{mesured}"), '"{mesured}" is unknown to check "glove-box"'),
        (edit('why = "Gloves', 'wy = "Gloves'), '"wy" is unknown; did you mean "why"?'),
        (edit('extends = "us', 'office = "us"\nextends = "us'), 'rulebook: "office" is unknown'),
        (edit("extends", "extend"), '"extend" is unknown; did you mean "extends"?'),
        (edit("2026-11-02", '"2026-99-02"'), "rules could not be read (ValidationError: Invalid"),
        (edit("[[requirement]]", "[[requirement"), "rules/house.toml: Expected"),
        (edit("id = ", "id = \x00"), "rules/house.toml: "),
        ((HEAD + RULE).encode("utf-16"), "rules/house.toml: "),
        (HEAD + '[[fee]]\nid = "tea"\n', '"fee" is unknown'),
        (HEAD, "it holds no requirement and no note"),
        ("", "rules: no file has a [rulebook] table"),
        (None, "rules: no file has a [rulebook] table"),
    ],
)
def test_a_mistake_in_an_extension_is_trouble_of_its_plug_in_and_the_law_still_judges(
    tmp_path: Path, text: str | bytes | None, said: str
) -> None:
    law = registry_of(built_in()).rulebooks
    registry = with_house(tmp_path, text)
    assert said in trouble(registry)
    assert registry.rulebooks == law


def test_trouble_is_named_in_the_report_and_never_passes(tmp_path: Path) -> None:
    report = checked(tmp_path, with_house(tmp_path, edit("house.glove-box", "us.text.title")))
    (finding,) = [f for f in report.findings if f.requirement == "preflight.plug-ins"]
    assert finding.message == (
        'not read: plug-in firm 1.0: rules/house.toml: "us.text.title" is already taken by us-provisional'
    )
    assert (finding.state, finding.consequence, report.verdict) == ("unread", "notice", "fail")
    assert report.rulebook.extensions == ()


def test_two_houses_that_claim_one_name_are_told_apart(tmp_path: Path) -> None:
    first = house(tmp_path / "one", HEAD + RULE)
    second = house(tmp_path / "two", HEAD.replace("house-rules", "more-rules") + RULE, name="second")
    third = house(tmp_path / "three", HEAD + ASKED, name="third")
    registry = registry_of([*built_in(), first, second, third])
    assert [p.trouble for p in registry.plugins[-3:]] == [
        None,
        'two/house.toml: "house.glove-box" is already taken by extension house-rules',
        'three: extension "house-rules" of us-provisional is there already',
    ]


def test_a_check_that_throws_makes_its_house_requirement_unread_and_is_named(tmp_path: Path) -> None:
    report = checked(tmp_path, with_house(tmp_path, HEAD + RULE, of=jammed))
    (row,) = [r for r in report.requirements if r.id == "house.glove-box"]
    assert row.state == "unread"
    (finding,) = [f for f in report.findings if "house.glove-box" in f.covers]
    assert finding.message == 'not read: check "glove-box" of firm failed (RuntimeError: it is jammed)'
    assert report.verdict == "fail"


def test_an_extension_of_a_plug_in_that_cannot_be_imported_is_not_there_and_the_plug_in_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    module = tmp_path / "firm_that_fails.py"
    module.write_text("import a_library_that_is_not_there\n")
    info = tmp_path / "firm_that_fails-2.5.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: firm-that-fails\nVersion: 2.5\n")
    (info / "entry_points.txt").write_text("[preflight]\nfirm-that-fails = firm_that_fails\n")
    monkeypatch.syspath_prepend(tmp_path)
    named = {p.name: p for p in built_in_and_installed().plugins}["firm-that-fails"]
    assert named.version == "2.5"
    assert named.trouble == (
        "it could not be loaded (ModuleNotFoundError: No module named 'a_library_that_is_not_there')"
    )


def test_a_broken_rulebook_of_the_law_is_told_with_the_troubles_and_stops(tmp_path: Path) -> None:
    broken = house(tmp_path / "law", HEAD.replace("extends", "office") + "[[requirement\n", name="law")
    with pytest.raises(DataMistakes, match=r"law/house.toml: Expected"):
        registry_of([*built_in(), broken])


def test_without_the_law_an_extension_is_nothing(tmp_path: Path) -> None:
    registry = registry_of([house(tmp_path / "rules", HEAD + RULE)])
    assert registry.rulebooks == {}
    assert "which is unknown" in trouble(registry)
