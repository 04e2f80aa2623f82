"""A specification as a whole: its parts, list of figures, claims and abstract, and what had to be inferred."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

import msgspec

from preflight.papers.matter.titles import title_of
from preflight.papers.model import Filing, Paper, Said, text_unread
from preflight.papers.pages.figures_named import figures_in
from preflight.papers.specification.claims import Claim, claims_in, looks_like_claims
from preflight.papers.specification.headings import Part
from preflight.papers.specification.paragraphs import MARK, Paragraph, paragraphs
from preflight.papers.specification.passages import Passage, Row, Spot, joined
from preflight.papers.specification.rows import written
from preflight.papers.specification.views import View, is_entry, views_in
from preflight.papers.words.remembered import remembered

TEXT_ROLES = ("specification", "claims", "abstract")


class Section(msgspec.Struct, frozen=True):
    """A part with its paragraphs, headings below its own among them. `heading` is None where it was inferred."""

    part: Part | None
    heading: Paragraph | None
    paragraphs: tuple[Paragraph, ...] = ()

    @property
    def empty(self) -> bool:
        """Whether nothing stands below its heading."""
        return not self.paragraphs

    @property
    def rows(self) -> tuple[Row, ...]:
        """Its rows without those of its heading."""
        return tuple(row for paragraph in self.paragraphs for row in paragraph.rows)


class Specification(msgspec.Struct, frozen=True):
    """What the text papers of a filing say, as a reader would divide it.

    `inferred` says in words what no heading tells; `unread` gives the pages that could not be read, with the reason.
    """

    title: Said | None
    sections: tuple[Section, ...]
    views: tuple[View, ...]
    claim_sets: tuple[tuple[Claim, ...], ...]
    inferred: tuple[str, ...] = ()
    unread: tuple[tuple[str, str, int, str], ...] = ()
    """File, role, page, why."""

    @property
    def claims(self) -> tuple[Claim, ...]:
        """Those of all sets."""
        return tuple(claim for one in self.claim_sets for claim in one)

    def parts(self, *parts: Part) -> tuple[Section, ...]:
        """The sections of these parts."""
        return tuple(section for section in self.sections if section.part in parts)

    @property
    def described(self) -> tuple[Paragraph, ...]:
        """The paragraphs beside the list of figures, the claims and the abstract."""
        kept = (section for section in self.sections if section.part not in ("figures", "claims", "abstract"))
        listed = {(view.spot.file, view.spot.page, view.spot.box) for view in self.views}
        return tuple(
            paragraph
            for section in kept
            for paragraph in section.paragraphs
            if (paragraph.passage.spot.file, paragraph.passage.spot.page, paragraph.passage.spot.box) not in listed
        )


def figures_of(passage: Passage) -> Iterator[tuple[str, Spot]]:
    """Each figure that a passage is about, with its line."""
    for start, _, members in figures_in(passage.text):
        yield from ((f"{number}{letter}", passage.at(start)) for number, letter in members)


@remembered
def specification(filing: Filing) -> Specification | None:
    """The specification of a filing, claims and abstract included; None where it has no text paper."""
    return understood(text_papers(filing))


def text_papers(filing: Filing) -> tuple[Paper, ...]:
    """Description, claims and abstract in the order of reading: by the file of the description, then by page."""
    every = filing.with_role(*TEXT_ROLES)
    rank = {paper.file: min(TEXT_ROLES.index(p.role) for p in every if p.file == paper.file) for paper in every}
    return tuple(sorted(every, key=lambda paper: (rank[paper.file], paper.file, paper.first_page)))


def understood(papers: Sequence[Paper]) -> Specification | None:
    """The parts of these text papers, which are given in the order of reading."""
    if not papers:
        return None
    unread = tuple(
        (paper.file, paper.role, page.number, why)
        for paper in papers
        for page in paper.pages
        if (why := text_unread(page))
    )
    title = next((said for paper in papers if paper.role == "specification" and (said := title_of(paper))), None)
    inferred: list[str] = []
    sections = [part for paper, rows in _by_paper(papers) for part in _sections(paper, rows, title, inferred)]
    sets = _claim_sets(sections, inferred)
    views = _views(sections, inferred)
    return Specification(title, tuple(sections), views, sets, tuple(inferred), unread)


def _by_paper(papers: Sequence[Paper]) -> Iterator[tuple[Paper, tuple[Row, ...]]]:
    """Claims and abstract by themselves; descriptions of one file together, across what stands between."""
    for _, some in groupby(papers, key=lambda paper: (paper.file, paper.role)):
        group = list(some)
        yield group[0], written(group)


def _sections(paper: Paper, rows: Sequence[Row], title: Said | None, inferred: list[str]) -> list[Section]:
    """Cut at the headings that open a part. What stands before the first of them has no part."""
    found: list[Section] = []
    whole: Part | None = "claims" if paper.role == "claims" else "abstract" if paper.role == "abstract" else None
    open_part, heading, held = whole, None, list[Paragraph]()
    for paragraph in paragraphs(rows):
        if paragraph.heading and paragraph.part and not _is_title(paragraph, title):
            if held or heading:
                found.append(Section(open_part, heading, tuple(held)))
            open_part, heading, held = paragraph.part, paragraph, []
        elif not _is_title(paragraph, title):
            held.append(paragraph)
    if held or heading:
        found.append(Section(open_part, heading, tuple(held)))
    if whole and not any(section.heading and section.part == whole for section in found):
        inferred.append(f"{whole}: no heading, known by {paper.how_known}")
    return _without_doubled(found)


def _is_title(paragraph: Paragraph, title: Said | None) -> bool:
    spot = paragraph.passage.spot
    return (
        title is not None
        and (title.file, title.page) == (spot.file, spot.page)
        and bool(title.box and title.box.holds_middle_of(spot.box))
    )


def _without_doubled(found: list[Section]) -> list[Section]:
    """ "CLAIMS", then "What is claimed is:" are one heading; so are "DETAILED DESCRIPTION" and "Description of ..."."""
    kept: list[Section] = []
    for section in found:
        if kept and kept[-1].empty and kept[-1].part == section.part:
            kept[-1] = msgspec.structs.replace(section, heading=kept[-1].heading)
        else:
            kept.append(section)
    return kept


def _claim_sets(sections: list[Section], inferred: list[str]) -> tuple[tuple[Claim, ...], ...]:
    sets = [claims_in(section.rows) for section in sections if section.part == "claims"]
    if not any(sets):
        for at, section in enumerate(sections):
            start = _first_claim(section)
            if start is not None:
                inferred.append("claims: no heading, numbered and referring to each other")
                rest = section.paragraphs[start:]
                sections[at : at + 1] = [
                    msgspec.structs.replace(section, paragraphs=section.paragraphs[:start]),
                    Section("claims", None, rest),
                ]
                return (claims_in([row for paragraph in rest for row in paragraph.rows]),)
    return tuple(one for one in sets if one)


def _first_claim(section: Section) -> int | None:
    """Where the last numbered series of a section begins if it reads like claims."""
    starts = [
        at
        for at, paragraph in enumerate(section.paragraphs)
        if re.match(r"^1\s?[.)]\s", paragraph.text) and not paragraph.heading
    ]
    for at in reversed(starts):
        rest = section.paragraphs[at:]
        if all(MARK.match(paragraph.text) or not re.match(r"[A-Z]", paragraph.text) for paragraph in rest[:2]):
            found = claims_in([row for paragraph in rest for row in paragraph.rows])
            if looks_like_claims(found):
                return at
    return None


def _views(sections: Iterable[Section], inferred: list[str]) -> tuple[View, ...]:
    """From the section of its own, else from the run of paragraphs that read like entries."""
    own = [paragraph for section in sections if section.part == "figures" for paragraph in section.paragraphs]
    if found := views_in(own):
        return found
    others = [p for s in sections if s.part not in ("claims", "abstract", "figures") for p in s.paragraphs]
    for entry, run in groupby(others, key=is_entry):
        entries = _each_once(views_in(run)) if entry else ()
        if len(entries) > 1:
            inferred.append("list of figures: no heading, paragraphs that each say what a figure shows")
            return entries
    return ()


def _each_once(entries: Sequence[View]) -> tuple[View, ...]:
    """The entries up to the first that takes up a figure again: there the description begins."""
    seen: set[str] = set()
    for at, view in enumerate(entries):
        if seen & set(view.figures):
            return tuple(entries[:at])
        seen |= set(view.figures)
    return tuple(entries)


def whole_text(found: Specification, *leave_out: Part) -> Passage | None:
    """All paragraphs as one passage, without some parts; None if there are none."""
    pieces = [
        piece
        for section in found.sections
        if section.part not in leave_out
        for paragraph in ((section.heading,) if section.heading else ()) + section.paragraphs
        for piece in _pieces(paragraph)
    ]
    return joined(pieces) if pieces else None


def _pieces(paragraph: Paragraph) -> Iterator[tuple[str, Spot]]:
    starts = (*paragraph.passage.starts, len(paragraph.text))
    for at, spot in enumerate(paragraph.passage.spots):
        text = paragraph.text[starts[at] : starts[at + 1]].strip()
        ends = paragraph.heading and at == len(paragraph.passage.spots) - 1
        yield f"{text.rstrip(' .:')}." if ends else text, spot  # a heading is no part of the sentence below it
