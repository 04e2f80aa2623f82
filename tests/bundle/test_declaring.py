"""Sign-offs and answers written into filing.toml: a person's file, of which nothing else may change."""

from __future__ import annotations

import datetime as dt
import re
import tomllib
from typing import Any

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from preflight.bundle import with_entry, without_entry
from preflight.datafiles import DataMistakes
from preflight.facts.declared import Answer, SignOff

DAY = dt.date(2026, 11, 26)
OWN = """\
# The garden hose case: look at the second inventor again.
entity = "micro"          # form is signed
fee_paid = 65

[papers]                  # which file is which paper
"scan 0012.pdf" = "drawings"   # sheets 1 to 3

"""
WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
ENTRIES = st.one_of(
    st.builds(
        SignOff,
        finding=st.from_regex(r"[0-9a-f]{12}", fullmatch=True),
        by=WORDS,
        on=st.dates(),
        reason=WORDS,
        requirement=WORDS,
        message=WORDS,
        files=st.dictionaries(WORDS, WORDS, max_size=3),
    ),
    st.builds(
        Answer,
        question=st.from_regex(r"[a-z]{1,8}", fullmatch=True),
        value=st.sampled_from(["yes", "no", "does not apply"]),
        by=WORDS,
        on=st.dates(),
        note=WORDS,
        files=st.dictionaries(WORDS, WORDS, max_size=3),
    ),
)


def key(entry: SignOff | Answer) -> str:
    return entry.finding if isinstance(entry, SignOff) else entry.question


def held(text: str) -> set[SignOff | Answer]:
    data = tomllib.loads(text.removeprefix("\ufeff"))
    entries = [msgspec.convert(one, SignOff) for one in data.get("signed_off", [])]
    return {_hashable(e) for e in [*entries, *(msgspec.convert(one, Answer) for one in data.get("answers", []))]}


def _hashable(entry: Any) -> Any:
    return tuple(sorted((k, str(v)) for k, v in msgspec.structs.asdict(entry).items()))


@settings(deadline=None, max_examples=50)
@given(st.lists(ENTRIES, min_size=1, max_size=5), st.sampled_from(["", OWN, OWN.replace("\n", "\r\n"), "\ufeff" + OWN]))
def test_what_is_written_is_read_again_and_every_line_of_the_person_stays(entries, own):
    text = own
    for entry in entries:
        text = with_entry(text, entry)
    last = {(type(entry), key(entry)): entry for entry in entries}
    assert held(text) == {_hashable(entry) for entry in last.values()}
    assert text.startswith(own.rstrip())
    for of, name in last:
        text = without_entry(text, name) if of is SignOff or (SignOff, name) not in last else text
    assert text.rstrip() == own.rstrip()


def test_entries_stand_in_the_order_in_which_they_were_made_and_a_newer_one_takes_the_place():
    first = SignOff("a" * 12, "AE", DAY, "looked at it")
    text = with_entry(with_entry(OWN, first), SignOff("b" * 12, "AE", DAY, "and at this"))
    text = with_entry(text, SignOff("a" * 12, "PR", DAY, "looked again"))
    entries = tomllib.loads(text)["signed_off"]
    assert [(one["finding"], one["by"]) for one in entries] == [("b" * 12, "AE"), ("a" * 12, "PR")]


def test_it_is_laid_out_for_people():
    entry = SignOff("a" * 12, "AE", DAY, 'it is "fine"', "us.x", "left margin", {"a b.pdf": "0" * 64})
    assert with_entry("entity = 'micro'\n", entry) == (
        "entity = 'micro'\n\n[[signed_off]]\n"
        f'finding = "{"a" * 12}"\nby = "AE"\non = 2026-11-26\nreason = "it is \\"fine\\""\nrequirement = "us.x"\n'
        f'message = "left margin"\nfiles = {{"a b.pdf" = "{"0" * 64}"}}\n'
    )
    assert with_entry("", entry).startswith("[[signed_off]]\n")


@pytest.mark.hostile
@settings(deadline=None, max_examples=50)
@given(ENTRIES)
def test_what_is_written_steers_no_editor(entry):
    assert all(character == "\n" or character.isprintable() for character in with_entry(OWN, entry))


@settings(deadline=None, max_examples=50)
@given(st.lists(ENTRIES, min_size=1, max_size=5), st.sampled_from(["", OWN, "entity = 'micro'", OWN + "\n\n"]))
def test_one_blank_line_stands_before_each_entry(entries, own):
    text = own
    for entry in entries:
        text = with_entry(text, entry)
    before = re.split(r"^\[\[(?:signed_off|answers)\]\]$", text, flags=re.MULTILINE)[:-1]
    assert all(re.search(r"\S\n\n$", part) or not part for part in before), text


def test_a_comment_stays_on_its_entry_and_what_is_quoted_is_no_entry():
    own = f'# hers\n[[signed_off]]\nfinding = "{"c" * 12}"\nby = "PR"\non = 2026-11-25\nreason = "x"\n'
    own += 'message = """a\n[[answers]]"""\n'
    assert with_entry(own, SignOff("a" * 12, "AE", DAY, "y")).startswith(own)


def test_a_list_in_brackets_is_continued():
    own = f'signed_off = [{{finding = "{"c" * 12}", by = "PR", on = 2026-11-25, reason = "x"}}] # hers\n[papers]\n'
    text = with_entry(own, SignOff("a" * 12, "AE", DAY, "y"))
    assert [one["finding"] for one in tomllib.loads(text)["signed_off"]] == ["c" * 12, "a" * 12]
    assert "# hers" in text


def test_what_is_not_there_cannot_be_withdrawn():
    with pytest.raises(KeyError):
        without_entry(OWN, "a" * 12)


def test_what_cannot_be_written_without_a_change_elsewhere_is_not_written(monkeypatch):
    monkeypatch.setattr("tomlkit.dumps", lambda _: "entity = 'small'\n")
    with pytest.raises(DataMistakes, match="could not be written without a change elsewhere"):
        with_entry(OWN, SignOff("a" * 12, "AE", DAY, "y"))
