"""The fields of an AcroForm: names, values and places, from the field tree and from the pages' widgets."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import pikepdf
from msgspec.structs import replace

from preflight.facts import Box, Field
from preflight.reading.structure.opening import TROUBLES, OpenPdf, numbers, plain
from preflight.reading.structure.xfa import value_of, xfa_values

DEEPEST = 32
MOST = 20_000
LONGEST = 20_000
"""Characters kept of a value."""

_PUSH_BUTTON = 1 << 16
_KINDS = {"/Tx": "text", "/Btn": "tick", "/Ch": "choice", "/Sig": "signature"}

Place = tuple[int, int]


@dataclass(frozen=True)
class _Widget:
    page: int
    box: Box | None
    state: str | None


def read_fields(opened: OpenPdf) -> tuple[tuple[Field, ...], bool, str | None]:
    """The fields in the order of the tree, whether there is an XFA form, and why the fields may not be all.

    One Field a name: of several widgets the one that is ticked gives the place, else the first.
    """
    try:
        form = opened.pdf.Root.get("/AcroForm")
        if not isinstance(form, pikepdf.Dictionary):
            form = pikepdf.Dictionary()
        tree = _Tree(opened)
        tree.walk(form.get("/Fields"))
        tree.add_strays()
        values = xfa_values(form)
        return tuple(_filled(field, values) for field in tree.fields), form.get("/XFA") is not None, tree.trouble
    except TROUBLES as error:
        return (), False, f"the form fields could not be read (qpdf: {plain(error)})"


def _filled(field: Field, values: dict[tuple[str, ...], str]) -> Field:
    """The field with the value that only the XFA data holds; a tick box is on for any number but 0."""
    text = value_of(field.name, values) if values and field.value is None else None
    if text is None or field.kind not in ("text", "choice", "tick") or (field.kind == "tick" and text == "0"):
        return field
    return replace(field, value=text[:LONGEST])


class _Tree:
    def __init__(self, opened: OpenPdf) -> None:
        self.fields: list[Field] = []
        self.trouble: str | None = None
        self._seen: set[Place] = set()
        self._widgets: dict[Place, _Widget] = {}
        self._strays: list[tuple[pikepdf.Object, _Widget]] = []
        for number in range(1, len(opened.pages) + 1):
            self._find_widgets(opened, number)

    def _find_widgets(self, opened: OpenPdf, number: int) -> None:
        annotations = opened.pages[number - 1].obj.get("/Annots")
        if not isinstance(annotations, pikepdf.Array):
            return
        sheet = opened.sheet(number)
        for annotation in _items(annotations):
            if not isinstance(annotation, pikepdf.Dictionary) or annotation.get("/Subtype") != "/Widget":
                continue
            corners = numbers(annotation.get("/Rect"))
            known = len(corners) == 4 and all(math.isfinite(c) for c in corners)
            box = sheet.to_display.box(corners) if known else None
            widget = _Widget(number, box, _state(annotation.get("/AS")))
            if annotation.objgen != (0, 0):
                self._widgets.setdefault(annotation.objgen, widget)
            self._strays.append((annotation, widget))

    def walk(self, fields: object) -> None:
        """Everything below the form's own list."""
        for field in _items(fields):
            self._field(field, (), 0)

    def add_strays(self) -> None:
        """Widgets on a page that the form's own list does not reach."""
        for annotation, widget in self._strays:
            top = annotation
            chain = [annotation]
            while isinstance(above := top.get("/Parent"), pikepdf.Dictionary) and len(chain) < DEEPEST:
                top = above
                chain.insert(0, top)
            if not any(link.objgen in self._seen for link in chain if link.objgen != (0, 0)):
                self._add(chain, [widget])
                self._seen.update(link.objgen for link in chain[-1:])

    def _field(self, node: object, above: tuple[pikepdf.Object, ...], depth: int) -> None:
        if not isinstance(node, pikepdf.Dictionary):
            return
        if depth > DEEPEST or len(self.fields) > MOST or (node.objgen != (0, 0) and node.objgen in self._seen):
            self.trouble = "the tree of form fields loops or is too large"
            return
        self._seen.add(node.objgen)
        chain = (*above, node)
        children = [kid for kid in _items(node.get("/Kids")) if isinstance(kid, pikepdf.Dictionary)]
        named = [kid for kid in children if kid.get("/T") is not None]
        if named:
            for kid in children:
                self._field(kid, chain, depth + 1)
            return
        self._seen.update(kid.objgen for kid in children)
        places = [self._widgets.get(w.objgen) for w in (node, *children)]
        self._add(chain, [place for place in places if place is not None])

    def _add(self, chain: tuple[pikepdf.Object, ...] | list[pikepdf.Object], widgets: list[_Widget]) -> None:
        kind = _kind(chain)
        ticked = next((w for w in widgets if w.state), None)
        place = (ticked if kind == "tick" else None) or next(iter(widgets), None)
        value = _text(_inherited(chain, "/V"))
        if kind == "tick":
            value = value if value not in (None, "", "Off") else ticked.state if ticked else None
        self.fields.append(
            Field(
                name=".".join(str(link.get("/T")) for link in chain if link.get("/T") is not None)[:LONGEST],
                kind=kind,
                value=value or None,
                label=(_text(chain[-1].get("/TU")) or "")[:LONGEST],
                page=place.page if place else None,
                box=place.box if place else None,
            )
        )


def _items(array: object) -> Iterator[pikepdf.Object]:
    if isinstance(array, pikepdf.Array):
        yield from array


def _inherited(chain: tuple[pikepdf.Object, ...] | list[pikepdf.Object], key: str) -> object:
    return next((link.get(key) for link in reversed(chain) if link.get(key) is not None), None)


def _kind(chain: tuple[pikepdf.Object, ...] | list[pikepdf.Object]) -> str:
    flags = _inherited(chain, "/Ff")
    kind = _KINDS.get(str(_inherited(chain, "/FT")), "other")
    return "other" if kind == "tick" and isinstance(flags, int) and flags & _PUSH_BUTTON else kind


def _state(name: object) -> str | None:
    """The state of a tick box; None for off."""
    text = str(name).lstrip("/") if isinstance(name, pikepdf.Name) else None
    return None if text in (None, "", "Off") else text


def _text(value: object) -> str | None:
    """A value in characters: strings, names, the items of a list, or the text of a stream."""
    if isinstance(value, pikepdf.Name):
        return str(value)[1:]
    if isinstance(value, pikepdf.String):
        return str(value)[:LONGEST]
    if isinstance(value, pikepdf.Array):
        return ", ".join(filter(None, (_text(item) for item in _items(value))))[:LONGEST]
    if isinstance(value, pikepdf.Stream):
        return str(pikepdf.String(value.read_bytes()))[:LONGEST]
    if isinstance(value, pikepdf.Dictionary):  # a signature
        return "signed"
    return None if value is None else str(value)[:LONGEST]
