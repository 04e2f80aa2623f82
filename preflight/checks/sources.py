"""A word processor's file beside the PDF that was made from it."""

from __future__ import annotations

from preflight.checks.api import NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.places import of_paper
from preflight.papers import Filing
from preflight.papers.sources.belonging import Sourced, sourced
from preflight.papers.sources.comparing import Difference

SHOWN = 3
"""Differences that a message shows side by side."""


@check("source-agrees", of=Filing, takes=NoLimits, sorts=("later",), says=("source", "shown"))
def source_agrees(filing: Filing, _: NoLimits) -> Outcomes:
    """Compare the text papers with the word processor's file that they were made from, by their words.

    Left out is what exporting changes: automatic numbers, headers, notes, fields, formulas, order of cells.
    """
    for file in filing.files:
        if file.source and file.source.unread:
            yield Unread(why=file.source.unread, at=Place(file=file.name))
    for one in sourced(filing):
        for paper, page, why in one.unread:
            yield Unread(why=why, at=Place(file=paper.file, page=page.number, role=paper.role))
        if not one.unread:
            yield _seen(one)


def _seen(one: Sourced) -> Seen:
    first = one.papers[0]
    places = [Place(d.spot.file, d.spot.page, d.spot.box, d.spot.role) for d in one.differences]
    number = len(places)
    return Seen(
        what=first.file,
        held=not places,
        measured=f"{number} paragraph{'s' if number != 1 else ''}" if places else "the same words",
        sort="later" if one.later else "",
        at=places[0] if places else of_paper(first),
        also=(*places[1:], Place(file=one.source.name)) if places else (),
        words={"source": one.source.name, "shown": "; ".join(map(_side_by_side, one.differences[:SHOWN]))},
    )


def _side_by_side(one: Difference) -> str:
    return f'"{one.printed}" in the PDF, "{one.written}" in the file'
