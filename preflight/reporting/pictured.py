"""The report with pictures of the places that it names: a person looks rather than reads."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

import msgspec

from preflight.facts import Box, Clipping, Cut, FileFacts
from preflight.reporting.report import Finding, Place, Question, Report

SMALL = 8.0
"""A place at most so many cm each way is shown; a larger one is seen on the page itself."""
AROUND = 1.0
"""So many cm round a place are shown with it."""
PLACE_DPI, PAGE_DPI = 120, 50
MOST_PLACES = 4
"""Of one finding."""
MOST = 40
"""In one report, the first findings first: a report is to stay small."""

Wanted = tuple[str, Cut]
"""A file and what is to be cut out of it."""
Sizes = Mapping[tuple[str, int], tuple[float, float]]


def with_pictures(
    report: Report,
    files: Iterable[FileFacts],
    clip: Callable[[Mapping[str, Sequence[Cut]]], Mapping[Wanted, Clipping]],
) -> Report:
    """The report with what `clip` could cut out of the files: small places of findings, what questions ask about."""
    sizes = {(file.name, page.number): (page.width, page.height) for file in files for page in file.pages}
    wanted = [one for place in _places(report.findings) if (one := _cut(place, sizes))][:MOST]
    wanted += [one for question in report.by_hand if (one := _page(question, sizes))]
    cuts: dict[str, list[Cut]] = {}
    for file, cut in dict.fromkeys(wanted):
        cuts.setdefault(file, []).append(cut)
    made = clip(cuts)
    return msgspec.structs.replace(
        report,
        findings=tuple(_pictured(finding, made, sizes) for finding in report.findings),
        by_hand=tuple(
            msgspec.structs.replace(question, picture=_made(_page(question, sizes), made))
            for question in report.by_hand
        ),
    )


def _made(wanted: Wanted | None, made: Mapping[Wanted, Clipping]) -> Clipping | None:
    return made.get(wanted) if wanted else None


def _places(findings: Iterable[Finding]) -> Iterator[Place]:
    for finding in findings:
        yield from finding.places[:MOST_PLACES]


def _pictured(finding: Finding, made: Mapping[Wanted, Clipping], sizes: Sizes) -> Finding:
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


def _page(question: Question, sizes: Sizes) -> Wanted | None:
    sheet = sizes.get((question.file or "", question.page or 0))
    if sheet is None or question.file is None:
        return None
    return question.file, Cut(question.page or 0, sheet, Box(0.0, 0.0, *sheet), PAGE_DPI)
