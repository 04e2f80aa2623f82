"""Files within the file, and what belongs to a show rather than to paper (ISO 32000-1, 7.11.4, 12.4.4)."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

import pikepdf

from preflight.facts import Attachment
from preflight.reading.structure.walking import Known, Tour, dictionaries, inner, items, target, text

REPLACE = "R"
"""The transition that is none."""


def read_attachments(tour: Tour) -> Iterator[Attachment]:
    """Each attached file once, wherever it is named: in the list of files, with a page, or pinned to a page."""
    for kind in items(tour.opened.pdf.trailer.get("/AdditionalStreams")):
        if isinstance(kind, pikepdf.Name):  # LibreOffice keeps the source of a hybrid file so, outside any list
            yield Attachment(f"its own source ({text(kind)})")
    seen: set[Known] = set()
    for page, name, spec in _every(tour):
        held = inner(spec, "/EF")
        if not isinstance(held, pikepdf.Dictionary):
            continue
        streams = [held[key] for key in held.keys() if isinstance(held[key], pikepdf.Stream)]  # noqa: SIM118
        if streams and not {stream.objgen for stream in streams} & seen:
            seen |= {stream.objgen for stream in streams}
            yield Attachment(target(spec) or name or "without a name", page)


def _every(tour: Tour) -> Iterator[tuple[int | None, str, object]]:
    """Page, name and file specification; those on pages first, for they say more."""
    for page, one in tour.annotations():
        if text(one.get("/Subtype")) == "FileAttachment":
            yield page, "", one.get("/FS")
        for spec in _associated(one):
            yield page, "", spec
    for number, sheet in enumerate(tour.opened.pages, start=1):
        for spec in _associated(sheet.obj):
            yield number, "", spec
    for name, spec in tour.name_tree(inner(tour.root, "/Names", "/EmbeddedFiles"), "attached files"):
        yield None, name, spec
    for spec in _associated(tour.root):
        yield None, "", spec


def _associated(holder: pikepdf.Object) -> Iterator[pikepdf.Object]:
    """Files that belong to it (ISO 32000-2, 14.13): a list, or a single one."""
    files = holder.get("/AF")
    if isinstance(files, pikepdf.Dictionary):
        yield files
    yield from dictionaries(files)


def is_portfolio(tour: Tour) -> bool:
    """Whether its pages are only the cover of a collection of files (ISO 32000-1, 12.3.5)."""
    return isinstance(tour.root.get("/Collection"), pikepdf.Dictionary)


def read_transitions(tour: Tour) -> Iterator[int]:
    """Pages that come with an effect, or go by themselves; an empty entry, as some libraries write, is neither."""
    for number, page in enumerate(tour.opened.pages, start=1):
        tour.look_at_the_clock()
        style = text(inner(page.obj, "/Trans", "/S"))
        seconds = page.obj.get("/Dur")
        goes_on = isinstance(seconds, int | float | Decimal) and seconds > 0
        if (style and style != REPLACE) or goes_on:
            yield number
