"""What the pages show, by a walk through content streams: fonts that show text, images, transparency.

Walked are pages, form XObjects, tiling patterns, soft masks, the glyph programs of Type 3 fonts and the appearances
of annotations (ISO 32000-1, 7.8.2, 8.7.3, 8.10, 9.6.5, 11.5.2, 12.5.5). A form starts with the font of the place
where it stands. Left out: images and text that a pattern or a glyph program would inherit; images in glyph programs,
which are characters; transparency of annotations and glyphs.
"""

from __future__ import annotations

import time
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

import pikepdf

from preflight.reading.structure.effects import TooLong, effects_on, may_have_effect
from preflight.reading.structure.fonts import Face, Use, face_of
from preflight.reading.structure.images import Kept, kept
from preflight.reading.structure.opening import TROUBLES, OpenPdf, entry, plain

OPERATORS = "q Q gs Tf Tr Tj TJ ' \" Do scn SCN BI ID EI"
DEEPEST = 12
"""Form XObjects within each other."""
MOST_IMAGES = 5000
"""Images kept of one page."""

_INVISIBLE = 3
_HIDDEN = 2
_INLINE = "INLINE IMAGE"
_IN_GLYPHS = ("/Font", "/XObject", "/ExtGState", "/Pattern")
"""A glyph program without any of these in its resources only draws lines and dots."""

Place = tuple[int, int]


class _Text(NamedTuple):
    """Text shown; None is what the stream inherits from where it stands."""

    face: Face | None
    mode: int | None
    lacking: bool = False


_Shown = _Text | Kept | Literal["effect"]
"""Text, an image, or that a state is set that may have an effect."""
_NOTHING: frozenset[_Shown] = frozenset()


@dataclass
class Walked:
    """All that was found, and why it may not be all."""

    faces: dict[Face, Use] = field(default_factory=dict)
    images: list[tuple[int, Kept]] = field(default_factory=list)
    effects: list[tuple[int, str]] = field(default_factory=list)
    trouble: str | None = None
    effects_trouble: str | None = None


@dataclass
class _State:
    face: Face | None = None
    own_face: bool = False
    mode: int = 0
    own_mode: bool = False


@dataclass(frozen=True)
class _Names:
    """The resources of a stream, and whose they are."""

    resources: pikepdf.Object
    owner: Place


class TimeIsUp(Exception):
    """The walk takes too long."""


def walk_pages(opened: OpenPdf, until: float) -> Walked:
    """Every page; stops when the monotonic clock says `until`."""
    found, walk = Walked(), _Walk(until)
    for number, page in enumerate(opened.pages, start=1):
        try:
            shown = list(walk.page(page.obj, number))
            _take(found, number, shown)
            if (False, "effect") in shown:
                _take_effects(found, number, page.obj, until)
        except TimeIsUp:
            found.trouble = f"the fonts and pictures from page {number} on were not looked at: it took too long"
            return found
        except TROUBLES as error:
            walk.trouble = plain(error)
        if walk.trouble and not found.trouble:
            found.trouble = f"the fonts and pictures of page {number} could not all be read (qpdf: {walk.trouble})"
    return found


def _take(found: Walked, number: int, shown: Iterable[tuple[bool, _Shown]]) -> None:
    """What one page shows; an image counts once."""
    images: set[Kept] = set()
    for in_field, one in shown:
        if isinstance(one, Kept):
            images.add(one)
        elif isinstance(one, _Text) and one.face:
            use = found.faces.setdefault(one.face, Use())
            use.add(number, in_field=in_field, painted=(one.mode or 0) != _INVISIBLE, lacking=one.lacking)
    found.images += [(number, image) for image in sorted(images)[:MOST_IMAGES]]


def _take_effects(found: Walked, number: int, page: pikepdf.Object, until: float) -> None:
    try:
        found.effects += [(number, effect) for effect in sorted(effects_on(page, until))]
    except TooLong:
        why = f"the transparency of page {number} could not be told: it took too long"
        found.effects_trouble = found.effects_trouble or why


class _Walk:
    """Each stream is walked once with the same resources, however often it is placed."""

    def __init__(self, until: float) -> None:
        self.trouble: str | None = None
        """What stopped the reading of a stream; what it shows is not known."""
        self._until = until
        self._known: dict[tuple[Place, Place], frozenset[_Shown]] = {}
        self._faces: dict[Place, Face] = {}
        self._images: dict[Place, Kept] = {}

    def page(self, page: pikepdf.Object, number: int) -> Iterator[tuple[bool, _Shown]]:
        """(whether only a field shows it, what is shown) for the page and its annotations."""
        shown = self._stream(page, page.get("/Resources"), (-number, 0), 0)
        yield from ((False, one) for one in shown)
        annotations = page.get("/Annots")
        for annotation in annotations if isinstance(annotations, pikepdf.Array) else ():
            appearance = _appearance(annotation)
            if appearance is not None:
                in_field = annotation.get("/Subtype") == "/Widget"
                for one in self._form(appearance, None, 0):
                    if one != "effect":
                        yield in_field, one

    def _form(self, stream: pikepdf.Object, above: _Names | None, depth: int) -> frozenset[_Shown]:
        own, place = stream.get("/Resources"), stream.objgen
        names = _Names(own, place) if own is not None else above
        if names is None or depth > DEEPEST:
            return _NOTHING
        key = (place, names.owner)
        if place == (0, 0):
            return self._stream(stream, names.resources, names.owner, depth)
        if key not in self._known:
            self._known[key] = _NOTHING  # a form that shows itself adds nothing
            self._known[key] = self._stream(stream, names.resources, names.owner, depth)
        return self._known[key]

    def _stream(self, stream: pikepdf.Object, resources: object, owner: Place, depth: int) -> frozenset[_Shown]:
        if time.monotonic() > self._until:
            raise TimeIsUp
        if not isinstance(resources, pikepdf.Dictionary):
            return _NOTHING
        try:
            steps = pikepdf.parse_content_stream(stream, OPERATORS)
        except TROUBLES as error:
            self.trouble = plain(error)
            return _NOTHING
        return self._run(steps, _Names(resources, owner), depth)

    def _run(self, steps: Iterable[object], names: _Names, depth: int) -> frozenset[_Shown]:
        shown: set[_Shown] = set()
        state = _State()
        above: list[_State] = []
        for step in steps:
            match str(step.operator):  # type: ignore[attr-defined]
                case "q":
                    above.append(_State(state.face, state.own_face, state.mode, state.own_mode))
                case "Q":
                    state = above.pop() if above else state
                case operator if operator == _INLINE:
                    shown.add(kept(step.iimage.obj, names.resources))  # type: ignore[attr-defined]
                case operator if len(step.operands):  # type: ignore[attr-defined]
                    shown |= self._step(operator, list(step.operands), state, names, depth)  # type: ignore[attr-defined]
        return frozenset(shown)

    def _step(
        self, operator: str, operands: Sequence[object], state: _State, names: _Names, depth: int
    ) -> frozenset[_Shown]:
        """What one operator shows; it may change the state."""
        first, last = operands[0], operands[-1]
        match operator:
            case "Tf":
                self._set(state, entry(names.resources, "/Font", first))
            case "Tr":
                state.mode, state.own_mode = (first, True) if isinstance(first, int) else (state.mode, state.own_mode)
            case "gs":
                return self._graphics_state(entry(names.resources, "/ExtGState", first), state, names, depth)
            case "Do":
                return self._placed(entry(names.resources, "/XObject", first), state, names, depth)
            case "scn" | "SCN":
                return self._placed(entry(names.resources, "/Pattern", last), _State(own_face=True), names, depth)
            case _ if _shows(operands):
                return self._text(operands, state, names, depth)
        return _NOTHING

    def _text(self, operands: Sequence[object], state: _State, names: _Names, depth: int) -> frozenset[_Shown]:
        face = state.face
        mode = state.mode if state.own_mode else None
        if face is None:
            return _NOTHING if state.own_face else frozenset({_Text(None, mode)})
        text = frozenset({_Text(face, mode, lacking=face.lacks(_strings(operands)))})
        return text | self._glyph_programs(face, names, depth) if face.programs else text

    def _glyph_programs(self, face: Face, above: _Names, depth: int) -> frozenset[_Shown]:
        """What the glyphs of a Type 3 font show besides lines: all of them, whether they are used or not."""
        own = face.resources
        names = _Names(own, face.place) if isinstance(own, pikepdf.Dictionary) else above
        if depth > DEEPEST or not any(kind in names.resources for kind in _IN_GLYPHS):
            return _NOTHING
        key = ((0, 0), face.place) if names is not above else (face.place, above.owner)
        if key not in self._known:
            self._known[key] = _NOTHING
            programs = (self._stream(p, names.resources, names.owner, depth + 1) for p in face.programs)
            shown = frozenset(one for program in programs for one in program)
            self._known[key] = frozenset(one for one in shown if isinstance(one, _Text) and one.face)
        return self._known[key]

    def _placed(self, found: object, state: _State, names: _Names, depth: int) -> frozenset[_Shown]:
        """An image, or a form XObject or tiling pattern that begins with this state. Shadings show nothing."""
        if not isinstance(found, pikepdf.Stream):
            return _NOTHING
        if found.get("/Subtype") == "/Image":
            return frozenset({self._image(found, names.resources)})
        if found.get("/Subtype") != "/Form" and found.get("/PatternType") != 1:
            return _NOTHING
        shown = self._form(found, names, depth + 1)
        if not any(isinstance(one, _Text) and (one.face is None or one.mode is None) for one in shown):
            return shown
        return frozenset(one for one in (_inherit(one, state) for one in shown) if one is not None)

    def _image(self, image: pikepdf.Object, resources: pikepdf.Object) -> Kept:
        place = image.objgen
        if place not in self._images:
            self._images[place] = kept(image, resources)
        return self._images[place]

    def _graphics_state(self, found: object, state: _State, names: _Names, depth: int) -> frozenset[_Shown]:
        if not isinstance(found, pikepdf.Dictionary):
            return _NOTHING
        font = found.get("/Font")
        if isinstance(font, pikepdf.Array) and len(font):
            self._set(state, font[0])
        mask = found.get("/SMask")
        group = mask.get("/G") if isinstance(mask, pikepdf.Dictionary) else None
        effect: frozenset[_Shown] = frozenset({"effect"}) if may_have_effect(found) else _NOTHING
        return effect | self._placed(group, state, names, depth)

    def _set(self, state: _State, font: object) -> None:
        state.own_face = True
        state.face = None
        if isinstance(font, pikepdf.Dictionary):
            place = font.objgen
            state.face = self._faces.get(place) or face_of(font)
            if place != (0, 0):
                self._faces[place] = state.face


def _inherit(one: _Shown, state: _State) -> _Shown | None:
    """Text of a form as shown where the form stands; None where no font is set there."""
    if not isinstance(one, _Text):
        return one
    if one.face is None and state.own_face and state.face is None:
        return None
    return _Text(one.face or state.face, state.mode if one.mode is None and state.own_mode else one.mode, one.lacking)


def _strings(operands: Iterable[object]) -> Iterator[bytes]:
    for operand in operands:
        if isinstance(operand, pikepdf.Array):
            yield from _strings(operand)
        elif isinstance(operand, pikepdf.String):
            yield bytes(operand)


def _shows(operands: Iterable[object]) -> bool:
    """Whether a text operator has at least one character to show."""
    return any(_strings(operands))


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
