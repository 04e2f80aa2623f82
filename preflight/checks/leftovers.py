"""What was left on the pages from the work on them: watermarks, struck, inserted and highlighted text."""

from __future__ import annotations

import msgspec

from preflight.checks.api import NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.papers import Paper, drawn_watermarks, highlights, inserted, struck, text_unread, written_watermarks


class Watermarks(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Words of stamps (lower case) from `upright` pt on, and any words that run aslant from `aslant` pt on."""

    words: tuple[str, ...]
    upright: float
    aslant: float


@check("watermark", of=Paper, takes=Watermarks, sorts=("words", "shape"))
def watermark(paper: Paper, wanted: Watermarks) -> Outcomes:
    """Look for large words over the page, and for a pale shape at one place of most pages."""
    shapes = {one.page: one for one in drawn_watermarks(paper)}
    for page in paper.pages:
        written = written_watermarks(page, wanted.words, wanted.aslant, wanted.upright)
        shape = shapes.get(page.number)
        if page.unread:
            yield Unread(why=page.unread, at=Place(page=page.number))
        for one in written:
            at = Place(page=page.number, box=one.box)
            yield Seen(what="watermark", held=False, measured=f'"{one.words}"', at=at, sort="words")
        if shape and not written:
            at = Place(page=page.number, box=shape.box)
            yield Seen(what="watermark", held=False, measured="a pale shape", at=at, sort="shape")
        if page.ink and not written and not shape:
            yield Seen(what="watermark", held=True, measured="none", at=Place(page=page.number))


class Links(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The colours ("rrggbb") in which programs underline links: they are no tracked changes."""

    links: tuple[str, ...]


@check("tracked-changes", of=Paper, takes=Links, sorts=("struck", "inserted"))
def tracked_changes(paper: Paper, usual: Links) -> Outcomes:
    """Look for words struck out, and for coloured words underlined in their own colour."""
    for page in paper.pages:
        if why := text_unread(page):
            yield Unread(why=why, at=Place(page=page.number))
            continue
        out, new = struck(page), inserted(page, usual.links)
        for sort, marked in (("struck", out), ("inserted", new)):
            for one in marked:
                yield Seen(
                    what="text",
                    held=False,
                    measured="struck out" if sort == "struck" else "inserted",
                    at=Place(page=page.number, box=one.bar.box),
                    sort=sort,
                )
        if page.lines and not out and not new:
            yield Seen(what="text", held=True, measured="plain", at=Place(page=page.number))


@check("highlighted", of=Paper, takes=NoLimits)
def highlighted(paper: Paper, _: NoLimits) -> Outcomes:
    """Look for words with a colour behind them that ends with the words."""
    for page in paper.pages:
        if why := text_unread(page):
            yield Unread(why=why, at=Place(page=page.number))
            continue
        marked = highlights(page)
        for one in marked:
            at = Place(page=page.number, box=one.box)
            yield Seen(what="text", held=False, measured="highlighted", at=at)
        if page.lines and not marked:
            yield Seen(what="text", held=True, measured="plain", at=Place(page=page.number))
