"""The fonts that show text, by a walk through content streams; a font that is only listed is not used.

Walked are pages, form XObjects, tiling patterns, soft masks and the appearances of annotations. Left
out: text that inherits its font into a form XObject, and the glyph programs of Type3 fonts.
"""

from __future__ import annotations

import re
import time
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

import pikepdf

from preflight.facts import Font
from preflight.reading.structure.opening import TROUBLES, OpenPdf, plain, spelled

OPERATORS = "q Q gs Tf Tr Tj TJ ' \" Do scn SCN"
DEEPEST = 12
"""Form XObjects within each other."""

_INVISIBLE = 3
_SUBSET = re.compile(r"^[A-Z]{6}\+")
_HIDDEN = 2

Key = tuple[str, str, bool]


@dataclass
class _Use:
    pages: set[int] = field(default_factory=set)
    outside_field: bool = False
    painted: bool = False


@dataclass
class _State:
    font: Key | None = None
    mode: int = 0


class TimeIsUp(Exception):
    """The walk takes too long."""


def read_fonts(opened: OpenPdf, until: float) -> tuple[tuple[Font, ...], str | None]:
    """The fonts used, by name, and why they may not be all; stops when the monotonic clock says `until`."""
    walk = _Walk(until)
    uses: dict[Key, _Use] = {}
    trouble: str | None = None
    for number, page in enumerate(opened.pages, start=1):
        try:
            for in_field, (key, painted) in walk.page(page.obj):
                use = uses.setdefault(key, _Use())
                use.pages.add(number)
                use.outside_field |= not in_field
                use.painted |= painted
        except TimeIsUp:
            return _fonts(uses), f"the fonts from page {number} on were not looked at: it took too long"
        except TROUBLES as error:
            walk.trouble = plain(error)
        if walk.trouble and not trouble:
            trouble = f"the fonts of page {number} could not all be read (qpdf: {walk.trouble})"
    return _fonts(uses), trouble


def _fonts(uses: dict[Key, _Use]) -> tuple[Font, ...]:
    return tuple(
        Font(*key, pages=tuple(sorted(use.pages)), in_field=not use.outside_field, invisible=not use.painted)
        for key, use in sorted(uses.items())
    )


class _Walk:
    """Each stream is walked once, however often it is placed."""

    def __init__(self, until: float) -> None:
        self.trouble: str | None = None
        """What stopped the reading of a stream; its fonts are not known."""
        self._until = until
        self._known: dict[tuple[int, int], frozenset[tuple[Key, bool]]] = {}
        self._keys: dict[tuple[int, int], Key] = {}

    def page(self, page: pikepdf.Object) -> Iterator[tuple[bool, tuple[Key, bool]]]:
        """(whether only a field shows it, (font, whether it is painted)) for the page and its annotations."""
        for use in self._stream(page, page.get("/Resources"), 0):
            yield False, use
        annotations = page.get("/Annots")
        for annotation in annotations if isinstance(annotations, pikepdf.Array) else ():
            appearance = _appearance(annotation)
            if appearance is not None:
                in_field = annotation.get("/Subtype") == "/Widget"
                for use in self._form(appearance, None, 0):
                    yield in_field, use

    def _form(self, stream: pikepdf.Object, above: object, depth: int) -> frozenset[tuple[Key, bool]]:
        own = stream.get("/Resources")
        place = stream.objgen
        if own is None or place == (0, 0):
            return self._stream(stream, own if own is not None else above, depth)
        if place not in self._known:
            self._known[place] = frozenset()  # a form that shows itself adds nothing
            self._known[place] = self._stream(stream, own, depth)
        return self._known[place]

    def _stream(self, stream: pikepdf.Object, resources: object, depth: int) -> frozenset[tuple[Key, bool]]:
        if time.monotonic() > self._until:
            raise TimeIsUp
        if depth > DEEPEST or not isinstance(resources, pikepdf.Dictionary):
            return frozenset()
        try:
            steps = pikepdf.parse_content_stream(stream, OPERATORS)
        except TROUBLES as error:
            self.trouble = plain(error)
            return frozenset()
        uses: set[tuple[Key, bool]] = set()
        state = _State()
        above: list[_State] = []
        for step in steps:
            match str(step.operator):
                case "q":
                    above.append(_State(state.font, state.mode))
                case "Q":
                    state = above.pop() if above else state
                case operator if len(step.operands):
                    uses |= self._step(operator, list(step.operands), state, resources, depth)
        return frozenset(uses)

    def _step(
        self, operator: str, operands: Sequence[object], state: _State, resources: pikepdf.Object, depth: int
    ) -> frozenset[tuple[Key, bool]]:
        """What one operator shows; it may change the state."""
        first, last = operands[0], operands[-1]
        match operator:
            case "Tf":
                state.font = self._key(_entry(resources, "/Font", first))
            case "Tr":
                state.mode = first if isinstance(first, int) else state.mode
            case "gs":
                return self._graphics_state(_entry(resources, "/ExtGState", first), state, resources, depth)
            case "Do":
                return self._placed(_entry(resources, "/XObject", first), resources, depth)
            case "scn" | "SCN":
                return self._placed(_entry(resources, "/Pattern", last), resources, depth)
            case _ if state.font is not None and _shows(operands):
                return frozenset({(state.font, state.mode != _INVISIBLE)})
        return frozenset()

    def _placed(self, found: object, resources: object, depth: int) -> frozenset[tuple[Key, bool]]:
        """A form XObject or a tiling pattern; images and shadings show no text."""
        if not isinstance(found, pikepdf.Stream):
            return frozenset()
        if found.get("/Subtype") == "/Form" or found.get("/PatternType") == 1:
            return self._form(found, resources, depth + 1)
        return frozenset()

    def _graphics_state(
        self, found: object, state: _State, resources: object, depth: int
    ) -> frozenset[tuple[Key, bool]]:
        if not isinstance(found, pikepdf.Dictionary):
            return frozenset()
        font = found.get("/Font")
        if isinstance(font, pikepdf.Array) and len(font):
            state.font = self._key(font[0])
        mask = found.get("/SMask")
        group = mask.get("/G") if isinstance(mask, pikepdf.Dictionary) else None
        return self._placed(group, resources, depth)

    def _key(self, font: object) -> Key | None:
        if not isinstance(font, pikepdf.Dictionary):
            return None
        place = font.objgen
        if place == (0, 0):
            return _describe(font)
        if place not in self._keys:
            self._keys[place] = _describe(font)
        return self._keys[place]


def _describe(font: pikepdf.Object) -> Key:
    kind = str(font.get("/Subtype", "")).lstrip("/")
    holder = font
    if kind == "Type0":
        below = font.get("/DescendantFonts")
        if isinstance(below, pikepdf.Array) and len(below) and isinstance(below[0], pikepdf.Dictionary):
            holder = below[0]
    descriptor = holder.get("/FontDescriptor")
    inside = kind == "Type3" or (
        isinstance(descriptor, pikepdf.Dictionary)
        and any(isinstance(descriptor.get(f), pikepdf.Stream) for f in ("/FontFile", "/FontFile2", "/FontFile3"))
    )
    name = font.get("/BaseFont") or holder.get("/BaseFont") or font.get("/Name")
    return _SUBSET.sub("", spelled(name) if name is not None else "")[:200], kind, inside


def _entry(resources: pikepdf.Object, kind: str, name: object) -> object:
    group = resources.get(kind)
    if not isinstance(group, pikepdf.Dictionary) or not isinstance(name, pikepdf.Name):
        return None
    return group.get(str(name))


def _shows(operands: Iterable[object]) -> bool:
    """Whether a text operator has at least one character to show."""
    return any(
        _shows(operand)
        if isinstance(operand, pikepdf.Array)
        else isinstance(operand, pikepdf.String) and len(bytes(operand)) > 0
        for operand in operands
    )


def _appearance(annotation: object) -> pikepdf.Object | None:
    """The normal appearance of an annotation that is not hidden, in its present state."""
    if not isinstance(annotation, pikepdf.Dictionary):
        return None
    flags = annotation.get("/F", 0)
    if isinstance(flags, int) and flags & _HIDDEN:
        return None
    every = annotation.get("/AP")
    normal = every.get("/N") if isinstance(every, pikepdf.Dictionary) else None
    if isinstance(normal, pikepdf.Dictionary):
        state = annotation.get("/AS")
        normal = normal.get(str(state)) if state is not None else None
    return normal if isinstance(normal, pikepdf.Stream) else None
