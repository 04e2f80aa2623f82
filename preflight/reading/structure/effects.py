"""Transparency and overprint with which something is painted (ISO 32000-1, 11.6.3 to 11.6.5, 8.6.7).

A state that is set and not used has no effect: some programs switch off lines by making them see-through.
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass, replace

import pikepdf

from preflight.reading.structure.opening import entry, is_true

ALPHA, BLEND, MASK, OVERPRINT = "alpha", "blend mode", "soft mask", "overprint"
DEEPEST = 12
MOST_FORMS = 5000
"""Form XObjects walked for one page, each time that one is placed."""

_FILLS = frozenset(("f", "F", "f*", "B", "B*", "b", "b*", "sh", "INLINE IMAGE"))
_STROKES = frozenset(("S", "s", "B", "B*", "b", "b*"))
_TEXTS = frozenset(("Tj", "TJ", "'", '"'))
_OPERATORS = f"q Q gs Do BI ID EI sh Tr g rg k cs sc scn G RG K CS SC SCN {' '.join(_FILLS | _STROKES | _TEXTS)}"
_FILLED, _STROKED = (0, 2, 4, 6), (1, 2, 5, 6)
"""Text rendering modes (9.3.6)."""
_OPAQUE_MODES = ("/Normal", "/Compatible")
_NEUTRAL_INKS = ("/Black", "/All", "/None")


class TooLong(Exception):
    """The effects of a page cannot all be told."""


@dataclass(frozen=True)
class _Brush:
    """How lines or areas are painted."""

    alpha: float = 1.0
    overprint: bool = False
    space: object = None
    spot: bool = False
    mixed: bool = False
    """Inks of CMYK other than black alone."""


@dataclass(frozen=True)
class _State:
    fill: _Brush = _Brush()
    stroke: _Brush = _Brush()
    blend: bool = False
    mask: bool = False
    ink_mode: bool = False
    """Overprint mode 1: a share of 0 of an ink leaves what lies beneath."""
    text: int = 0


def may_have_effect(state: pikepdf.Object) -> bool:
    """Whether a graphics state sets anything that is not opaque."""
    set_ = _set(_State(), state)
    return bool(
        _effects(set_, set_.fill) or _effects(set_, set_.stroke) or set_.fill.overprint or set_.stroke.overprint
    )


def effects_on(page: pikepdf.Object, until: float) -> frozenset[str]:
    """The effects with which a page paints. Raises TooLong, and what pikepdf raises for a broken stream."""
    painting = _Painting(until)
    painting.run(page, page.get("/Resources"), _State(), 0)
    return frozenset(painting.found)


class _Painting:
    def __init__(self, until: float) -> None:
        self.found: set[str] = set()
        self._until = until
        self._forms = 0

    def run(self, stream: pikepdf.Object, resources: object, state: _State, depth: int) -> None:
        if not isinstance(resources, pikepdf.Dictionary) or depth > DEEPEST:
            return
        above: list[_State] = []
        for step in pikepdf.parse_content_stream(stream, _OPERATORS):
            operator = str(step.operator)
            if operator == "q":
                above.append(state)
            elif operator == "Q":
                state = above.pop() if above else state
            elif operator in _FILLS | _STROKES:
                self._paint(state, fill=operator in _FILLS, stroke=operator in _STROKES)
            elif operator in _TEXTS:
                self._paint(state, fill=state.text in _FILLED, stroke=state.text in _STROKED)
            elif step.operands:
                state = self._step(operator, list(step.operands), resources, state, depth)

    def _paint(self, state: _State, *, fill: bool, stroke: bool) -> None:
        if fill:
            self.found |= _effects(state, state.fill)
        if stroke:
            self.found |= _effects(state, state.stroke)

    def _step(
        self, operator: str, operands: Sequence[object], resources: pikepdf.Object, state: _State, depth: int
    ) -> _State:
        if operator == "gs":
            found = entry(resources, "/ExtGState", operands[0])
            return _set(state, found) if isinstance(found, pikepdf.Dictionary) else state
        if operator == "Tr":
            return replace(state, text=operands[0]) if isinstance(operands[0], int) else state
        if operator == "Do":
            self._placed(entry(resources, "/XObject", operands[0]), resources, state, depth)
            return state
        if operator in ("scn", "SCN"):
            self._placed(entry(resources, "/Pattern", operands[-1]), resources, _State(), depth)
        if operator.islower():
            return replace(state, fill=_coloured(state.fill, operator, operands, resources))
        return replace(state, stroke=_coloured(state.stroke, operator.lower(), operands, resources))

    def _placed(self, found: object, resources: object, state: _State, depth: int) -> None:
        """An image, or a form or tiling pattern with what it paints."""
        if not isinstance(found, pikepdf.Stream):
            return
        if found.get("/Subtype") == "/Image":
            self.found |= _effects(state, replace(state.fill, overprint=False))
            return
        self._forms += 1
        if self._forms > MOST_FORMS or time.monotonic() > self._until:
            raise TooLong
        self.run(found, found.get("/Resources", resources), state, depth + 1)


def _effects(state: _State, brush: _Brush) -> set[str]:
    """What painting with this brush does besides covering what lies beneath. Black over anything is black."""
    found = {BLEND} if state.blend else set()
    if state.mask:
        found.add(MASK)
    if brush.alpha < 1:
        found.add(ALPHA)
    if brush.overprint and (brush.spot or (brush.mixed and state.ink_mode)):
        found.add(OVERPRINT)
    return found


def _set(state: _State, wanted: pikepdf.Object) -> _State:
    """The state after `gs` (8.4.5)."""
    both = wanted.get("/OP")
    stroke = replace(
        state.stroke,
        alpha=_share(wanted.get("/CA"), state.stroke.alpha),
        overprint=state.stroke.overprint if both is None else is_true(both),
    )
    filled = wanted.get("/op", both)
    fill = replace(
        state.fill,
        alpha=_share(wanted.get("/ca"), state.fill.alpha),
        overprint=state.fill.overprint if filled is None else is_true(filled),
    )
    mode, mask, ink_mode = wanted.get("/BM"), wanted.get("/SMask"), wanted.get("/OPM")
    first = mode[0] if isinstance(mode, pikepdf.Array) and len(mode) else mode
    return replace(
        state,
        fill=fill,
        stroke=stroke,
        blend=str(first) not in _OPAQUE_MODES if isinstance(first, pikepdf.Name) else state.blend,
        mask=state.mask if mask is None else isinstance(mask, pikepdf.Dictionary),
        ink_mode=state.ink_mode if ink_mode is None else ink_mode == 1,
    )


def _share(value: object, otherwise: float) -> float:
    try:
        return otherwise if value is None else float(value)  # type: ignore[arg-type]  # anything may stand there
    except (TypeError, ValueError):
        return otherwise


def _coloured(brush: _Brush, operator: str, operands: Sequence[object], resources: pikepdf.Object) -> _Brush:
    """The brush after an operator for colour, in its lower case (8.6.8)."""
    if operator == "cs":
        named = entry(resources, "/ColorSpace", operands[0])
        space = operands[0] if named is None else named
        return replace(brush, space=space, spot=_is_spot(space), mixed=False)
    if operator == "k" or (operator in ("sc", "scn") and brush.space == "/DeviceCMYK"):
        space = brush.space if operator != "k" else None
        return replace(brush, space=space, spot=False, mixed=_is_mixed(operands))
    return brush if operator in ("sc", "scn") else replace(brush, space=None, spot=False, mixed=False)


def _is_spot(space: object) -> bool:
    if not isinstance(space, pikepdf.Array) or len(space) < 2:
        return False
    if space[0] == "/Separation":
        return str(space[1]) not in _NEUTRAL_INKS
    inks = space[1] if space[0] == "/DeviceN" else None
    return isinstance(inks, pikepdf.Array) and any(str(ink) not in _NEUTRAL_INKS for ink in inks)


def _is_mixed(shares: Sequence[object]) -> bool:
    """Cyan, magenta, yellow, black: anything but black alone, white included."""
    try:
        cyan, magenta, yellow, black = (float(share) for share in shares)  # type: ignore[arg-type]
    except (TypeError, ValueError):
        return False
    return not (cyan == magenta == yellow == 0 and black > 0)
