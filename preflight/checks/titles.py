"""The title of the specification: that it is there, and how it is worded."""

from __future__ import annotations

import re
from collections.abc import Generator, Iterator

import msgspec

from preflight.checks.api import Measured, NoLimits, Outcomes, Seen, Unread, check
from preflight.checks.places import of_said
from preflight.checks.specification import start, unread
from preflight.papers import Filing, Said, flat_text
from preflight.papers.specification.structure import specification
from preflight.papers.specification.wording import marked_words


def _title(filing: Filing) -> Generator[Unread, None, Said | None]:
    """The title; None after why none can be told."""
    found = specification(filing)
    if found and found.title:
        return found.title
    yield from unread(found) if found else ()
    return None


@check("title-there", of=Filing, takes=NoLimits, acquits_scans=True)
def title_there(filing: Filing, _: NoLimits) -> Outcomes:
    """See whether the specification begins with a title. Where a data sheet is in the folder, that gives it."""
    found = specification(filing)
    if found is None or filing.with_role("application-data-sheet"):
        return
    if found.title is None and (found.unread or not found.sections):
        yield from unread(found)
        return
    at = of_said(found.title) if found.title else start(found)
    yield Seen(what="title", held=found.title is not None, measured=found.title.value if found.title else "none", at=at)


class Beginnings(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Beginnings that are idle (lower case), and those that begin so and are not."""

    words: tuple[str, ...]
    unless: tuple[str, ...]


@check("title-begins", of=Filing, takes=Beginnings)
def title_begins(filing: Filing, idle: Beginnings) -> Outcomes:
    """Look at the first words of the title."""
    said = yield from _title(filing)
    if said is None:
        return
    text = flat_text(said.value).casefold()
    proper = any(re.match(rf"{re.escape(one)}\b", text) for one in idle.unless)
    found = next((one for one in idle.words if re.match(rf"{re.escape(one)}(?![\w-])", text)), None)
    held = proper or found is None
    yield Seen(what="title", held=held, measured=f'"{said.value}"' if held else f'"{found}"', at=of_said(said))


@check("title-characters", of=Filing, takes=NoLimits)
def title_characters(filing: Filing, _: NoLimits) -> Outcomes:
    """Look for characters beyond the plain alphabet and its signs; kinds of dashes and quotes do not count."""
    said = yield from _title(filing)
    if said is None:
        return
    strange = "".join(dict.fromkeys(c for c in flat_text(said.value) if not c.isascii() or not c.isprintable()))
    yield Seen(what="title", held=not strange, measured=f'"{strange or said.value}"', at=of_said(said))


class Words(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The greatest number of words."""

    most: float


@check("title-words", of=Filing, takes=Words, sorts=("mark", "long"))
def title_words(filing: Filing, limit: Words) -> Outcomes:
    """Count the words of the title, and look for signs of trade marks."""
    said = yield from _title(filing)
    if said is None:
        return
    yield from _signs(said)
    count = len(flat_text(said.value).split())
    yield Measured(what="title", value=count, unit="words", most=limit.most, at=of_said(said), sort="long")


def _signs(said: Said) -> Iterator[Seen]:
    for _, word in marked_words(said.value):
        yield Seen(what="title", held=False, measured=f'"{word}"', sort="mark", at=of_said(said))
