"""The list of figures: one entry a figure or group of figures, its sentence, and the kind of view that it names."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import pairwise

import msgspec

from preflight.papers.pages.figures_named import figures_in
from preflight.papers.specification.paragraphs import Paragraph
from preflight.papers.specification.passages import Spot
from preflight.papers.specification.sentences import breaks, sentences

_NEXT = re.compile(
    r"[;.](?=\s(?:and\s)?FIG(?:URE)?S?\b)"
    r"|,?(?=\sand\sFIG(?:URE)?\b\.?\s*\d+[A-Za-z]?\s(?:is|shows|illustrates|depicts|represents)\b)"
    r"|,(?=\s(?:and\s)?FIG(?:URE)?\b\.?\s*\d+[A-Za-z]?\s(?:is|shows|illustrates|depicts|represents|a|an|the)\b)",
    re.IGNORECASE,
)
"""Where the next entry begins within a sentence: "FIG. 4A is a section before firing and FIG. 4B is one after it"."""
_ENTRY = re.compile(
    r"^(?:and\s|in the (?:accompanying |attached |appended )?(?:drawings?|figures),?\s"
    r"|[^.;]{0,120}\b(?:drawings?|figures),?\s(?:in|of) which:?\s)?FIG(?:URE)?S?\b\.?\s*\d",
    re.IGNORECASE,
)
SAYS = re.compile(
    r"^[\s,:-]*(?:\([^)]{1,40}\)\s*)?(?:each |both |respectively |also |together |schematically "
    r"|diagrammatically |collectively )*"
    r"(?:is|are|shows?|illustrates?|depicts?|represents?|provides?|presents?|displays?|contains?|includes?|compares?|plots?"
    r"|demonstrates?|reports?|sets? (?:out|forth)|gives?|outlines?|details?|describes?|exemplif(?:y|ies)|a"
    r"|an|the|[A-Z])\b",
)
"""What follows the number of a figure of which a sentence says what it shows."""
_VIEW = re.compile(
    r"\b(?:perspective|isometric|exploded|plan|top|bottom|side|front|rear|back|end|sectional|cross[-"
    r" ]section(?:al)?|section"
    r"|elevation(?:al)?|detail(?:ed)?|enlarged|partial|schematic|block|flow|circuit|timing|state|sequence|wiring|phase)"
    r"(?:[- ](?:sectional|elevation(?:al)?|plan|perspective|side|front|rear|top))*\s?"
    r"(?:views?|diagrams?|charts?|drawings?|elevations?|sections?|representations?|illustrations?)\b"
    r"|\b(?:flow-?charts?|block diagrams?|schematics?|graphs?|plots?|tables?|photographs?|micrographs?"
    r"|images?|spectr(?:um|a)"
    r"|details?|cross[- ]sections?|close-?ups?|photomicrographs?|blots?|gels?|maps?|curves?|listings?"
    r"|chromatograms?|histograms?|screen ?shots?|pseudo-?code|diagrams?|charts?|views?|sections?)\b",
    re.IGNORECASE,
)


_LEADS_TO_IT = re.compile(r"\b(?:drawings?|figures)\b", re.IGNORECASE)
FEW = 2
"""So many entries in one paragraph make a list. House value."""


class View(msgspec.Struct, frozen=True):
    """An entry of the list. `figures` are names such as "2A"; `kind` is empty where no kind of view is named."""

    figures: tuple[str, ...]
    text: str
    spot: Spot
    kind: str = ""


def views_in(paragraphs: Iterable[Paragraph]) -> tuple[View, ...]:
    """The entries of a list of figures, also of several in one paragraph."""
    return tuple(view for paragraph in paragraphs for view in _of_paragraph(paragraph))


def is_entry(paragraph: Paragraph) -> bool:
    """Whether a paragraph reads like an entry of the list, or like several behind a sentence that leads to them."""
    said = [sentence for _, sentence in sentences(paragraph.text)]
    if not said:
        return False
    first, *others = map(_says_what_it_shows, said)
    if first:
        return len(others) < FEW or all(others)
    return all(others) and len(others) >= (1 if _LEADS_TO_IT.search(said[0]) else FEW)


def _says_what_it_shows(sentence: str) -> bool:
    """ "FIG. 1 is a side view of ..."."""
    first = next(figures_in(sentence), None)
    return bool(_ENTRY.match(sentence) and first and SAYS.match(sentence[first[1] :]))


def _of_paragraph(paragraph: Paragraph) -> Iterator[View]:
    text = paragraph.text
    cuts = [0, *breaks(text), *(found.end() for found in _NEXT.finditer(text)), len(text)]
    ends = sorted(set(cuts))
    for start, end in pairwise(ends):
        said = text[start:end].strip()
        lead = start + len(text[start:end]) - len(text[start:end].lstrip())
        found = next(figures_in(said), None)
        if found and _ENTRY.match(said):
            kind = _VIEW.search(said)
            names = tuple(f"{number}{letter}" for number, letter in found[2])
            yield View(names, said, paragraph.passage.at(lead), kind.group().casefold() if kind else "")
