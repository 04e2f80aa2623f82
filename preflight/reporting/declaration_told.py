"""A proposal as the text of a filing.toml: each line with where it was read, each doubt as a remark."""

from __future__ import annotations

import datetime as dt
import textwrap
from collections.abc import Iterator

from preflight.datafiles import quoted
from preflight.papers import FilePaper, Proposal, Proposed
from preflight.reporting.wording import clean, day, listed, pages, role

WIDTH = 100
"""Characters of a line of remarks."""


def declaration(proposal: Proposal, today: dt.date) -> str:
    """TOML that declares what is proposed; `today` is the day of the proposal."""
    head = (
        f"Proposed on {day(today)} from what the papers in this folder say. Read each line, correct what is wrong, and"
        " keep it as filing.toml beside the papers. A line that begins with # counts for nothing. The entity is a"
        " statement about the applicant that sets the fee: only you know whether it is true."
    )
    lines = [
        *_remark(head),
        "",
        *(line for value in proposal.values for line in _value(value)),
        "",
        "# Which file is which paper. What stands here beats what a file looks like.",
        "[papers]",
        *(line for file in proposal.files for line in _file(file)),
        *_remark(f"Papers that can be named: {listed(proposal.roles)}."),
    ]
    return "\n".join(lines) + "\n"


def _remark(text: str) -> Iterator[str]:
    return (f"# {line}" for line in textwrap.wrap(text, WIDTH, break_on_hyphens=False))


def _seen(text: str) -> str:
    """For a remark: made harmless, and every kind of blank a plain one."""
    return " ".join(clean(text).split())


def _value(one: Proposed) -> Iterator[str]:
    if not one.value:
        yield f"# {one.key} = {'[]' if isinstance(one.value, tuple) else _quoted('')}  # {_seen(one.known)}"
    elif isinstance(one.value, str):
        yield f"{one.key} = {_quoted(one.value)}  # {_seen(one.known)}"
    else:
        yield f"{one.key} = [{', '.join(map(_quoted, one.value))}]  # {_seen(one.known)}"
    for other in one.others:
        yield f"# but {_seen(other.where)} says: {_seen(other.said)}"


def _file(one: FilePaper) -> Iterator[str]:
    name = _quoted(one.file)
    if not one.papers:
        yield f'# {name} = ""  # what it is could not be told'
    elif len(one.papers) == 1:
        yield f"{name} = {_quoted(one.papers[0].role)}  # {_seen(one.papers[0].how_known)}"
    else:
        held = [f"{role(paper.role)} ({pages(range(paper.first_page, paper.last_page + 1))})" for paper in one.papers]
        yield f"# {name} holds {listed(held)}: a file with several papers needs no line"


def _quoted(text: str) -> str:
    return quoted(text, lambda character: character.isprintable() and clean(character) == character)
