"""What a PDF holds besides its pages: scripts, attachments, comments, layers, certificates, things outside."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import msgspec

from preflight.checks.api import NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.files import is_pdf, needs_password
from preflight.checks.places import of_paper
from preflight.facts import Action, Annotation, Box, FileFacts, Inside, Page
from preflight.papers import Filing, Paper, laid_on_as_signature, office_form, text_unread, web_addresses

DEEDS = {
    "JavaScript": "a script",
    "Launch": "a command that starts a program",
    "SubmitForm": "a command that sends the form",
    "ImportData": "a command that loads data",
    "Sound": "sound",
    "Movie": "video",
    "Screen": "video",
    "Rendition": "video",
    "RichMedia": "rich media",
    "RichMediaExecute": "rich media",
    "3D": "a 3-D model",
    "GoTo3DView": "a 3-D model",
}
"""Actions and moving parts in words; others are told by their kind."""
MARKS = {
    "Text": "note",
    "FreeText": "text box",
    "StrikeOut": "strike-out",
    "Caret": "mark for an insertion",
    "Ink": "line drawn by hand",
    "Popup": "window of a note",
    "PolyLine": "line",
}
"""Marks on pages in words; others by their kind in lower case."""
PARTS_THAT_DO_NOT_PRINT = ("portfolio", "attachments", "annotations", "actions", "transitions")
NAMED = 3
"""So many of a kind are named, the rest is counted."""

Spot = tuple[int | None, Box | None]


def inside_of(file: FileFacts) -> Inside | None:
    """What the file holds inside; None where it could not be opened."""
    return None if file.structure is None or needs_password(file) else file.structure.inside


def _outcomes(file: FileFacts, what: str, found: Sequence[Seen], *parts: str) -> Outcomes:
    """What was found, why these parts could not all be read, or that there is none."""
    if not is_pdf(file):
        return
    at, held = Place(file=file.name), inside_of(file)
    yield from found
    if held is None:
        yield Unread(why=file.unread or "it was not opened", at=at)
    elif whys := _whys(held, *parts):
        yield from (Unread(why=why, at=at) for why in whys)
    elif not found:
        yield Seen(what=what, held=True, measured="none", at=at)


def _whys(held: Inside, *parts: str) -> list[str]:
    return list(dict.fromkeys(held.unread[part] for part in parts if part in held.unread))


def _seen(
    file: FileFacts, what: str, measured: str, spots: Iterable[Spot] = (), sort: str = "", **words: str
) -> Iterator[Seen]:
    """One outcome for the file, with the first spot of each page."""
    pages: dict[int | None, Box | None] = {}
    for page, box in spots:
        pages.setdefault(page, box)
    places = [Place(file=file.name, page=page, box=box) for page, box in pages.items() if page] or [
        Place(file=file.name)
    ]
    yield Seen(what=what, held=False, measured=measured, sort=sort, at=places[0], also=tuple(places[1:]), words=words)


def listed(names: Iterable[str], most: int = NAMED) -> str:
    """The first few different names, and how many more."""
    every = list(dict.fromkeys(names))
    more = len(every) - most
    return ", ".join(every[:most]) + (f" and {more} more" if more > 0 else "")


class Deeds(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Kinds of actions that are forbidden anywhere, and those that are where nobody clicks.

    `own_kinds`: those that are proper to a form of the office, if all papers of the file are of the roles `own_forms`.
    """

    kinds: tuple[str, ...]
    unasked: tuple[str, ...]
    own_kinds: tuple[str, ...]
    own_forms: tuple[str, ...]


@check("actions", of=Filing, takes=Deeds, sorts=("office form", "elsewhere"), says=("does", "where"))
def actions(filing: Filing, forbidden: Deeds) -> Outcomes:
    """Look for scripts, commands that start programs or send data, and whatever happens without a click."""
    for file in filing.files:
        held = inside_of(file)
        every = [a for a in held.actions if _forbidden(a, forbidden)] if held else []
        own = (
            [a for a in every if a.kind in forbidden.own_kinds] if _own_form(filing, file, forbidden.own_forms) else []
        )
        rest = [action for action in every if action not in own]
        found = [*_deeds(file, own, "office form"), *_deeds(file, rest, "elsewhere")]
        yield from _outcomes(file, "actions", found, "actions")


def _forbidden(action: Action, forbidden: Deeds) -> bool:
    return action.kind in forbidden.kinds or (action.unasked and action.kind in forbidden.unasked)


def _deeds(file: FileFacts, every: Sequence[Action], sort: str) -> Iterator[Seen]:
    if every:
        does = listed(DEEDS.get(a.kind, f"an action without a click ({a.kind})") for a in every)
        where = listed(a.where for a in every)
        yield from _seen(file, "actions", does, ((a.page, None) for a in every), sort, does=does, where=where)


def _own_form(filing: Filing, file: FileFacts, roles: Iterable[str]) -> bool:
    """Whether every paper in the file bears the number of one of the office's forms.

    A dynamic form shows no number on its pages; there the role, as far as known, must do.
    """
    papers = [paper for paper in filing.papers if paper.file == file.name]
    held = inside_of(file)
    hidden = held is not None and held.xfa == "dynamic"
    return bool(papers) and all(
        paper.role in roles and (hidden or any(office_form(page) for page in paper.pages)) for paper in papers
    )


class Parts(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Kinds of annotations and of actions that move or sound."""

    annotations: tuple[str, ...]
    actions: tuple[str, ...]


@check(
    "not-printed", of=FileFacts, takes=Parts, sorts=("attachment", "media", "portfolio", "transition"), says=("names",)
)
def not_printed(file: FileFacts, kinds: Parts) -> Outcomes:
    """Look for attached files, sound, video, 3-D models, a portfolio, and the page transitions of a slide show."""
    held = inside_of(file) or Inside()
    found: list[Seen] = []
    if held.portfolio:
        found += _seen(file, "portfolio", "a portfolio", sort="portfolio")
    elif held.attachments:
        names = listed(one.name for one in held.attachments)
        spots = ((one.page, None) for one in held.attachments)
        found += _seen(file, "attached files", names, spots, "attachment", names=names)
    moving: list[tuple[str, int | None, Box | None]] = [
        (a.kind, a.page, a.box) for a in held.annotations if a.kind in kinds.annotations
    ]
    moving += [(a.kind, a.page, None) for a in held.actions if a.kind in kinds.actions]
    if moving:
        names = listed(DEEDS.get(kind, kind) for kind, _, _ in moving)
        found += _seen(file, "media", names, ((page, box) for _, page, box in moving), "media", names=names)
    if held.transitions:
        found += _seen(file, "page transitions", "there", ((page, None) for page in held.transitions), "transition")
    yield from _outcomes(file, "parts that do not print", found, *PARTS_THAT_DO_NOT_PRINT)


class Marks(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Kinds of annotations that are no comments, and those that mark what is to be blacked out."""

    proper: tuple[str, ...]
    redaction: tuple[str, ...]


@check("comments", of=Filing, takes=Marks, sorts=("comment", "signature", "redaction"), says=("marks",))
def comments(filing: Filing, known: Marks) -> Outcomes:
    """Look for comments and review marks; signatures laid on a form and redactions not applied are told apart."""
    for file in filing.files:
        held = inside_of(file) or Inside()
        papers = [paper for paper in filing.papers if paper.file == file.name]
        sorts: dict[str, list[Annotation]] = {}
        for one in held.annotations:
            if one.kind not in known.proper:
                sorts.setdefault(_sort_of(one, papers, known), []).append(one)
        found = [seen for sort, group in sorts.items() for seen in _marks(file, sort, group)]
        yield from _outcomes(file, "comments", found, "annotations")


def _sort_of(laid: Annotation, papers: Iterable[Paper], known: Marks) -> str:
    if laid.kind in known.redaction:
        return "redaction"
    return "signature" if any(laid_on_as_signature(paper, laid) for paper in _with(papers, laid.page)) else "comment"


def _with(papers: Iterable[Paper], page: int) -> list[Paper]:
    return [paper for paper in papers if paper.first_page <= page <= paper.last_page]


def _marks(file: FileFacts, sort: str, group: Sequence[Annotation]) -> Iterator[Seen]:
    marks = listed(MARKS.get(one.kind, one.kind.lower()) for one in group)
    first = next((one for one in group if one.words), None)
    if first is not None:
        marks += f', "{first.words[:60]}"' + (f" ({first.author})" if first.author else "")
    count = f"{len(group)} {sort}{'' if len(group) == 1 else 's'}"
    yield from _seen(file, "comments", count, ((one.page, one.box) for one in group), sort, marks=marks)


@check("layers", of=FileFacts, takes=NoLimits, sorts=("hidden", "visible"), says=("layers",))
def layers(file: FileFacts, _: NoLimits) -> Outcomes:
    """Look for layers, first of all for those that are switched off on the screen or in print."""
    held = inside_of(file) or Inside()
    hidden = [layer for layer in held.layers if not (layer.shown and layer.printed)]
    found: list[Seen] = []
    if held.layers:
        names = listed(layer.name for layer in hidden or held.layers)
        found += _seen(file, "layers", names, sort="hidden" if hidden else "visible", layers=names)
    yield from _outcomes(file, "layers", found, "layers")


@check("outside", of=FileFacts, takes=NoLimits, says=("things",))
def outside(file: FileFacts, _: NoLimits) -> Outcomes:
    """Look for what the file fetches from other files, and for jumps into them."""
    every = (inside_of(file) or Inside()).external
    things = listed(one.what for one in every)
    found = list(_seen(file, "other files", things, ((o.page, None) for o in every), things=things)) if every else []
    yield from _outcomes(file, "other files", found, "external")


@check("alternates", of=FileFacts, takes=NoLimits)
def alternates(file: FileFacts, _: NoLimits) -> Outcomes:
    """Look for pictures that carry other versions of themselves."""
    pages = dict.fromkeys(image.page for image in (inside_of(file) or Inside()).images if image.alternates)
    found = list(_seen(file, "pictures", "several versions", ((page, None) for page in pages))) if pages else []
    yield from _outcomes(file, "pictures", found, "images")


@check("certificates", of=FileFacts, takes=NoLimits, sorts=("signed", "locked", "usage rights"), says=("field",))
def certificates(file: FileFacts, _: NoLimits) -> Outcomes:
    """Look for certificate signatures; an empty field for one is none."""
    held = inside_of(file) or Inside()
    signed = [field for field in held.signature_fields if field.signed]
    found: list[Seen] = []
    if signed:
        sort = "locked" if any(field.certifies for field in signed) else "signed"
        names = listed(field.name or "without a name" for field in signed)
        found += _seen(file, "certificate", names, ((f.page, f.box) for f in signed), sort, field=names)
    elif held.usage_rights:
        found += _seen(file, "certificate", "usage rights", sort="usage rights")
    yield from _outcomes(file, "certificates", found, "signature_fields", "usage_rights")


class Placeholder(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Words, in lower case, with which a page begins that stands in for a form."""

    begins: tuple[str, ...]


@check("form-shown", of=FileFacts, takes=Placeholder, sorts=("placeholder", "unshown"), says=("fields",))
def form_shown(file: FileFacts, words: Placeholder) -> Outcomes:
    """See whether the pages of a form show the form, and whether what is filled in shows."""
    held = inside_of(file) or Inside()
    waits = [page.number for page in file.pages if _first_words(page).startswith(words.begins)]
    found: list[Seen] = []
    if held.xfa == "dynamic" or waits:
        found += _seen(file, "form", "a page that stands in for it", ((page, None) for page in waits), "placeholder")
    elif held.unshown_fields:
        names = listed(held.unshown_fields)
        found += _seen(file, "form", names, sort="unshown", fields=names)
    yield from _outcomes(file, "form", found, "xfa", "unshown_fields")


def _first_words(page: Page) -> str:
    lines = [line for line in page.lines if line.visible and line.text.strip()]
    return " ".join(min(lines, key=lambda line: line.box.top).text.lower().split()) if lines else ""


class Addresses(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The papers to look at, and how web addresses begin (lower case)."""

    papers: tuple[str, ...]
    begins: tuple[str, ...]


@check("web-addresses", of=Filing, takes=Addresses, sorts=("address", "name space"), says=("address",))
def addresses(filing: Filing, wanted: Addresses) -> Outcomes:
    """Look for web addresses in the words of the text papers, and for links to them."""
    by_name = {file.name: file for file in filing.files}
    for paper in filing.with_role(*wanted.papers):
        file = by_name[paper.file]
        held = inside_of(file) or Inside()
        links = [
            (one.words, one.page, one.box)
            for one in held.annotations
            if one.kind == "Link" and _with([paper], one.page) and one.words.lower().startswith(wanted.begins)
        ]
        said = [one for page in paper.pages for one in web_addresses(page, wanted.begins)]
        live = [(one.text, one.page, one.box) for one in said if not one.names_only]
        names = [(one.text, one.page, one.box) for one in said if one.names_only]
        found = [*_addresses(paper, "address", [*live, *links]), *_addresses(paper, "name space", names)]
        whys = dict.fromkeys(
            [*(why for page in paper.pages if (why := text_unread(page))), *_whys(held, "annotations")]
        )
        yield from found
        yield from (Unread(why=why, at=of_paper(paper)) for why in whys)
        if not found and not whys:
            yield Seen(what="web addresses", held=True, measured="none", at=of_paper(paper))


def _addresses(paper: Paper, sort: str, found: Sequence[tuple[str, int, Box | None]]) -> Iterator[Seen]:
    if found:
        names = listed(text for text, _, _ in found)
        places = {page: Place(file=paper.file, page=page, box=box, role=paper.role) for _, page, box in found[::-1]}
        first, *others = (places[page] for page in sorted(places))
        yield Seen(
            what="web addresses",
            held=False,
            measured=names,
            sort=sort,
            at=first,
            also=tuple(others),
            words={"address": names},
        )
