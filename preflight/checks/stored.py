"""What a PDF stores that its pages do not tell: licences and gaps of fonts, layered pictures, transparency."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import msgspec

from preflight.checks.api import NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.files import is_pdf, plain_name
from preflight.facts import Box, FileFacts, Font, Picture
from preflight.papers import Filing

NOT_OPENED = "it was not opened"
FONTS = "fonts"
PARTS = {
    "alpha": "transparent colour",
    "blend mode": "blended colour",
    "soft mask": "a soft mask",
    "overprint": "overprinting",
}
"""The effects of a page in words."""


@check("fonts-licence", of=FileFacts, takes=NoLimits, says=("fonts",))
def fonts_licence(file: FileFacts, _: NoLimits) -> Outcomes:
    """See whether the licence bits of an embedded font forbid embedding. A font that does not say may be embedded."""
    yield from unread_parts(file, FONTS)
    fonts = [font for font in file.structure.fonts if font.embedded] if file.structure else []
    if fonts:
        pages = {font: font.pages for font in fonts if font.restricted}
        yield _of_fonts("fonts", file, pages, asked="licences that allow embedding")


@check("fonts-lacking", of=FileFacts, takes=NoLimits, says=("fonts",))
def fonts_lacking(file: FileFacts, _: NoLimits) -> Outcomes:
    """See whether an embedded font paints its sign for a character that it does not have. Other fonts do not tell."""
    yield from unread_parts(file, FONTS)
    fonts = file.structure.fonts if file.structure else ()
    if fonts:
        pages = {font: font.lacking for font in fonts if font.lacking}
        yield _of_fonts("characters", file, pages, asked="characters that the font has")


def _of_fonts(what: str, file: FileFacts, pages: dict[Font, tuple[int, ...]], asked: str) -> Seen:
    names = ", ".join(sorted({plain_name(font) for font in pages}))
    places = [Place(file=file.name, page=n) for n in sorted({n for each in pages.values() for n in each})]
    return Seen(
        what=what,
        held=not pages,
        measured=names,
        required=asked,
        at=places[0] if places else Place(file=file.name),
        also=tuple(places[1:]),
        words={"fonts": names},
    )


class Layered(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A soft-edged picture is a layer if it covers another picture on more than this share of the page."""

    share: float


@check("picture-layers", of=FileFacts, takes=Layered)
def picture_layers(file: FileFacts, limit: Layered) -> Outcomes:
    """Look for pictures laid over each other with a soft mask, and for soft masks with masks of their own."""
    yield from unread_parts(file, "images")
    images = file.structure.inside.images if file.structure else ()
    for page in file.pages:
        stored = [image for image in images if image.page == page.number]
        masked = {(image.width, image.height) for image in stored if image.masked}
        over = list(_laid_over(page.pictures, masked, limit.share * page.width * page.height))
        if stored:
            held = not over and not any(image.stacked for image in stored)
            at = Place(file=file.name, page=page.number, box=over[0] if over else None)
            yield Seen(what="picture", held=held, measured="in layers", required="flat", at=at)


def _laid_over(pictures: Iterable[Picture], masked: set[tuple[int, int]], least: float) -> Iterator[Box]:
    """Boxes of pictures with a soft mask that cover one painted before. Which is which is known by their pixels."""
    beneath: list[Box] = []
    for picture in pictures:
        if (picture.width, picture.height) in masked and any(_shared(picture.box, b) > least for b in beneath):
            yield picture.box
        beneath.append(picture.box)


def _shared(one: Box, other: Box) -> float:
    """The area that two boxes have in common, in square cm."""
    across = min(one.right, other.right) - max(one.left, other.left)
    down = min(one.bottom, other.bottom) - max(one.top, other.top)
    return max(across, 0.0) * max(down, 0.0)


class Sheets(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The roles of the papers that are looked at."""

    roles: tuple[str, ...]


@check("see-through", of=Filing, takes=Sheets, says=("effects",))
def see_through(filing: Filing, sheets: Sheets) -> Outcomes:
    """See whether a sheet uses transparency, or overprinting that has an effect."""
    files = {file.name: file for file in filing.files}
    for paper in filing.with_role(*sheets.roles):
        file = files[paper.file]
        yield from unread_parts(file, "see_through")
        if file.structure is None:
            continue
        for page in paper.pages:
            found = [what for number, what in file.structure.inside.see_through if number == page.number]
            words = " and ".join(PARTS.get(what, what) for what in found)
            at = Place(file=paper.file, page=page.number, role=paper.role)
            yield Seen(what="sheet", held=not found, measured=words, required="opaque", at=at, words={"effects": words})


def unread_parts(file: FileFacts, part: str) -> Iterator[Unread]:
    """Why this part of a PDF (fonts, or a part of what is inside) is not known; nothing if it is."""
    if not is_pdf(file):
        return
    if file.structure is None or file.unread:
        yield Unread(why=file.unread or NOT_OPENED, at=Place(file=file.name))
    elif why := file.structure.unread if part == FONTS else file.structure.inside.unread.get(part):
        yield Unread(why=why, at=Place(file=file.name))
