"""What a viewer would do: scripts, programs, media, forms that send themselves (ISO 32000-1, 12.6)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import pikepdf

from preflight.facts import Action
from preflight.reading.structure.form_nodes import Node
from preflight.reading.structure.walking import Known, Tour, dictionaries, inner, items, target, text

LONGEST_CHAIN = 50
MOST_BOOKMARKS = 20_000
_MOVES = ("NextPage", "PrevPage", "FirstPage", "LastPage")
_LEADS_TO = {"JavaScript": "/JS", "URI": "/URI", "Named": "/N"}
_OF_FILE = {"/WC": "closing", "/WS": "saving", "/DS": "saving", "/WP": "printing", "/DP": "printing"}


def read_actions(tour: Tour, nodes: Iterable[Node]) -> Iterator[Action]:
    """Everywhere that an action may stand; what follows an action is an action too."""
    for name, script in tour.name_tree(inner(tour.root, "/Names", "/JavaScript"), "scripts"):
        yield from _chain(tour, script, f"named script {name}", None, unasked=True)
    yield from _chain(tour, tour.root.get("/OpenAction"), "on opening the file", None, unasked=True)
    for key, one in _events(tour.root):
        yield from _chain(tour, one, f"on {_OF_FILE.get(key, 'an event of')} the file", None, unasked=True)
    for number, page in enumerate(tour.opened.pages, start=1):
        for _, one in _events(page.obj):
            yield from _chain(tour, one, f"on showing page {number}", number, unasked=True)
    told: set[Known] = set()
    for node in nodes:
        for holder in (node.own, *node.widgets):
            if holder.objgen == (0, 0) or holder.objgen not in told:
                told.add(holder.objgen)
                yield from _of(tour, holder, f"field {node.name}", node.page)
    yield from _of_annotations(tour)
    yield from _of_bookmarks(tour)


def _of_annotations(tour: Tour) -> Iterator[Action]:
    for page, one in tour.annotations():
        kind = text(one.get("/Subtype"))
        if kind != "Widget":  # fields have had their turn
            yield from (a for a in _of(tour, one, f"page {page}", page) if (kind, a.kind) != ("Link", "URI"))


def _of_bookmarks(tour: Tour) -> Iterator[Action]:
    """The outline, which is a list of lists (ISO 32000-1, 12.3.3)."""
    waiting, seen = [inner(tour.root, "/Outlines", "/First")], set[Known]()
    while waiting and len(seen) < MOST_BOOKMARKS:
        tour.look_at_the_clock()
        one = waiting.pop()
        if isinstance(one, pikepdf.Dictionary) and one.objgen not in seen:
            seen.add(one.objgen)
            yield from _chain(tour, one.get("/A"), f"bookmark {text(one.get('/Title'))}", None)
            waiting += [inner(one, "/Next"), inner(one, "/First")]
    if any(isinstance(one, pikepdf.Dictionary) for one in waiting):
        tour.trouble(f"the bookmarks are more than {MOST_BOOKMARKS}")


def _of(tour: Tour, holder: pikepdf.Object, where: str, page: int | None) -> Iterator[Action]:
    yield from _chain(tour, holder.get("/A"), where, page)
    for _, one in _events(holder):
        yield from _chain(tour, one, where, page, unasked=True)


def _events(holder: pikepdf.Object) -> Iterator[tuple[str, pikepdf.Object]]:
    """Additional actions, by what sets them off."""
    every = holder.get("/AA")
    if isinstance(every, pikepdf.Dictionary):
        yield from ((key, every[key]) for key in sorted(every.keys()))


def _chain(tour: Tour, first: object, where: str, page: int | None, *, unasked: bool = False) -> Iterator[Action]:
    waiting, seen = [first], set[Known]()
    while waiting:
        one = waiting.pop(0)
        if not isinstance(one, pikepdf.Dictionary) or one.objgen in seen:
            continue
        if len(seen) >= LONGEST_CHAIN:
            tour.trouble(f"{where} more than {LONGEST_CHAIN} actions follow each other")
            return
        seen.add(one.objgen if one.objgen != (0, 0) else (0, -len(seen) - 1))
        kind = text(one.get("/S"))
        if kind and not _stays(kind, one):
            yield Action(kind, where, page, _does(kind, one), unasked)
        following = one.get("/Next")
        waiting += [following] if isinstance(following, pikepdf.Dictionary) else list(dictionaries(following))


def _stays(kind: str, action: pikepdf.Object) -> bool:
    """Whether it only goes to a page of the same file."""
    return kind == "GoTo" or (kind == "Named" and text(action.get("/N")) in _MOVES)


def _does(kind: str, action: pikepdf.Object) -> str:
    if key := _LEADS_TO.get(kind):
        return text(action.get(key))
    spec = action.get("/F")
    system = next((text(inner(action, key, "/F")) for key in ("/Win",) if action.get(key) is not None), "")
    return target(spec) or system or next((text(one) for one in items(action.get("/Fields"))), "")
