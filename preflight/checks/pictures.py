"""Pictures placed on the pages, and what is grey or coloured on them."""

from __future__ import annotations

import msgspec

from preflight.checks.api import Measured, Outcomes, Place, Seen, Unread, check
from preflight.facts import Picture
from preflight.papers import Paper


class Resolution(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The least resolution in dpi of pictures with sides from `side` cm on.

    On forms and letters only a picture over the share `whole` of the page counts: signatures and logos do not.
    """

    least: float
    side: float
    whole: float


@check("picture-resolution", of=Paper, takes=Resolution)
def picture_resolution(paper: Paper, limit: Resolution) -> Outcomes:
    """Work out the resolution of each picture as placed, the smaller of across and down."""
    for page in paper.pages:
        if page.unread:
            yield Unread(why=page.unread, at=Place(page=page.number))
            continue
        share = 0.0 if paper.kind in ("text", "drawing") else limit.whole
        for picture in page.pictures:
            if _counts(picture, limit) and picture.box.area >= share * page.width * page.height:
                at = Place(page=page.number, box=picture.box)
                yield Measured(what="picture", value=picture.dpi, unit="dpi", least=limit.least, at=at)


def _counts(picture: Picture, limit: Resolution | Lossy) -> bool:
    """A picture of a pixel or two is a coloured area, not a picture."""
    return min(picture.box.width, picture.box.height) >= limit.side and min(picture.width, picture.height) > 2


class Lossy(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Filters that lose detail, for pictures with sides from `side` cm on.

    A page that is a photograph by its tone (per cent of the page, grey levels) may have them. From `soiled` per cent of
    the paper beside the lines on the loss is seen.
    """

    filters: tuple[str, ...]
    side: float
    tone: float
    levels: int
    soiled: float


@check("picture-compression", of=Paper, takes=Lossy, sorts=("soiled",))
def picture_compression(paper: Paper, limit: Lossy) -> Outcomes:
    """See whether a figure is compressed with loss; a photograph may be."""
    for page in paper.pages:
        if page.unread:
            yield Unread(why=page.unread, at=Place(page=page.number))
            continue
        photograph = page.tone.levels > limit.levels and page.tone.share * 100 > limit.tone
        for picture in page.pictures:
            if _counts(picture, limit):
                lossy = [name for name in picture.filters if name in limit.filters]
                yield Seen(
                    what="figure",
                    held=photograph or not lossy,
                    measured=" and ".join(lossy),
                    required="compressed without loss",
                    at=Place(page=page.number, box=picture.box),
                    sort="soiled" if lossy and 100 * (page.traces or 0.0) >= limit.soiled else "",
                )


class Grey(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The greatest share of the page in per cent that is filled with grey or colour."""

    most: float


@check("grey-areas", of=Paper, takes=Grey, sorts=("drawing", "text page"))
def grey_areas(paper: Paper, limit: Grey) -> Outcomes:
    """Measure the share of each page that is filled with grey or colour; the edges of printed letters are not."""
    for page in paper.pages:
        at = Place(page=page.number, box=page.tone.box)
        if page.unread:
            yield Unread(why=page.unread, at=at)
        elif page.ink:
            sort = "drawing" if paper.kind == "drawing" else "text page"
            value = page.tone.share * 100
            yield Measured(what="grey or coloured area", value=value, unit="%", most=limit.most, at=at, sort=sort)
