"""How text is set: size, typeface, spacing, columns, colour."""

from __future__ import annotations

import re
from typing import Literal

import msgspec

from preflight.checks.api import Measured, NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.places import of_paper
from preflight.papers import (
    Filing,
    Paper,
    body_lines,
    faint_text,
    part_headings,
    smallest_type,
    spacings,
    text_unread,
    two_columns,
)


def unread_pages(paper: Paper) -> dict[int, str]:
    """By page: why its words cannot be read. Blank pages are not unread."""
    return {page.number: why for page in paper.pages if (why := text_unread(page))}


class Size(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The least size of type in pt."""

    least: float


@check("type-size", of=Paper, takes=Size)
def type_size(paper: Paper, limit: Size) -> Outcomes:
    """Measure the smallest running text of each page, apart from header and footer."""
    unread = unread_pages(paper)
    for page in paper.pages:
        if page.number in unread:
            yield Unread(why=unread[page.number], at=Place(page=page.number))
        elif line := smallest_type(body_lines(paper)[page.number]):
            at = Place(page=page.number, box=line.box)
            yield Measured(what="text", value=line.size, unit="pt", least=limit.least, slack=0.05, at=at)


class Pitch(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The least distance of base lines, in sizes of the type.

    Of the roles in `widest` the widest spacing counts: parts of a claim may stand closer.
    """

    least: float
    widest: tuple[str, ...] = ()


@check("line-spacing", of=Paper, takes=Pitch)
def line_spacing(paper: Paper, limit: Pitch) -> Outcomes:
    """Measure the distance of base lines in the paragraphs of a paper; a page apart from the rest is no finding."""
    if why := paper.text_unread:
        yield Unread(why=why, at=Place(page=paper.first_page))
        return
    found = sorted(spacings(paper), key=lambda one: one.ratio)
    if not found:
        return
    middle = found[-1] if paper.role in limit.widest else found[len(found) // 2]
    close = [one for one in found if one.ratio < limit.least and one is not middle]
    yield Measured(
        what="line spacing",
        value=middle.ratio,
        unit="",
        least=limit.least,
        slack=0.005,
        at=Place(page=middle.page, box=middle.box),
        also=tuple(Place(page=one.page, box=one.box) for one in close),
    )


@check("one-column", of=Paper, takes=NoLimits)
def one_column(paper: Paper, _: NoLimits) -> Outcomes:
    """See whether running text stands in two columns."""
    unread = unread_pages(paper)
    for page in paper.pages:
        if page.number in unread:
            yield Unread(why=unread[page.number], at=Place(page=page.number))
        elif lines := body_lines(paper)[page.number]:
            columns = two_columns(page, lines)
            at = Place(page=page.number, box=columns[1] if columns else None)
            yield Seen(what="text", held=columns is None, measured="two columns", required="one column", at=at)


class TextColour(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The greatest luminance of text, from 0 (black) to 1 (white)."""

    most: float


@check("text-colour", of=Paper, takes=TextColour, says=("words", "colour"))
def text_colour(paper: Paper, limit: TextColour) -> Outcomes:
    """Measure how light the text of each page is against what it stands on."""
    unread = unread_pages(paper)
    for page in paper.pages:
        if page.number in unread:
            yield Unread(why=unread[page.number], at=Place(page=page.number))
            continue
        faint = faint_text(page)
        for one in faint:
            yield Measured(
                what="luminance of text",
                value=one.luminance,
                unit="",
                most=limit.most,
                at=Place(page=page.number, box=one.tint.box),
                words={"words": _shortened(one.tint.words or one.line.text), "colour": f"#{one.tint.colour}"},
            )
        if page.lines and not faint:
            yield Measured(what="luminance of text", value=0.0, unit="", most=limit.most, at=Place(page=page.number))


def _shortened(text: str, most: int = 60) -> str:
    """For a message."""
    plain = " ".join(text.split())
    return plain if len(plain) <= most else f"{plain[: most - 3].rstrip()}..."


class Script(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Words in the names of typefaces that imitate handwriting, lower case."""

    names: tuple[str, ...]


@check("no-script", of=Filing, takes=Script)
def no_script(filing: Filing, wanted: Script) -> Outcomes:
    """Look at the names of the fonts that show text on the pages of the text papers."""
    text = [paper for paper in filing.papers if paper.kind == "text"]
    for file in filing.files:
        pages = {page.number: paper for paper in text if paper.file == file.name for page in paper.pages}
        if pages and file.structure and file.structure.unread:
            yield Unread(why=file.structure.unread, at=Place(file=file.name))
        for font in file.structure.fonts if file.structure else ():
            used = [number for number in font.pages if number in pages]
            if not used or font.invisible:
                continue
            at, *also = (Place(file=file.name, page=number, role=pages[number].role) for number in used)
            name = re.sub(r"^[A-Z]{6}\+", "", font.name)
            held = not any(word in name.lower() for word in wanted.names)
            yield Seen(what="typeface", held=held, measured=name, at=at, also=tuple(also))


class Part(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The part that is to begin a sheet of its own."""

    part: Literal["specification", "claims", "abstract"]


@check("own-sheet", of=Filing, takes=Part, says=("heading",))
def own_sheet(filing: Filing, wanted: Part) -> Outcomes:
    """See whether the heading of a part stands on a page that holds another part as well."""
    for paper in filing.papers:
        if paper.kind == "text" and (why := paper.text_unread):
            yield Unread(why=why, at=of_paper(paper))
    for one in part_headings(filing, wanted.part):
        said = one.heading
        yield Seen(
            what=wanted.part,
            held=not one.shared,
            measured="on a sheet with other text" if one.shared else "on a sheet of its own",
            at=Place(file=said.file, page=said.page, box=said.box, role=said.role),
            words={"heading": said.value},
        )
