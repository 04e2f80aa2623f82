"""What the pages need from other files. Nothing outside is ever opened."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import pikepdf

from preflight.facts import Action, Outside
from preflight.reading.structure.walking import Known, Tour, inner, target, text

MOST_STEPS = 200_000
"""Objects looked at from one page."""
JUMPS = ("GoToR", "GoToE", "Thread")
"""Actions that lead into the file that they name, if they name one."""
_BACK = ("/Parent", "/P", "/Dest", "/A", "/AA", "/Popup", "/IRT", "/StructParent", "/B", "/Prev", "/Next", "/Pg")
"""Ways from a page to other pages rather than to what it shows."""

Hit = tuple[Known, str]


def read_outside(tour: Tour, actions: Iterable[Action]) -> Iterator[Outside]:
    """Streams kept elsewhere (7.3.8.2), pages of other files (8.10.4) and jumps into them (12.6.4.3)."""
    hits = {place: what for place, what in _streams(tour) if what}
    for page, place in _shown(tour, set(hits)):
        yield Outside(hits[place], page)
    for action in actions:
        if action.kind in JUMPS and action.does:
            yield Outside(f"a jump into {action.does}", action.page)


def _streams(tour: Tour) -> Iterator[Hit]:
    for stream in _every_stream(tour):
        spec, other = stream.get("/F"), inner(stream, "/Ref", "/F")
        if spec is not None:
            yield stream.objgen, f"data kept in {target(spec) or 'another file'}"
        elif other is not None:
            yield stream.objgen, f"a page of {target(other) or 'another file'}"


def _every_stream(tour: Tour) -> Iterator[pikepdf.Object]:
    for number, one in enumerate(tour.opened.pdf.objects):
        if number % 1000 == 0:
            tour.look_at_the_clock()
        if isinstance(one, pikepdf.Stream):
            yield one


def _shown(tour: Tour, wanted: set[Known]) -> Iterator[tuple[int, Known]]:
    """Which of the wanted objects each page leads to; what no page leads to does no harm."""
    for number, page in enumerate(tour.opened.pages if wanted else [], start=1):
        yield from ((number, place) for place in sorted(wanted & _reached(tour, page.obj)))


def _reached(tour: Tour, page: pikepdf.Object) -> set[Known]:
    waiting, seen, steps = [page], set[Known](), 0
    while waiting:
        one, steps = waiting.pop(), steps + 1
        if steps % 1000 == 0:
            tour.look_at_the_clock()
        if steps > MOST_STEPS:
            tour.trouble("what a page leads to is too much to follow")
            break
        if one.objgen != (0, 0):
            if one.objgen in seen:
                continue
            seen.add(one.objgen)
        waiting += _below(one, top=steps == 1)
    return seen


def _below(one: pikepdf.Object, *, top: bool) -> list[pikepdf.Object]:
    if isinstance(one, pikepdf.Array):
        return [item for item in one if isinstance(item, pikepdf.Object)]
    if not isinstance(one, pikepdf.Dictionary | pikepdf.Stream):
        return []
    if not top and text(one.get("/Type")) in ("Page", "Pages", "Catalog"):
        return []
    held = (one.get(key) for key in one.keys() if key not in _BACK)  # noqa: SIM118  pikepdf has no items of a stream
    return [value for value in held if isinstance(value, pikepdf.Object)]
