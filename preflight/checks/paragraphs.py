"""Numbers of paragraphs, where a text has them: one series, written as the office wants it."""

from __future__ import annotations

import re
from collections.abc import Iterator

import msgspec

from preflight.checks.api import Outcomes, Seen, Unread, check
from preflight.checks.series import Numbered, follow
from preflight.checks.specification import only_if_read, place
from preflight.papers import Filing
from preflight.papers.specification.paragraphs import Paragraph
from preflight.papers.specification.structure import Specification

LONG = 3
"""Numbers of fewer digits may be those of a list of literature. House value."""
_LEADS_TO = re.compile(r"(?:\b(?:paragraphs?|paras?\.?|and|or|to|through|in|see|of|from)|[,\u00b6-])$", re.IGNORECASE)
"""Behind such words at the end of a line the number at the beginning of the next one is spoken of."""


class Digits(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The least number of digits of a paragraph number."""

    digits: int


@check("paragraph-numbers", of=Filing, takes=Digits, sorts=("gap", "repeat", "order", "form"), says=("expected",))
def paragraph_numbers(filing: Filing, limit: Digits) -> Outcomes:
    """Follow the numbers in brackets at the beginning of paragraphs; one that begins with 1 again is a new series."""
    found = yield from only_if_read(filing)
    if found is None:
        return
    series = list(_series(found))
    for run in series:
        yield from _followed(run)
    short = [paragraph for run in series for paragraph in run if len(paragraph.number) < limit.digits]
    if short:
        first, *others = (place(paragraph.passage.spot) for paragraph in short)
        number = short[0].number
        wanted = f"[{int(number):0{limit.digits}d}]"
        yield Seen(
            what="paragraph numbers",
            held=False,
            measured=f"[{number}]",
            sort="form",
            at=first,
            also=tuple(others),
            words={"expected": wanted},
        )


def _series(found: Specification) -> Iterator[list[Paragraph]]:
    """The numbered paragraphs; a lone one is no series."""
    every = [p for section in found.sections if section.part != "claims" for p in section.paragraphs if not p.heading]
    long = any(len(paragraph.number) >= LONG for paragraph in every)
    if not every or not (long or every[0].number):
        return  # numbers that begin later are those of a list of literature
    run: list[Paragraph] = []
    for before, paragraph in zip([None, *every], every, strict=False):
        if not paragraph.number or (long and len(paragraph.number) < LONG):
            continue
        spoken_of = before is not None and _LEADS_TO.search(before.text.rstrip())
        if spoken_of and run and int(paragraph.number) != int(run[-1].number) + 1:
            continue
        if int(paragraph.number) == 1 and len(run) > 1:
            yield run
            run = []
        run.append(paragraph)
    if len(run) > 1:
        yield run


def _followed(run: list[Paragraph]) -> Iterator[Seen | Unread]:
    """In the words of the paper: "[0007]" where "[0006]" must stand."""
    wide = len(run[0].number)
    numbered = [Numbered(place(paragraph.passage.spot), int(paragraph.number)) for paragraph in run]
    for seen in follow("paragraph number", numbered, 1):
        if isinstance(seen, Unread):
            continue
        expected = f"[{int(seen.words['expected']):0{wide}d}]"
        measured = f"[{int(seen.measured):0{wide}d}]"
        yield msgspec.structs.replace(seen, measured=measured, words={"expected": expected})
