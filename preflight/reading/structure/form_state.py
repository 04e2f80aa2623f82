"""What kind of form it is, whether what is filled in shows, and certificates on it (ISO 32000-1, 12.7 and 12.8)."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import pikepdf

from preflight.facts import SignatureField
from preflight.reading.structure.annotations import HIDDEN, NO_VIEW, box_of
from preflight.reading.structure.form_nodes import Node
from preflight.reading.structure.walking import Tour, dictionaries, flags, inner, items, text

MOST_BYTES = 1_000_000
"""So much of a packet is searched for the word that makes a form dynamic."""

_PUSH_BUTTON, _PASSWORD = 1 << 16, 1 << 13
_PAINTS = re.compile(rb"T[jJ]|['\"]|\b(?:Do|EI|sh|[fF]\*?|[bB]\*?|[sS])\s")
_RENDERED = re.compile(rb"<dynamicRender[^>]*>\s*required\b")


def read_signature_fields(tour: Tour, nodes: Iterable[Node]) -> Iterator[SignatureField]:
    """Fields for certificates, signed or not; the one that the file's permissions name certifies it."""
    certifying = inner(tour.root, "/Perms", "/DocMDP")
    for node in nodes:
        if text(node.inherited("/FT")) != "Sig":
            continue
        value = node.inherited("/V")
        signed = isinstance(value, pikepdf.Dictionary) and bool(_bytes(value))
        same = certifying is not None and isinstance(value, pikepdf.Dictionary) and value.objgen == certifying.objgen
        box = box_of(tour.opened, node.page, node.widgets[0]) if node.page and node.widgets else None
        yield SignatureField(node.name, signed, signed and (same or _locks(value)), node.page, box)


def _bytes(signature: pikepdf.Object) -> bool:
    """Whether there is a signature in it: an entry that is only prepared holds nothing."""
    contents = signature.get("/Contents")
    return len(list(items(signature.get("/ByteRange")))) > 0 or (
        isinstance(contents, pikepdf.String) and bool(bytes(contents).strip(b"\0"))
    )


def _locks(signature: object) -> bool:
    return any(text(r.get("/TransformMethod")) == "DocMDP" for r in dictionaries(inner(signature, "/Reference")))


def has_usage_rights(tour: Tour) -> bool:
    """Whether the maker's program may do more with it than others."""
    return any(inner(tour.root, "/Perms", key) is not None for key in ("/UR", "/UR3"))


def xfa_kind(tour: Tour) -> str:
    """Empty, "static", or "dynamic" for a form whose pages a program of its maker is to lay out."""
    packets = inner(tour.root, "/AcroForm", "/XFA")
    if packets is None:
        return ""
    streams = [packets] if isinstance(packets, pikepdf.Stream) else [*items(packets)]
    held = [one for one in streams if isinstance(one, pikepdf.Stream)]
    asked = _true(tour.root.get("/NeedsRendering"))
    return "dynamic" if asked or any(_RENDERED.search(one.read_bytes()[:MOST_BYTES]) for one in held) else "static"


def needs_appearances(tour: Tour) -> bool:
    """Whether a viewer is to make up how the fields look."""
    form = tour.root.get("/AcroForm")
    return isinstance(form, pikepdf.Dictionary) and _true(form.get("/NeedAppearances"))


def _true(value: object) -> bool:
    return value is True


def read_unshown(tour: Tour, nodes: Iterable[Node]) -> Iterator[str]:
    """Names of fields with a value that none of their widgets shows. Fields hidden on purpose are left out."""
    for node in nodes:
        tour.look_at_the_clock()
        kind, bits = text(node.inherited("/FT")), node.inherited("/Ff")
        bits = bits if isinstance(bits, int) else 0
        seen = [w for w in node.widgets if not flags(w, "/F") & (HIDDEN | NO_VIEW)]
        if node.page is None or not seen or (kind == "Btn" and bits & _PUSH_BUTTON) or bits & _PASSWORD:
            continue
        value = _value(node.inherited("/V"))
        if kind == "Btn" and value not in ("", "Off"):
            shows = any(_state_painted(widget) for widget in seen)
        elif kind in ("Tx", "Ch") and value:
            shows = any(_painted(inner(widget, "/AP", "/N")) for widget in seen)
        else:
            continue
        if not shows:
            yield node.name or "without a name"


def _value(value: object) -> str:
    return " ".join(text(one) for one in items(value)) if isinstance(value, pikepdf.Array) else text(value)


def _state_painted(widget: pikepdf.Object) -> bool:
    state = text(widget.get("/AS"))
    return state not in ("", "Off") and _painted(inner(widget, "/AP", "/N", f"/{state}"))


def _painted(appearance: object) -> bool:
    """Whether an appearance paints anything; a coloured ground alone cannot be told from a value and counts."""
    return isinstance(appearance, pikepdf.Stream) and bool(_PAINTS.search(appearance.read_bytes()[:MOST_BYTES] + b" "))
