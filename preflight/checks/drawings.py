"""What stands on the drawing sheets: colour, photographs; and whether there are drawings at all."""

from __future__ import annotations

import re

import msgspec

from preflight.checks.api import Measured, NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.presence import might_be
from preflight.papers import Filing, Paper

FIGURE = re.compile(
    r"\bFIG(?:URE|S)?\b\.?\s*\d+[A-Z]?\b"
    r"(?!\s+(?:of|in)\s+(?:the\s+)?(?:U\.?\s?S|EP|WO|JP|DE|GB|CN|patent|publication|application))",
    re.IGNORECASE,
)
"""A figure named with its number, unless it is one of a cited document."""


class Colour(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The greatest share of the sheet's area, in per cent."""

    most: float


@check("colour", of=Paper, takes=Colour)
def colour(paper: Paper, limit: Colour) -> Outcomes:
    """Measure the share of each sheet that is coloured."""
    for page in paper.pages:
        at = Place(page=page.number, box=page.colour.box)
        if page.unread:
            yield Unread(why=page.unread, at=at)
        elif page.ink:
            yield Measured(what="coloured area", value=page.colour.share * 100, unit="%", most=limit.most, at=at)


class Photograph(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The greatest share of the sheet in per cent, and how many grey levels make continuous tone."""

    most: float
    levels: int


@check("photograph", of=Paper, takes=Photograph, says=("kind",))
def photograph(paper: Paper, limit: Photograph) -> Outcomes:
    """Measure the share of each sheet that is filled with continuous tone, as a photograph is."""
    for page in paper.pages:
        at = Place(page=page.number, box=page.tone.box)
        if page.unread:
            yield Unread(why=page.unread, at=at)
        elif page.ink:
            tonal = page.tone.levels > limit.levels
            coloured = page.colour.share > page.tone.share / 2
            yield Measured(
                what="area of continuous tone",
                value=page.tone.share * 100 if tonal else 0.0,
                unit="%",
                most=limit.most,
                at=at,
                words={"kind": "colour photograph or rendering" if coloured else "photograph or grey rendering"},
            )


@check("figures-without-drawings", of=Filing, takes=NoLimits, acquits_scans=True)
def figures_without_drawings(filing: Filing, _: NoLimits) -> Outcomes:
    """See whether the specification names figures though no drawings are in the folder."""
    named = [
        Place(file=paper.file, page=page.number, box=line.box, role=paper.role)
        for paper in filing.with_role("specification")
        for page in paper.pages
        for line in page.lines
        if line.visible and FIGURE.search(line.text)
    ]
    if not named:
        return
    if filing.with_role("drawings"):
        yield Seen(what="drawings", held=True, measured="there", at=named[0])
    elif unsure := might_be(filing):
        yield from unsure
    else:
        yield Seen(what="drawings", held=False, measured="none in the folder", at=named[0])
