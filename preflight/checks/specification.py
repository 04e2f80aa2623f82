"""The parts of a specification: whether they are there, in order, whole, and speak of the same figures."""

from __future__ import annotations

import re
from collections.abc import Generator, Iterator, Sequence
from itertools import pairwise
from typing import get_args

import msgspec

from preflight.checks.api import Measured, NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.places import of_paper
from preflight.papers import Filing, cover_sheet, figure_labels
from preflight.papers.specification.headings import BEFORE_THE_FIELD, Part
from preflight.papers.specification.paragraphs import Paragraph
from preflight.papers.specification.passages import Spot
from preflight.papers.specification.structure import Section, Specification, figures_of, specification, whole_text
from preflight.papers.specification.views import View
from preflight.papers.specification.wording import broken_sentences, phrases, tells_support
from preflight.papers.words.lettering import words

ORDER = get_args(Part)
"""The parts in their usual order."""


def place(spot: Spot) -> Place:
    """The line as a place of the report."""
    return Place(file=spot.file, page=spot.page, box=spot.box, role=spot.role)


def unread(found: Specification) -> Iterator[Unread]:
    """One for each page of the text that could not be read."""
    for file, role, page, why in found.unread:
        yield Unread(why=why, at=Place(file=file, page=page, role=role))


def as_far_as_read(filing: Filing) -> Generator[Unread, None, Specification | None]:
    """The specification, after one outcome for each of its pages that could not be read; None where there is none."""
    found = specification(filing)
    if found is not None:
        yield from unread(found)
    return found


def only_if_read(filing: Filing) -> Generator[Unread, None, Specification | None]:
    """The same, but None also where a page could not be read, or there is no text."""
    found = yield from as_far_as_read(filing)
    return found if found and found.sections and not found.unread else None


def start(found: Specification) -> Place:
    """Where the text begins."""
    first = next((paragraph for section in found.sections for paragraph in _all(section)), None)
    return place(first.passage.spot) if first else Place()


def _all(section: Section) -> tuple[Paragraph, ...]:
    return (*((section.heading,) if section.heading else ()), *section.paragraphs)


@check(
    "figure-list",
    of=Filing,
    takes=NoLimits,
    sorts=("no list", "not listed", "not described", "family"),
    says=("figure",),
    acquits_scans=True,
)
def figure_list(filing: Filing, _: NoLimits) -> Outcomes:
    """Compare the list of figures with the labels of the sheets and with the figures that the description speaks of."""
    drawings = filing.with_role("drawings")
    found = (yield from only_if_read(filing)) if drawings else None
    if found is None:
        return
    told = dict(reversed([one for p in found.described for one in figures_of(p.passage)]))
    listed = {name: view for view in reversed(found.views) for name in view.figures}
    if not listed:
        if told:
            yield Seen(
                what="list of figures", held=False, measured="none", sort="no list", at=place(next(iter(told.values())))
            )
        return
    drawn = {label.name for paper in drawings for label in figure_labels(paper)}
    names = {*told, *listed, *drawn}
    for name in sorted(names, key=_number):
        yield from _one_figure(name, listed, told, alone=len(names) == 1)


def _one_figure(name: str, listed: dict[str, View], told: dict[str, Spot], *, alone: bool) -> Iterator[Seen]:
    """Of a figure that is the only one the description need not say that it speaks."""
    family = re.sub(r"[A-Z]$", "", name)
    members = [other for other in listed if re.fullmatch(rf"{name}[A-Z]", other)]
    at = place(listed[name].spot if name in listed else told[name]) if name in listed or name in told else Place()
    label = f"FIG. {name}"
    in_list = name in listed or bool(members)
    by_family = not in_list and family != name and family in listed
    in_text = any(other in told for other in (name, family, *members)) or any(
        re.fullmatch(rf"{name}[A-Z]", o) for o in told
    )
    sort = "family" if by_family and name in told else "" if in_list or by_family else "not listed"
    if not sort and not in_text and not alone:
        sort = "not described"
    if not sort or at.file:
        yield Seen(what=label, held=not sort, measured=sort or "listed", sort=sort, at=at, words={"figure": label})


def _number(name: str) -> tuple[int, str]:
    digits = re.match(r"\d+", name)
    return (int(digits.group()) if digits else 0, name)


@check(
    "figure-order",
    of=Filing,
    takes=NoLimits,
    sorts=("order", "twice", "kind"),
    says=("figure", "before"),
    acquits_scans=True,
)
def figure_order(filing: Filing, _: NoLimits) -> Outcomes:
    """See whether the list of figures takes each once, in the order of their numbers, and names kinds of view."""
    found = yield from as_far_as_read(filing)
    if found is None:
        return
    seen: set[tuple[str, str]] = set()
    before: View | None = None
    for view in found.views:
        first = view.figures[0]
        again = (view.spot.file, first) in seen
        later = (
            before is not None and before.spot.file == view.spot.file and _number(first) < _number(before.figures[0])
        )
        yield Seen(
            what=f"FIG. {first}",
            held=not again and not later,
            measured=view.text,
            sort="twice" if again else "order" if later else "",
            at=place(view.spot),
            words={"figure": f"FIG. {first}", "before": f"FIG. {before.figures[0]}" if before else ""},
        )
        seen |= {(view.spot.file, name) for name in view.figures}
        before = view
    yield from _kinds(found.views)


def _kinds(views: Sequence[View]) -> Iterator[Seen]:
    """The entries without a kind of view ("a side view", "a flowchart") where others have one: else it is a style."""
    bare = [view for view in views if not view.kind]
    if bare and len(bare) < len(views):
        names = ", ".join(f"FIG. {view.figures[0]}" for view in bare)
        first, *others = (place(view.spot) for view in bare)
        yield Seen(
            what="list of figures",
            held=False,
            measured=names,
            sort="kind",
            at=first,
            also=tuple(others),
            words={"figure": names, "before": ""},
        )


@check("pages-present", of=Filing, takes=NoLimits, sorts=("within", "end"), says=("last", "first"), acquits_scans=True)
def pages_present(filing: Filing, _: NoLimits) -> Outcomes:
    """See whether a sentence that a page leaves open is taken up by the next page."""
    found = yield from as_far_as_read(filing)
    if found is None:
        return
    breaks = list(broken_sentences(found.sections)) if not found.unread else []
    for one in breaks:
        yield Seen(
            what="text",
            held=False,
            measured=f'"... {one.last}"',
            sort="within" if one.first else "end",
            at=place(one.spot),
            words={"last": one.last, "first": one.first},
        )
    if not breaks and found.sections and not found.unread:
        yield Seen(what="text", held=True, measured="goes on", at=start(found))


class Empty(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Phrases that put something off (`words`), and those of the same sentence that acquit (`unless`)."""

    words: tuple[str, ...]
    unless: tuple[str, ...]


@check("empty-sections", of=Filing, takes=Empty, sorts=("empty", "later"))
def empty_sections(filing: Filing, wanted: Empty) -> Outcomes:
    """Look for headings without text below them, and for words that put something off."""
    found = yield from as_far_as_read(filing)
    if found is None:
        return
    faults = False
    for section, after in pairwise((*found.sections, None)):
        if section and section.heading and section.empty and _must_hold_text(section, after) and not found.unread:
            faults = True
            yield Seen(
                what="section",
                held=False,
                measured=f'"{section.heading.text}"',
                sort="empty",
                at=place(section.heading.passage.spot),
            )
    text = whole_text(found)
    for one in phrases(text, wanted.words, wanted.unless) if text else ():
        faults = True
        yield Seen(what="text", held=False, measured=f'"{one.words}"', sort="later", at=place(one.spot))
    if found.sections and not faults:
        yield Seen(what="text", held=True, measured="complete", at=start(found))


def _must_hold_text(section: Section, after: Section | None) -> bool:
    """BACKGROUND over "Field of the invention" and DESCRIPTION over all the rest are usual; an empty summary is not."""
    if section.part == "description":
        return after is None or after.part in ("claims", "abstract")
    if section.part == "background":
        return after is None or after.part not in ("field", "summary", "background")
    return section.part in ("summary", "figures", "claims", "abstract", "field")


class Least(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The least number of words."""

    least: float


@check("description-words", of=Filing, takes=Least, acquits_scans=True)
def short_text(filing: Filing, limit: Least) -> Outcomes:
    """Count the words of the text beside claims and abstract."""
    found = yield from only_if_read(filing)
    if found is None:
        return
    count = sum(
        len(words(p.text)) for s in found.sections if s.part not in ("claims", "abstract") for p in s.paragraphs
    )
    yield Measured(what="description", value=count, unit="words", least=limit.least, at=start(found))


class Slides(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A text of at least so many pages, nearly all of them wide, with at most so many words each, is slides."""

    pages: int
    words: float


@check("slides", of=Filing, takes=Slides)
def slides(filing: Filing, limit: Slides) -> Outcomes:
    """Count the words of descriptions all of whose pages are wider than high."""
    papers = filing.with_role("specification")
    for paper in papers:
        if paper.text_unread:
            yield Unread(why=paper.text_unread, at=of_paper(paper))
    pages = [page for paper in papers if not paper.text_unread for page in paper.pages]
    if not pages:
        return
    wide = [page for page in pages if page.width > page.height]
    count = sum(len(words(line.text)) for page in pages for line in page.lines if line.visible) / len(pages)
    held = len(pages) < limit.pages or len(wide) < 0.8 * len(pages) or count > limit.words
    first = papers[0]
    yield Seen(
        what="description",
        held=held,
        measured=f"{len(wide)} wide pages with {count:.0f} words each" if not held else "text",
        at=of_paper(first),
    )


@check("section-order", of=Filing, takes=NoLimits, says=("before",), acquits_scans=True)
def section_order(filing: Filing, _: NoLimits) -> Outcomes:
    """Compare the order of the headings that open a part with the usual one; parts that are not there do not count."""
    found = yield from as_far_as_read(filing)
    if found is None:
        return
    highest: Section | None = None
    known = [s for s in found.sections if s.heading and s.part and s.part not in ("field",)]
    for section in known:
        if section.heading is None or section.part is None:
            continue
        spot = section.heading.passage.spot
        if highest and highest.heading and highest.heading.passage.spot.file != spot.file:
            highest = None  # another file may be a part by itself
        early = highest is not None and highest.part is not None and _rank(section.part) < _rank(highest.part)
        if early and highest and highest.part == "description" and not _PLAIN.search(section.heading.text):
            continue  # "I. Overview" is a heading within the description
        yield Seen(
            what="section",
            held=not early,
            measured=f'"{section.heading.text}"',
            at=place(spot),
            words={"before": highest.heading.text if highest and highest.heading else ""},
        )
        if not early:
            highest = section


_PLAIN = re.compile(r"\b(?:summary|background|brief description|cross.?references?)\b", re.IGNORECASE)
"""Words that open a part of their own wherever they stand."""


def _rank(part: Part) -> int:
    """What precedes the background is put in any order."""
    return 0 if part in BEFORE_THE_FIELD and part != "sequences" else ORDER.index(part)


class Parts(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """At least one section of these parts."""

    parts: tuple[str, ...]


@check("section-present", of=Filing, takes=Parts, acquits_scans=True)
def section_present(filing: Filing, wanted: Parts) -> Outcomes:
    """See whether a section of one of the parts is there."""
    found = specification(filing)
    there = [s for s in found.sections if s.part in wanted.parts] if found else []
    if found is None or (not there and (found.unread or not found.sections)):
        yield from unread(found) if found else ()
        return
    at = place(there[0].heading.passage.spot) if there and there[0].heading else start(found)
    yield Seen(what=wanted.parts[0], held=bool(there), measured="there" if there else "not there", at=at)


class Most(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The greatest number of words."""

    most: float


@check("abstract-length", of=Filing, takes=Most, sorts=("absent",))
def abstract_length(filing: Filing, limit: Most) -> Outcomes:
    """Count the words of the abstract, as white space divides them."""
    found = specification(filing)
    if found is None:
        return
    abstracts = [section for section in found.parts("abstract") if section.paragraphs]
    if not abstracts and found.unread:
        yield from unread(found)
    elif not abstracts:
        yield Seen(what="abstract", held=False, measured="not there", sort="absent", at=start(found))
    for section in abstracts:
        texts = [p.text for p in section.paragraphs if not p.heading]
        count = sum(len(text.split()) for text in texts)
        at = place(section.paragraphs[0].passage.spot)
        yield Measured(what="abstract", value=count, unit="words", most=limit.most, at=at)


class Devices(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Nouns (lower case) that name a thing which can be drawn."""

    words: tuple[str, ...]


@check("device-drawn", of=Filing, takes=Devices, acquits_scans=True)
def device_drawn(filing: Filing, known: Devices) -> Outcomes:
    """Where a claim begins with a thing that can be drawn, see whether there are drawings."""
    found = specification(filing)
    drawn = any(paper.kind == "drawing" for paper in filing.papers)
    yield from unread(found) if found and not found.claims else ()
    for claim in found.claims if found else ():
        preamble = re.split(r"[,:]|\b(?:comprising|for|having|with|including|of|that|which|wherein)\b", claim.text)[0]
        head = preamble.split()[-1:]
        if claim.independent and head and head[0].casefold().strip(".") in known.words:
            yield Seen(what=preamble.strip(), held=drawn, measured="no drawing", at=place(claim.passage.spot))


@check("government-told", of=Filing, takes=NoLimits)
def government_told(filing: Filing, _: NoLimits) -> Outcomes:
    """Where the cover sheet says that the government supported the work, look for the statement in the text."""
    sheet = cover_sheet(filing)
    found = specification(filing)
    if sheet is None or sheet.unread or sheet.government is None or sheet.government.value != "yes" or found is None:
        return
    text = whole_text(found)
    if text is None or found.unread:
        yield from unread(found)
        return
    said = sheet.government.place
    also = (Place(file=said.file, page=said.page, box=said.box, role=said.role),)
    yield Seen(what="statement", held=tells_support(text), measured="not in the text", at=start(found), also=also)
