"""The report with pictures of the places that it names: a person looks rather than reads."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Literal

import msgspec

from preflight.facts import Box, Clipping, Cut, FileFacts
from preflight.reporting.report import Finding, PagePicture, Place, Question, Report

Pictures = Literal["none", "places", "findings", "all"]
"""Which are made: none; small places and what questions ask about; also the pages with findings, and the first of each
paper; every page."""

SMALL = 8.0
"""A place at most so many cm each way is shown; a larger one is seen on the page itself."""
AROUND = 1.0
"""So many cm round a place are shown with it."""
PLACE_DPI, QUESTION_DPI, PAGE_DPI = 120, 50, 72
MOST_PLACES = 4
"""Of one finding."""
MOST = 40
"""In one report, the first findings first: a report is to stay small."""
MOST_PAGES: Mapping[Pictures, int] = {"findings": 80, "all": 400}
MOST_BYTES: Mapping[Pictures, int] = {"findings": 2_000_000, "all": 15_000_000}
"""Of pages and places together, before they are written as text, which takes a third more."""

Wanted = tuple[str, Cut]
"""A file and what is to be cut out of it."""
Made = Mapping[Wanted, bytes]
Sizes = Mapping[tuple[str, int], tuple[float, float]]


def with_pictures(
    report: Report,
    files: Iterable[FileFacts],
    clip: Callable[[Mapping[str, Sequence[Cut]]], Made],
    which: Pictures = "places",
) -> Report:
    """The report with what `clip` could cut out of the files."""
    if which == "none":
        return report
    sizes = {(file.name, page.number): (page.width, page.height) for file in files for page in file.pages}
    wanted = [one for place in _places(report.findings) if (one := _cut(place, sizes))][:MOST]
    wanted += [one for question in report.by_hand if (one := _asked(question, sizes))]
    pages = [_page(file, page, sizes) for file, page in _pages(report, sizes, which)]
    cuts: dict[str, list[Cut]] = {}
    for file, cut in dict.fromkeys([*wanted, *pages]):
        cuts.setdefault(file, []).append(cut)
    made = clip(cuts)
    return msgspec.structs.replace(
        report,
        findings=tuple(_pictured(finding, made, sizes) for finding in report.findings),
        by_hand=tuple(
            msgspec.structs.replace(question, picture=_made(_asked(question, sizes), made))
            for question in report.by_hand
        ),
        page_pictures=tuple(_that_fit(wanted, pages, made, MOST_BYTES[which])) if pages else (),
    )


def _made(wanted: Wanted | None, made: Made) -> Clipping | None:
    encoded = made.get(wanted) if wanted else None
    return Clipping(wanted[1].page, wanted[1].box, encoded) if wanted and encoded else None


def _places(findings: Iterable[Finding]) -> Iterator[Place]:
    for finding in findings:
        yield from finding.places[:MOST_PLACES]


def _pictured(finding: Finding, made: Made, sizes: Sizes) -> Finding:
    first, rest = finding.places[:MOST_PLACES], finding.places[MOST_PLACES:]
    shown = (msgspec.structs.replace(place, picture=_made(_cut(place, sizes), made)) for place in first)
    return msgspec.structs.replace(finding, places=(*shown, *rest))


def _cut(place: Place, sizes: Sizes) -> Wanted | None:
    """The place with its surroundings; None for one that is no small place on a page."""
    box, sheet = place.box_cm, sizes.get((place.file, place.page or 0))
    if box is None or sheet is None or max(box.width, box.height) > SMALL:
        return None
    around, (width, height) = box.grown(AROUND), sheet
    shown = Box(max(0.0, around.left), max(0.0, around.top), min(width, around.right), min(height, around.bottom))
    if shown.width <= 0 or shown.height <= 0:
        return None
    return place.file, Cut(place.page or 0, sheet, shown, PLACE_DPI)


def _asked(question: Question, sizes: Sizes) -> Wanted | None:
    sheet = sizes.get((question.file or "", question.page or 0))
    if sheet is None or question.file is None:
        return None
    return question.file, Cut(question.page or 0, sheet, Box(0.0, 0.0, *sheet), QUESTION_DPI)


def _pages(report: Report, sizes: Sizes, which: Pictures) -> Sequence[tuple[str, int]]:
    """The pages to be shown, those that must not be missing first."""
    if which not in MOST_PAGES:
        return ()
    pages = [(document.file, paper.first_page) for document in report.documents for paper in document.papers]
    pages += [page for finding in report.findings for page in pages_of(finding)]
    pages += [(question.file, question.page) for question in report.by_hand if question.file and question.page]
    if which == "all":
        pages += sizes
    return [page for page in dict.fromkeys(pages) if page in sizes][: MOST_PAGES[which]]


def pages_of(finding: Finding) -> list[tuple[str, int]]:
    """File and number of the pages that a finding shows: the first few of those that it names."""
    return list(dict.fromkeys((place.file, place.page) for place in finding.places if place.page))[:MOST_PLACES]


def _page(file: str, page: int, sizes: Sizes) -> Wanted:
    sheet = sizes[file, page]
    return file, Cut(page, sheet, Box(0.0, 0.0, *sheet), PAGE_DPI, "webp")


def _that_fit(places: Iterable[Wanted], pages: Iterable[Wanted], made: Made, most: int) -> Iterator[PagePicture]:
    """The pages that could be drawn, as long as the places and they stay below `most` bytes."""
    left = most - sum(len(made.get(one, b"")) for one in set(places))
    for wanted in pages:
        encoded = made.get(wanted, b"")
        if encoded and len(encoded) <= left:
            left -= len(encoded)
            file, cut = wanted
            yield PagePicture(file, cut.page, *cut.sheet, encoded)
