"""Where a finding shows, in words that lead a person there."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from preflight.facts import Box
from preflight.reporting import wording
from preflight.reporting.report import Document, Finding, Place

MOST = 12
"""More places than this are counted, not listed."""
ALL = 1_000_000
"""For programs, which do not tire."""
WHOLE_FOLDER = "the folder as a whole"
_SMALL = 5.0
"""A box of at most this many cm is worth looking for with a ruler; of a long line its height tells enough."""


def where(finding: Finding, documents: Iterable[Document], most: int = MOST) -> list[str]:
    """A line for each file: "drawings.pdf, pages 2 to 5 and 7"; long lists end with "and 30 more pages"."""
    places = finding.places or _own_place(finding)
    if not places:
        return [WHOLE_FOLDER]
    mixed = frozenset(d.file for d in documents if len(d.papers) > 1)
    if len(places) == 1:
        return [_file(places, mixed, most)[0] + _spot(places[0])]
    lines: list[str] = []
    left = most
    by_file = _by_file(places)
    for number, group in enumerate(by_file):
        if left <= 0:
            lines.append(f"and {wording.counted(len(by_file) - number, 'more file')}")
            break
        line, used = _file(group, mixed, left)
        lines.append(line)
        left -= used
    return lines


def _own_place(finding: Finding) -> tuple[Place, ...]:
    if finding.file is None:
        return ()
    return (Place(file=finding.file, sha256="", page=finding.page, box_cm=finding.box_cm),)


def _by_file(places: Iterable[Place]) -> list[list[Place]]:
    groups: dict[str, list[Place]] = {}
    for place in places:
        groups.setdefault(place.file, []).append(place)
    return list(groups.values())


def _file(places: Sequence[Place], mixed: frozenset[str], most: int) -> tuple[str, int]:
    """The words for the places of one file, and how many runs of pages they name."""
    name = wording.file_name(places[0].file)
    numbers = {p.page for p in places if p.page is not None}
    words = f"{name}, {wording.pages(numbers, most)}" if numbers else name
    notes = [_role(places, mixed), _how_often(places, len(numbers))]
    said = ", ".join(note for note in notes if note)
    return (f"{words} ({said})" if said else words), max(1, len(wording.runs(numbers)))


def _role(places: Sequence[Place], mixed: frozenset[str]) -> str:
    """The paper that is meant, where a file holds several."""
    roles = {p.role for p in places if p.role}
    return wording.role(roles.pop()) if places[0].file in mixed and len(roles) == 1 else ""


def _how_often(places: Sequence[Place], pages: int) -> str:
    spots = len({p.box_cm for p in places if p.box_cm is not None and p.page is not None})
    return wording.counted(spots, "place") if 0 < pages < spots else ""


def _spot(place: Place) -> str:
    box: Box | None = place.box_cm
    if box is None or place.page is None or box.height > _SMALL:
        return ""
    across = f" and {wording.length(box.left)} from the left" if box.width <= _SMALL else ""
    return f", {wording.length(box.top)} from the top{across}"
