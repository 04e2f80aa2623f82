"""What only some forms keep: parts enclosed, further sheets of inventors, blocks of benefit and priority, headings."""

from __future__ import annotations

import re
from collections.abc import Iterator

import msgspec

from preflight.papers.forms.cover_sheets import Count
from preflight.papers.forms.form_words import EARLIER
from preflight.papers.forms.inventors import inventors
from preflight.papers.forms.labels import said, values_at
from preflight.papers.forms.letters import sentences
from preflight.papers.forms.ticks import Choice, choices
from preflight.papers.model import Paper, Said
from preflight.papers.words.lettering import flat, keyed, rows
from preflight.papers.words.printed import lines_on

_FURTHER = re.compile(
    r"\badditional inventors?\b.{0,80}?\b(\d{1,2})\b.{0,40}?\bsheets?\b|\b(\d{1,2}) (?:separately numbered )?sheets? of"
    r" (?:additional|further) inventors\b",
    re.IGNORECASE,
)
PARTS = {
    "drawings": r"^drawings?\b(?! of)",
    "specification": r"^(?:specification|description)\b",
    "application-data-sheet": r"^application data sheet\b",
}
"""The papers that a form may list as enclosed, by role, as folded words behind a tick box."""

_NUMBER = r"(?:\d{2}/\d{3},?\d{3}|PCT/[A-Z]{2}\d{2,4}/\d{5,6}|(?<!\d)\d{8}(?!\d))"
_WITHIN = r"(?:[^.;]|(?<=\b[A-Z])\.|(?<=\b(?:No|Sr))\.|(?<=\b(?:Nos|Ser|Pat))\.|(?<=\bAppl)\.)"
"""Anything in one sentence: the point of "U.S." or "Appl. Ser. No." ends none."""
_CLAIMS = re.compile(
    rf"\b(?:claims?|claiming|claimed|entitled to)\b{_WITHIN}{{0,40}}?\b(?:benefit|priority)\b"
    rf"{_WITHIN}{{0,90}}?{_NUMBER}"
    rf"|\b(?:continuation(?:-in-part)?|divisional|division) of\b{_WITHIN}{{0,90}}?{_NUMBER}",
    re.IGNORECASE,
)
_NONE = re.compile(r"^(?:none|no|n a|not applicable|nil|0)?$")


class Part(msgspec.Struct, frozen=True):
    """A paper that a form lists, by its role, and whether it is ticked as enclosed."""

    role: str
    choice: Choice


def enclosed(paper: Paper) -> tuple[Part, ...]:
    """The parts whose boxes can be told; empty where the form lists none."""
    found = choices(paper, PARTS)
    return tuple(Part(role, choice) for role, choice in found.items() if choice.tick in ("ticked", "empty"))


def further_sheets(paper: Paper) -> Count | None:
    """How many sheets of additional inventors the form says there are; None where it says nothing."""
    for page in paper.pages:
        for row in rows(lines_on(paper, page)):
            found = _FURTHER.search(row.text)
            if found:
                number = int(next(group for group in found.groups() if group))
                return Count(number, Said(row.text, paper.file, paper.role, page.number, row.box))
    return None


def sheets_of_inventors(paper: Paper) -> int:
    """How many pages after the first name inventors."""
    each = (msgspec.structs.replace(paper, pages=(page,), fields=_on(paper, page.number)) for page in paper.pages[1:])
    return sum(bool(inventors(one)) for one in each)


def _on(paper: Paper, number: int) -> tuple:  # type: ignore[type-arg]
    return tuple(field for field in paper.fields if field.page == number)


def benefit_said(paper: Paper) -> Iterator[Said]:
    """Each place where a form or letter claims the benefit or the priority of an application that it names."""
    for value in values_at(paper, EARLIER):
        if any(c.isdigit() for c in value.text) and not _NONE.match(keyed(value.text)):
            place = said(paper, value)
            if place:
                yield place
    text = sentences(paper)
    for found in _CLAIMS.finditer(text.text) if text else ():
        if text and not re.search(r"\b(?:no|not|may|later|will)\b", text.row_before(found.start()), re.IGNORECASE):
            yield text.place(found.start(), flat(found.group(0)))


def headings_missing(paper: Paper, wanted: tuple[str, ...]) -> tuple[str, ...]:
    """Which of these words head no row and no line of the paper."""
    heads = [keyed(line.text) for page in paper.pages for line in lines_on(paper, page)]
    return tuple(words for words in wanted if not any(re.search(rf"\b{keyed(words)}\b", head) for head in heads))
