"""Which papers were made from which word processor's file: by the words that they share, then by name and date."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import pairwise
from pathlib import PurePath

import msgspec

from preflight.facts import FileFacts, Page, Source
from preflight.papers.model import Filing, Paper, text_unread
from preflight.papers.pages.running import running_lines
from preflight.papers.sources.comparing import Difference, differences
from preflight.papers.sources.dating import saved_at, saved_later
from preflight.papers.sources.words import plain_words
from preflight.papers.specification.rows import written
from preflight.papers.specification.structure import text_papers
from preflight.papers.words.lettering import rows
from preflight.papers.words.remembered import remembered

SHARED = 0.5
"""A paper with so large a share of its word pairs in a file may have been made from it. House value."""
LEAST_PAIRS = 20
"""Fewer pairs prove nothing. House value."""

Pairs = Counter[tuple[str, str]]


class Sourced(msgspec.Struct, frozen=True):
    """A word processor's file and the papers that were made from it.

    `later`: whether it was saved after the papers were made; None where the dates do not tell. `unread`: the pages
    that could not be compared, with the reason.
    """

    source: FileFacts
    papers: tuple[Paper, ...]
    differences: tuple[Difference, ...] = ()
    later: bool | None = None
    unread: tuple[tuple[Paper, Page, str], ...] = ()


@remembered
def sourced(filing: Filing) -> tuple[Sourced, ...]:
    """Each source with its papers. Of several that belong to one paper, the one that was saved last counts."""
    sources = [(file, file.source) for file in filing.files if file.source and not file.source.unread]
    papers = [paper for paper in text_papers(filing) if not paper.text_unread] if sources else []
    shares = {
        (file.name, at): _share(paper, _pairs(prose.text for prose in source.body))
        for file, source in sources
        for at, paper in enumerate(papers)
    }
    mine: dict[str, list[tuple[Paper, float]]] = {}
    for at, paper in enumerate(papers):
        if files := [file for file, _ in sources if shares[file.name, at] >= SHARED]:
            last = max(files, key=lambda file: (saved_at(file), _named_alike(file, paper), file.name))
            mine.setdefault(last.name, []).append((paper, shares[last.name, at]))
    return tuple(_sourced(filing, file, source, mine[file.name]) for file, source in sources if file.name in mine)


def _share(paper: Paper, pairs: Pairs) -> float:
    """How much of a paper stands in the text with these pairs of words."""
    own = _pairs(row.text for row in written([paper]))
    return (own & pairs).total() / own.total() if own.total() >= LEAST_PAIRS else 0.0


def _pairs(texts: Iterable[str]) -> Pairs:
    return Counter(pairwise(word for text in texts for word in plain_words(text)))


def _named_alike(file: FileFacts, paper: Paper) -> bool:
    return PurePath(file.name).stem.casefold() == PurePath(paper.file).stem.casefold()


def _sourced(filing: Filing, file: FileFacts, source: Source, held: list[tuple[Paper, float]]) -> Sourced:
    papers = _one_version(file, held)
    unread = tuple((paper, page, why) for paper in papers for page in paper.pages if (why := text_unread(page)))
    found = differences(source, written(papers), _beside(filing, papers)) if not unread else ()
    files = {paper.file for paper in papers}
    later = saved_later(file, [other for other in filing.files if other.name in files])
    return Sourced(file, papers, found, later, unread)


def _one_version(file: FileFacts, held: list[tuple[Paper, float]]) -> tuple[Paper, ...]:
    """Of papers of one role in several files the one that is named alike, or shares most."""
    best: dict[str, str] = {}
    for paper, _ in sorted(held, key=lambda one: (_named_alike(file, one[0]), one[1])):
        best[paper.role] = paper.file
    return tuple(paper for paper, _ in held if best[paper.role] == paper.file)


def _beside(filing: Filing, papers: Iterable[Paper]) -> Iterator[str]:
    """All that the files of these papers say besides their bodies."""
    compared = list(papers)
    files = {paper.file for paper in compared}
    for paper in filing.papers:
        for page in paper.pages if paper.file in files else ():
            some = running_lines(page, paper) if paper in compared else page.lines
            yield from (row.text for row in rows(line for line in some if line.visible))
