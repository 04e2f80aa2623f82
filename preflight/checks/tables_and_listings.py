"""Tables, formulas and program listings among the text: size of type, length, place."""

from __future__ import annotations

import msgspec

from preflight.checks.api import Measured, Outcomes, Place, Seen, Unread, check
from preflight.checks.places import of_paper
from preflight.checks.typesetting import Size, unread_pages
from preflight.papers import Filing, Listing, Paper, listings, smallest_in_tables, table_pages


@check("table-type-size", of=Paper, takes=Size)
def table_type_size(paper: Paper, limit: Size) -> Outcomes:
    """Measure the smallest type in the tables and the displayed formulas of each page."""
    for number, why in unread_pages(paper).items():
        yield Unread(why=why, at=Place(page=number))
    for small in smallest_in_tables(paper):
        at = Place(page=small.page, box=small.line.box)
        yield Measured(what=small.what, value=small.line.size, unit="pt", least=limit.least, slack=0.05, at=at)


class Long(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The most pages that one table, and that all of the filing together, may fill."""

    one: int
    all: int


@check("table-pages", of=Filing, takes=Long, sorts=("all",))
def table_pages_in_all(filing: Filing, limit: Long) -> Outcomes:
    """Count the pages that tables fill. Papers too short to hold so many are not looked at."""
    text = [paper for paper in filing.papers if paper.kind == "text" and len(paper.pages) > limit.one]
    runs = [(paper, run) for paper in text for run in table_pages(paper)]
    for paper in text:
        if why := paper.text_unread:
            yield Unread(why=why, at=of_paper(paper))
    for paper, run in runs:
        at = Place(file=paper.file, page=run[0], role=paper.role)
        yield Measured(what="table", value=len(run), unit="pages", most=limit.one, at=at)
    together = sum(len(run) for _, run in runs)
    if together > limit.all and all(len(run) <= limit.one for _, run in runs):
        at = Place(file=runs[0][0].file, page=runs[0][1][0], role=runs[0][0].role)
        yield Measured(what="tables", value=together, unit="pages", most=limit.all, at=at, sort="all")


class Code(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Up to `short` lines a listing may stand anywhere, up to `most` lines of `wide` characters in the text at all."""

    short: int
    most: int
    wide: int


@check("program-listing", of=Paper, takes=Code, sorts=("long", "wide", "place"), says=("lines",))
def program_listing(paper: Paper, limit: Code) -> Outcomes:
    """Count the lines and characters of each listing and see whether text follows; snippets are not looked at."""
    for number, why in unread_pages(paper).items():
        yield Unread(why=why, at=Place(page=number))
    for listing in listings(paper):
        if listing.length > limit.short:
            yield _weighed(listing, limit)


def _weighed(listing: Listing, limit: Code) -> Seen:
    """The gravest of what may be said of it."""
    number, box = listing.places[0]
    said = {
        "long": (listing.length > limit.most, f"{listing.length} lines", f"at most {limit.most} lines"),
        "wide": (
            listing.widest > limit.wide,
            f"{listing.widest} characters",
            f"at most {limit.wide} characters a line",
        ),
        "place": (listing.text_after, "followed by text", "at the end of the description"),
    }
    sort = next((sort for sort, (broken, _, _) in said.items() if broken), "")
    _, measured, required = said[sort or "long"]
    return Seen(
        what="program listing",
        held=not sort,
        measured=measured,
        required=required,
        at=Place(page=number, box=box),
        sort=sort,
        words={"lines": str(listing.length)},
    )
