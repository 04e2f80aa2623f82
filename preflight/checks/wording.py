"""Words of the text: those that should not be there, and those that must be chosen with care."""

from __future__ import annotations

from collections.abc import Callable, Iterable

import msgspec

from preflight.checks.api import Measured, NoLimits, Outcomes, Place, Seen, check
from preflight.checks.cover_sheets import benefit_on_forms
from preflight.checks.specification import as_far_as_read, place, start
from preflight.papers import Filing
from preflight.papers.specification.headings import Part
from preflight.papers.specification.incorporated import incorporations, origins
from preflight.papers.specification.passages import Passage, joined
from preflight.papers.specification.structure import Specification, whole_text
from preflight.papers.specification.wording import (
    Wording,
    benefit_claims,
    language,
    marked_words,
    phrases,
    placeholders,
)


class Phrases(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Phrases to look for; those of the same sentence that acquit; parts to look in (none: all), and those left out.

    `absolved_by`: a phrase anywhere in the text that makes all of them proper.
    """

    words: tuple[str, ...]
    unless: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    not_in: tuple[str, ...] = ()
    absolved_by: tuple[str, ...] = ()


def _passage(found: Specification, wanted: Phrases) -> Passage | None:
    pieces = [
        (p.text, p.passage)
        for section in found.sections
        if (not wanted.parts or section.part in wanted.parts) and section.part not in wanted.not_in
        for p in section.paragraphs
    ]
    return (
        joined(
            (text[a:b].strip(), spot)
            for text, passage in pieces
            for a, b, spot in zip(passage.starts, (*passage.starts[1:], len(text)), passage.spots, strict=True)
        )
        if pieces
        else None
    )


@check("phrases", of=Filing, takes=Phrases)
def no_phrases(filing: Filing, wanted: Phrases) -> Outcomes:
    """Look for certain phrases in the text."""
    found = yield from as_far_as_read(filing)
    if found is None:
        return
    text = _passage(found, wanted)
    if text is None:
        return
    absolved = any(True for _ in phrases(text, wanted.absolved_by))
    yield from _each(() if absolved else phrases(text, wanted.words, wanted.unless), place(text.spot))


def _each(some: Iterable[Wording], where: Place) -> Outcomes:
    """One outcome for each wording; one that held if there is none."""
    any_found = False
    for one in some:
        any_found = True
        yield Seen(what="text", held=False, measured=f'"{one.words}"', at=place(one.spot))
    if not any_found:
        yield Seen(what="text", held=True, measured="none", at=where)


def _looked_for(filing: Filing, find: Callable[[Passage], Iterable[Wording]], *not_in: Part) -> Outcomes:
    """What is found in the whole text but for some of its parts."""
    found = yield from as_far_as_read(filing)
    if found is None:
        return
    if text := whole_text(found, *not_in):
        yield from _each(find(text), start(found))


@check("placeholders", of=Filing, takes=NoLimits)
def no_placeholders(filing: Filing, _: NoLimits) -> Outcomes:
    """Look for marks that stand for words which were never written."""
    yield from _looked_for(filing, placeholders)


class Share(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The greatest share of words in another language, in per cent."""

    most: float


@check("english", of=Filing, takes=Share, acquits_scans=True)
def english(filing: Filing, limit: Share) -> Outcomes:
    """Measure how many of the words stand in paragraphs of another language."""
    found = yield from as_far_as_read(filing)
    if found is None:
        return
    said = language(found)
    if said.every:
        at = place(said.spot) if said.spot else start(found)
        yield Measured(
            what="text in another language", value=100 * said.foreign / said.every, unit="%", most=limit.most, at=at
        )


@check("no-benefit-claim", of=Filing, takes=NoLimits)
def no_benefit(filing: Filing, _: NoLimits) -> Outcomes:
    """Look for sentences in which this application claims priority or benefit, or continues another; on forms too."""
    yield from _looked_for(filing, benefit_claims, "claims", "abstract")
    yield from benefit_on_forms(filing)


class Sort(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Which faults to report."""

    faults: tuple[str, ...]


@check("incorporation", of=Filing, takes=Sort, sorts=("words", "blank", "web"))
def incorporation(filing: Filing, wanted: Sort) -> Outcomes:
    """Read each sentence that takes in another document: its words, the number of the document, web addresses."""
    found = yield from as_far_as_read(filing)
    if found is None:
        return
    text = whole_text(found)
    taken_in = list(incorporations(text)) if text else []
    if text and not taken_in:
        yield Seen(what="text", held=True, measured="takes in no document", at=start(found))
    for fault, one in taken_in:
        broken = fault in wanted.faults
        yield Seen(
            what="sentence",
            held=not broken,
            measured=f'"{one.words}"',
            sort=fault if broken else "",
            at=place(one.spot),
        )


@check("incorporated-origin", of=Filing, takes=NoLimits, sorts=("foreign", "writing", "application"))
def incorporated_origin(filing: Filing, _: NoLimits) -> Outcomes:
    """Tell of each document that is taken in whether it is one from which all may be taken; what is unclear holds."""
    found = yield from as_far_as_read(filing)
    if found is None:
        return
    text = whole_text(found)
    for origin, one in origins(text) if text else ():
        yield Seen(what="document", held=not origin, measured=f'"{one.words}"', sort=origin, at=place(one.spot))


@check("marks-set-off", of=Filing, takes=NoLimits)
def marks_set_off(filing: Filing, _: NoLimits) -> Outcomes:
    """See whether each word that bears the sign of a trade mark stands in capitals."""
    found = yield from as_far_as_read(filing)
    if found is None:
        return
    text = whole_text(found)
    seen: set[str] = set()
    for at, word in marked_words(text.text) if text else ():
        if text and word not in seen:
            seen.add(word)
            yield Seen(what="mark", held=word == word.upper(), measured=f'"{word}"', at=place(text.at(at)))
