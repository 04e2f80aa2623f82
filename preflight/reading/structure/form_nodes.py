"""The fields of a form as they stand in the file, each with its name, page and what it inherits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import pikepdf

from preflight.reading.structure.walking import DEEPEST, Known, Tour, dictionaries, inner, text


@dataclass(frozen=True)
class Node:
    """A field or a group of fields, the outermost above it first, and the widgets that show it."""

    chain: tuple[pikepdf.Object, ...]
    widgets: tuple[pikepdf.Object, ...]
    page: int | None

    @property
    def own(self) -> pikepdf.Object:
        """The field's own dictionary."""
        return self.chain[-1]

    @property
    def name(self) -> str:
        """With the names of its groups."""
        return ".".join(name for link in self.chain if (name := text(link.get("/T"))))

    def inherited(self, key: str) -> object:
        """The value of the field or of the nearest group that has one."""
        return next((link.get(key) for link in reversed(self.chain) if link.get(key) is not None), None)


def read_nodes(tour: Tour) -> Iterator[Node]:
    """Every field, also groups, from the form's own list, then those that only a page knows."""
    places = {one.objgen: page for page, one in tour.annotations() if text(one.get("/Subtype")) == "Widget"}
    seen: set[Known] = set()
    yield from _listed(tour, places, seen)
    for page, widget in tour.annotations():
        if text(widget.get("/Subtype")) == "Widget" and widget.objgen not in seen:
            seen |= {widget.objgen} - {(0, 0)}
            yield Node(_above(widget), (widget,), page)


def _listed(tour: Tour, places: dict[Known, int], seen: set[Known]) -> Iterator[Node]:
    fields = inner(tour.root, "/AcroForm", "/Fields")
    waiting: list[tuple[pikepdf.Object, ...]] = []
    waiting += reversed([(one,) for one in dictionaries(fields)])
    while waiting:
        tour.look_at_the_clock()
        chain = waiting.pop()
        own = chain[-1]
        if len(chain) > DEEPEST or own.objgen in seen:
            tour.trouble("the tree of form fields loops or is too large")
            continue
        seen |= {own.objgen} - {(0, 0)}
        kids = list(dictionaries(own.get("/Kids")))
        fields_below = [kid for kid in kids if kid.get("/T") is not None]
        widgets = [kid for kid in kids if kid.get("/T") is None] if kids else [own]
        seen |= {widget.objgen for widget in widgets} - {(0, 0)}
        page = next((places[w.objgen] for w in widgets if w.objgen in places), None)
        yield Node(chain, tuple(widgets), page)
        waiting += [(*chain, kid) for kid in reversed(fields_below)]


def _above(widget: pikepdf.Object) -> tuple[pikepdf.Object, ...]:
    chain: tuple[pikepdf.Object, ...] = (widget,)
    while isinstance(up := chain[0].get("/Parent"), pikepdf.Dictionary) and len(chain) < DEEPEST:
        chain = (up, *chain)
    return chain
