"""Transparency and overprint that a page switches on (ISO 32000-1, 11.6.4, 11.6.5, 8.6.7)."""

from __future__ import annotations

from collections.abc import Sequence

import pikepdf

from preflight.reading.structure.opening import entry, is_true

OVERPRINT = "overprint"
INK_MODE = "overprint mode 1"
"""Known only while a page is walked: then a share of 0 of an ink leaves what lies beneath."""
DEEPEST = 6
MOST_FORMS = 200
"""Form XObjects looked at for inks."""

_COLOURS = "k K cs CS sc SC scn SCN Do"
_OPAQUE_MODES = ("/Normal", "/Compatible")
_NEUTRAL_INKS = ("/Black", "/All", "/None")


def effects_of(state: pikepdf.Object) -> frozenset[str]:
    """The effects that a graphics state has; one that leaves everything opaque has none."""
    found = set()
    if any(_below_one(state.get(key)) for key in ("/ca", "/CA")):
        found.add("alpha")
    mode = state.get("/BM")
    first = mode[0] if isinstance(mode, pikepdf.Array) and len(mode) else mode
    if isinstance(first, pikepdf.Name) and str(first) not in _OPAQUE_MODES:
        found.add("blend mode")
    if isinstance(state.get("/SMask"), pikepdf.Dictionary):
        found.add("soft mask")
    if is_true(state.get("/OP")) or is_true(state.get("/op")):
        found.add(OVERPRINT)
    if state.get("/OPM") == 1:
        found.add(INK_MODE)
    return frozenset(found)


def _below_one(value: object) -> bool:
    try:
        return value is not None and float(value) < 1  # type: ignore[arg-type]  # anything may stand there
    except (TypeError, ValueError):
        return False


def inks_overprint(page: pikepdf.Object, *, ink_mode: bool) -> bool:
    """Whether the page paints with inks for which overprint matters: spot colours, with mode 1 also CMYK.

    Black alone over anything stays black. Where on the page overprint is on is not told.
    """
    return _Inks(ink_mode).used(page, page.get("/Resources"), 0)


class _Inks:
    def __init__(self, ink_mode: bool) -> None:
        self._ink_mode = ink_mode
        self._seen: set[tuple[int, int]] = set()

    def used(self, stream: pikepdf.Object, resources: object, depth: int) -> bool:
        if not isinstance(resources, pikepdf.Dictionary) or depth > DEEPEST or len(self._seen) > MOST_FORMS:
            return False
        spaces: dict[bool, object] = {}
        mixed = False
        for step in pikepdf.parse_content_stream(stream, _COLOURS):
            operator, operands = str(step.operator), list(step.operands)
            if operator == "Do" and operands:
                if self._form(entry(resources, "/XObject", operands[0]), resources, depth):
                    return True
            elif operator in ("cs", "CS") and operands:
                space = entry(resources, "/ColorSpace", operands[0])
                spaces[operator.islower()] = space if space is not None else operands[0]
                if _is_spot(space):
                    return True
            elif operator in ("k", "K") or spaces.get(operator.islower()) == "/DeviceCMYK":
                mixed |= _is_mixed(operands)
        return mixed and self._ink_mode

    def _form(self, found: object, above: object, depth: int) -> bool:
        if not isinstance(found, pikepdf.Stream) or found.get("/Subtype") != "/Form" or found.objgen in self._seen:
            return False
        self._seen.add(found.objgen)
        return self.used(found, found.get("/Resources", above), depth + 1)


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
