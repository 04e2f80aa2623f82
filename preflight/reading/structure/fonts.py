"""One font: its name and kind, whether it is embedded, may be, and says which characters its glyphs are.

ISO 32000-1, 9.6 to 9.10.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

import pikepdf

from preflight.facts import Font
from preflight.reading.structure.licences import forbids_embedding
from preflight.reading.structure.opening import TROUBLES, spelled

PROGRAMS = ("/FontFile", "/FontFile2", "/FontFile3")
MOST_GLYPHS = 1024
"""Glyph programs of one Type 3 font that are walked."""
LONGEST_MAP = 1_000_000
"""Bytes of a ToUnicode stream, as stored, that are looked at."""

_SUBSET = re.compile(r"^[A-Z]{6}\+")
_SYMBOLIC = 4
_NUMBERED = re.compile(r"/(?:\.notdef|(?:cid|glyph|index|[gGcCaA])\d+)")
"""Names of glyphs that tell no character."""
_ZERO = re.compile(rb"<0000>\s*(?:<0000>\s*)?\[?\s*<([0-9A-Fa-f]+)>")
_SPACES = (b"0020", b"00A0", b"0009", b"3000")


@dataclass(eq=False)
class Face:
    """A font of the file, as far as it matters here."""

    name: str
    kind: str
    embedded: bool
    subset: bool
    named: bool
    restricted: bool
    place: tuple[int, int]
    programs: tuple[pikepdf.Object, ...] = ()
    """The glyphs of a Type 3 font."""
    resources: object = None
    by_glyph: bool = False
    """Its codes are pairs of bytes that number the glyphs; glyph 0 stands for every character that it does not have."""
    to_unicode: object = None

    def lacks(self, shown: Iterable[bytes]) -> bool:
        """Whether it shows the glyph for a character that it does not have (9.7.6.3), spaces apart."""
        if not self.by_glyph:
            return False
        for text in shown:
            if b"\0\0" in text and any(text[i : i + 2] == b"\0\0" for i in range(0, len(text), 2)):
                return not self._zero_is_space
        return False

    @cached_property
    def _zero_is_space(self) -> bool:
        """Whether code 0 says that it is a space."""
        stream = self.to_unicode
        try:
            if isinstance(stream, pikepdf.Stream) and int(stream.get("/Length", 0)) <= LONGEST_MAP:
                found = _ZERO.search(stream.read_bytes())
                return found is not None and found[1].upper() in _SPACES
        except TROUBLES:
            pass
        return False


@dataclass
class Use:
    """Where and how a font shows text."""

    pages: set[int] = field(default_factory=set)
    outside_field: bool = False
    painted: bool = False
    lacking: set[int] = field(default_factory=set)

    def add(self, page: int, *, in_field: bool, painted: bool, lacking: bool) -> None:
        """One more text."""
        self.pages.add(page)
        self.outside_field |= not in_field
        self.painted |= painted
        if lacking and painted:
            self.lacking.add(page)


def listed(uses: Mapping[Face, Use]) -> tuple[Font, ...]:
    """The fonts by name; fonts that differ in nothing are one."""
    merged: dict[tuple[str, str, bool, bool, bool, bool], Use] = {}
    for face, use in uses.items():
        key = (face.name, face.kind, face.embedded, face.subset, face.named, face.restricted)
        one = merged.setdefault(key, Use())
        one.pages |= use.pages
        one.lacking |= use.lacking
        one.outside_field |= use.outside_field
        one.painted |= use.painted
    return tuple(
        Font(
            name=name,
            kind=kind,
            embedded=embedded,
            pages=tuple(sorted(use.pages)),
            in_field=not use.outside_field,
            invisible=not use.painted,
            subset=subset,
            named=named,
            restricted=restricted,
            lacking=tuple(sorted(use.lacking)),
        )
        for (name, kind, embedded, subset, named, restricted), use in sorted(merged.items())
    )


def face_of(font: pikepdf.Object) -> Face:
    """What its dictionary and its program say."""
    kind = str(font.get("/Subtype", "")).lstrip("/")
    holder = _descendant(font) if kind == "Type0" else font
    descriptor = holder.get("/FontDescriptor")
    program = _program(descriptor)
    called = font.get("/BaseFont") or holder.get("/BaseFont") or font.get("/Name")
    name = spelled(called) if called is not None else ""
    glyphs = font.get("/CharProcs") if kind == "Type3" else None
    return Face(
        name=_SUBSET.sub("", name)[:200],
        kind=kind,
        embedded=kind == "Type3" or program is not None,
        subset=bool(_SUBSET.match(name)),
        named=_is_named(font, holder, descriptor, kind),
        restricted=program is not None and forbids_embedding(program),
        place=font.objgen,
        programs=_streams(glyphs),
        resources=font.get("/Resources") if kind == "Type3" else None,
        by_glyph=kind == "Type0" and program is not None and _by_glyph(font, holder),
        to_unicode=font.get("/ToUnicode"),
    )


def _descendant(font: pikepdf.Object) -> pikepdf.Object:
    below = font.get("/DescendantFonts")
    return below[0] if isinstance(below, pikepdf.Array) and len(below) and _is_dictionary(below[0]) else font


def _is_dictionary(value: object) -> bool:
    return isinstance(value, pikepdf.Dictionary)


def _program(descriptor: object) -> pikepdf.Object | None:
    if not isinstance(descriptor, pikepdf.Dictionary):
        return None
    every = (descriptor.get(key) for key in PROGRAMS)
    return next((program for program in every if isinstance(program, pikepdf.Stream)), None)


def _streams(glyphs: object) -> tuple[pikepdf.Object, ...]:
    if not isinstance(glyphs, pikepdf.Dictionary):
        return ()
    every = (glyphs.get(name) for name in sorted(glyphs.keys())[:MOST_GLYPHS])
    return tuple(glyph for glyph in every if isinstance(glyph, pikepdf.Stream))


def _by_glyph(font: pikepdf.Object, holder: pikepdf.Object) -> bool:
    plain = str(font.get("/Encoding", "")) in ("/Identity-H", "/Identity-V")
    return plain and not isinstance(holder.get("/CIDToGIDMap"), pikepdf.Stream)


def _is_named(font: pikepdf.Object, holder: pikepdf.Object, descriptor: object, kind: str) -> bool:
    """9.10.2: ToUnicode, a known encoding, or a known collection of characters."""
    if isinstance(font.get("/ToUnicode"), pikepdf.Stream):
        return True
    encoding = font.get("/Encoding")
    if kind == "Type0":
        system = holder.get("/CIDSystemInfo")
        ordering = str(system.get("/Ordering", "")) if isinstance(system, pikepdf.Dictionary) else ""
        return ordering not in ("", "Identity", "UCS")
    if isinstance(encoding, pikepdf.Dictionary):
        names = [str(name) for name in _names(encoding.get("/Differences"))]
        return not names or not all(_NUMBERED.fullmatch(name) for name in names)
    if isinstance(encoding, pikepdf.Name):
        return True
    flags = descriptor.get("/Flags", 0) if isinstance(descriptor, pikepdf.Dictionary) else 0
    symbolic = isinstance(flags, int) and bool(flags & _SYMBOLIC)
    return kind in ("Type1", "MMType1", "TrueType") and not symbolic


def _names(differences: object) -> list[pikepdf.Object]:
    every = list(differences) if isinstance(differences, pikepdf.Array) else []
    return [name for name in every if isinstance(name, pikepdf.Name)]
