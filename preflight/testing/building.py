"""Facts, papers and filings from a few words, as a data file can hold them.

Every word that is not explained here is a field of the record that is built and is taken as it is, for instance
`blur` of a page or `version` of a file's structure. An unknown word is refused.
"""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, TypeVar

import msgspec

from preflight.facts import (
    CM_PER_PT,
    Bar,
    Box,
    Entry,
    Faint,
    Field,
    FileFacts,
    Fill,
    Font,
    Inside,
    Line,
    Page,
    Patch,
    Pen,
    Picture,
    Prose,
    Reading,
    Shade,
    Source,
    Structure,
    Tint,
)
from preflight.facts.money import Fee
from preflight.papers import BUILT_IN_ROLES, Declared, Filing, Kind, Paper, side_by_side

Words = Mapping[str, Any]
Record = TypeVar("Record", bound=msgspec.Struct)

SHEETS = {"A4": (21.0, 29.7), "Letter": (21.59, 27.94)}
"""Sizes that a page may be given by name."""
TODAY = dt.date(2026, 11, 25)
"""The day of filing where a case names none."""
PITCH = 0.75
"""Distance of lines of text that are given no place, in cm."""
LETTER = 0.19
"""Width of a character of such lines, in cm."""
BASE = 0.8
"""Where the base line of such a line lies, in its heights from the top."""
FIRST_LINE = (2.54, 2.54)
"""Where such lines begin: cm from the left and from the top."""
SHEET_NUMBER = 16.0
"""Size of a sheet number, in pt: larger than the characters."""
IN_HEADER = 1.2
IN_FOOTER = 1.3
"""Distance of header and footer from their edge, in cm."""
PLAIN_TEXT = ("The lever turns about a pin and moves the spring.", "The spring then lifts the cover.")
PADDING = 0.25
"""The box of a string that is read from a picture is higher than its letters by so much of them on either side."""
PLAIN_FIGURE = (4.0, 4.0, 16.0, 22.0)
"""Ink of a drawing sheet of which nothing is said: left, top, right, bottom."""


def page(said: Words | str = "", *, number: int = 1, kind: Kind = "text") -> Page:
    """A page as displayed, Letter size unless `sheet` says "A4" or [width, height]; `wide` lays it on its side.

    `text`: lines from the top down, each words alone or {text, at = [left, top], size, turned, oblique, visible, box,
    tints, advance}, a tint being [colour] for the whole line or {colour, number, box, ground}; with `times` it stands
    there so many times, one under the other;
    `head`, `foot`: a line in the middle of header or footer; `sheet_number`: a line at the top of the sight;
    `ink`: [left, top, right, bottom] round everything; without it the marks and lines decide;
    `marks`: boxes of ink besides the lines; `blank`: nothing at all; `colour`, `tone`: a share of the page, or a
    patch; `scrawls`: boxes of ink by hand; `bars`: [left, top, right, bottom, colour, crossed] each; `shades`:
    [left, top, right, bottom, colour] each; `pale`, `dark_edges`: boxes;
    `pens`: [width, grey, number] each, or {width, grey, number, box}; `faint`: [left, top, right, bottom, grey, area];
    `fills`: [left, top, right, bottom, area, grey, share, ringed]; `frame`: a box;
    `readings`: {text, box, mean, lowest, height, other} each, as read from the picture of the page;
    `writing`: the lines of a page of text that is a picture, read likewise, words alone or {text, at, mean}.
    A page of which nothing is said holds two lines of text, or a figure if its paper is drawings.
    """
    words: dict[str, Any] = dict(said) if isinstance(said, Mapping) else {"text": said} if said else {}
    width, height = _sheet(words.pop("sheet", "Letter"), wide=words.pop("wide", False))
    lines = [*_text_lines(words.pop("text", ())), *_placed_lines(words, width, height)]
    marks = [Box(*mark) for mark in words.pop("marks", ())]
    if not _told(words, lines, marks):
        lines, marks = _plain(kind, lines)
    ink = words.pop("ink", None)
    words.pop("blank", None)
    whole = [{"box": (0.0, 0.0, width, height)}] if "writing" in words else []
    pictures = tuple(_picture(p) for p in words.pop("pictures", whole))
    every = [*marks, *(ln.box for ln in lines if ln.visible), *(p.box for p in pictures if not ink)]
    return _made(
        Page,
        {
            "number": number,
            "width": width,
            "height": height,
            "ink": Box(*ink) if ink else Box.around(every),
            "marks": tuple(every or ([Box(*ink)] if ink else [])),
            "lines": tuple(lines),
            "pictures": pictures,
            "colour": _patch(words.pop("colour", 0.0)),
            "tone": _patch(words.pop("tone", 0.0)),
            "bars": tuple(Bar(Box(*b[:4]), *b[4:]) for b in words.pop("bars", ())),
            "scrawls": tuple(Box(*b) for b in words.pop("scrawls", ())),
            "dark_edges": tuple(Box(*b) for b in words.pop("dark_edges", ())),
            "shades": tuple(Shade(Box(*b[:4]), b[4]) for b in words.pop("shades", ())),
            "pale": tuple(Box(*b) for b in words.pop("pale", ())),
            "pens": tuple(_pen(p) for p in words.pop("pens", ())),
            "faint": tuple(Faint(Box(*f[:4]), *f[4:]) for f in words.pop("faint", ())),
            "fills": tuple(Fill(Box(*f[:4]), *f[4:]) for f in words.pop("fills", ())),
            "frame": _box(words.pop("frame", None)),
            "readings": _readings(words.pop("readings", None)),
            "writing": _writing(words.pop("writing", None)),
            **words,
        },
    )


def paper(said: Words, *, role: str = "specification", first: int = 1) -> Paper:
    """A paper: `role`, `file`, and its `pages`: page words each, or how many.

    `page`: words that hold for each of them; `numbers`: one page each with this footer ("" for none);
    `sheets`: one sheet each with this sheet number; `fields`: form fields, {name, value, kind, label, page, box}.
    `first`: the number of its first page within the file.
    """
    words = dict(said)
    role = words.pop("role", role)
    kind: Kind = next((r.kind for r in BUILT_IN_ROLES if r.id == role), "other")
    common = words.pop("page", {})
    each = _each_page(words)
    pages = tuple(
        page({**common, **(one if isinstance(one, Mapping) else {"text": one})}, number=first + n, kind=kind)
        for n, one in enumerate(each)
    )
    file = words.pop("file", f"{role}.pdf")
    return _made(
        Paper,
        {
            "role": role,
            "kind": kind,
            "file": file,
            "sha256": words.pop("sha256", None) or _digest(file),
            "pages": pages,
            "how_known": words.pop("how_known", "file name"),
            "fields": tuple(_field(f, first) for f in words.pop("fields", ())),
            **words,
        },
    )


def file_facts(said: Words | str) -> FileFacts:
    """A file: its name alone, or {name, size, media_type, unread, pages, structure, source}.

    A PDF of one page that opens unless something else is said: `structure` is false for a file that
    was not opened, or holds version, encrypted, fonts, repairs, `inside` (see `preflight.facts.Inside`) and so on.
    `source`: what a word processor's file says, {body, aside, saved, unread}; a paragraph is its words alone, or
    {text, computed, cell}.
    """
    words: dict[str, Any] = dict(said) if isinstance(said, Mapping) else {"name": said}
    name = words.pop("name", "specification.pdf")
    pdf = name.lower().endswith(".pdf")
    opened = words.pop("structure", {} if pdf and not words.get("unread") else False)
    pages = _each_page(words) if "pages" in words or pdf else []
    return _made(
        FileFacts,
        {
            "name": name,
            "size": words.pop("size", 40_000),
            "sha256": words.pop("sha256", None) or _digest(name),
            "media_type": words.pop("media_type", "application/pdf" if pdf else ""),
            "structure": None if opened is False else _structure(opened),
            "pages": () if words.get("unread") else tuple(page(p, number=n) for n, p in enumerate(pages, 1)),
            "source": _source(words.pop("source", None)),
            **words,
        },
    )


def filing(said: Words, *, fees: Iterable[Fee] = (), office: str = "us", kind: str = "provisional") -> Filing:
    """A filing: `papers` as for `paper`, further `files` as for `file_facts`, `left_out` entries, what is `declared`.

    Papers of one file are given in the order of their pages; a file of `files` that is named like theirs says more of
    it: its `structure`, its `size`, or why it is `unread`. The payment is made on the day of filing,
    25 November 2026, unless `filing_date` or `payment_date` say otherwise.
    """
    words = dict(said)
    papers = _papers(words.pop("papers", ()))
    extra = {file.name: file for file in map(file_facts, words.pop("files", ()))}
    held = [_said_more(file, extra.pop(file.name, None)) for file in _files_of(papers)]
    files = sorted([*held, *extra.values()], key=lambda f: f.name)
    left_out = [_made(Entry, dict(e)) for e in words.pop("left_out", ())]
    entries = [*(Entry(f.name, f.size, f.sha256) for f in files), *left_out]
    day = words.pop("filing_date", TODAY)
    return _made(
        Filing,
        {
            "office": office,
            "kind": kind,
            "entries": tuple(sorted(entries, key=lambda e: e.name)),
            "files": tuple(files),
            "papers": papers,
            "filing_date": day,
            "payment_date": words.pop("payment_date", day),
            "declared": msgspec.convert(words.pop("declared", {}), Declared),
            "fees": tuple(fees),
            "roles": BUILT_IN_ROLES,
            **words,
        },
    )


def _made(kind: type[Record], fields: dict[str, Any]) -> Record:
    known = kind.__struct_fields__
    if strange := [name for name in fields if name not in known]:
        raise ValueError(f"{kind.__name__} has no {' or '.join(strange)}; it has {', '.join(known)}")
    return kind(**fields)


def _box(said: Any) -> Box | None:
    return Box(*said) if said else None


def _pen(said: Any) -> Pen:
    """One that draws the plain figure unless a box is given."""
    words = dict(said) if isinstance(said, Mapping) else dict(zip(("width", "grey", "number"), said, strict=True))
    return _made(Pen, {**words, "box": _box(words.get("box", PLAIN_FIGURE))})


def _sheet(said: str | Iterable[float], *, wide: bool) -> tuple[float, float]:
    width, height = SHEETS[said] if isinstance(said, str) else tuple(said)
    return (height, width) if wide else (width, height)


def _told(words: Words, lines: list[Line], marks: list[Box]) -> bool:
    """Whether anything is said of what stands on the page."""
    return bool(lines or marks) or any(words.get(key) for key in ("ink", "unread", "pictures", "blank"))


def _plain(kind: Kind, lines: list[Line]) -> tuple[list[Line], list[Box]]:
    if kind == "drawing":
        return lines, [Box(*PLAIN_FIGURE)]
    return [*lines, *_text_lines(PLAIN_TEXT)], []


def _text_lines(said: str | Iterable[Words | str]) -> list[Line]:
    left, top = FIRST_LINE
    lines = []
    for number, words in enumerate(_each_line(said.splitlines() if isinstance(said, str) else said)):
        if words["text"]:
            lines.append(_line(words, left, top + number * PITCH))
    return lines


def _each_line(said: Iterable[Words | str]) -> Iterator[dict[str, Any]]:
    for one in said:
        words: dict[str, Any] = dict(one) if isinstance(one, Mapping) else {"text": one}
        times = words.pop("times", 1)
        yield from (dict(words) for _ in range(times))


def _placed_lines(words: dict[str, Any], width: float, height: float) -> list[Line]:
    """Header, footer and sheet number, in the middle of the page."""
    tops = {"head": IN_HEADER, "foot": height - IN_FOOTER, "sheet_number": FIRST_LINE[1] + 0.1}
    said = [(name, words.pop(name), top) for name, top in tops.items() if words.get(name)]
    for name in tops:
        words.pop(name, None)
    return [
        _line(
            {"text": text, "size": SHEET_NUMBER if name == "sheet_number" else 12.0},
            (width - LETTER * len(text)) / 2,
            top,
        )
        for name, text, top in said
    ]


def _line(words: dict[str, Any], left: float, top: float) -> Line:
    size = words.get("size", 12.0)
    left, top = words.pop("at", (left, top))
    long, high = LETTER * len(words["text"]) * size / 12, size * CM_PER_PT
    if words.get("turned", 0) in (90, 270):
        long, high = high, long
    box = Box(*(words.pop("box", None) or (left, top, left + long, top + high)))
    tints = tuple(_tint(tint, box, words["text"]) for tint in words.pop("tints", ()))
    base = None if words.get("turned") or words.get("oblique") else box.top + BASE * high
    if not words.get("visible", True):
        words.setdefault("hidden", "not painted")
    return _made(Line, {"size": size, "base": base, **words, "box": box, "tints": tints})


def _tint(said: Words | str, box: Box, text: str) -> Tint:
    words: dict[str, Any] = dict(said) if isinstance(said, Mapping) else {"colour": said}
    place = words.pop("box", None)
    return _made(Tint, {"number": len(text), **words, "box": Box(*place) if place else box})


def _readings(said: Iterable[Words] | None) -> tuple[Reading, ...] | None:
    return (
        None if said is None else tuple(_made(Reading, {"turned": 0, **one, "box": Box(*one["box"])}) for one in said)
    )


def _writing(said: Iterable[Words | str] | None) -> tuple[Reading, ...] | None:
    """Lines from the top down, in the boxes of the reader, which are higher than the letters."""
    if said is None:
        return None
    every: list[dict[str, Any]] = [{"text": one} if isinstance(one, str) else dict(one) for one in said]
    means = [one.pop("mean", 1.0) for one in every]
    return tuple(
        Reading(line.text, line.box.grown(line.box.height * PADDING), 0, mean, mean)
        for line, mean in zip(_text_lines(every), means, strict=True)
    )


def _picture(said: Words) -> Picture:
    return _made(Picture, {"width": 2550, "height": 3300, "dpi": 300.0, **said, "box": Box(*said["box"])})


def _patch(said: Words | float) -> Patch:
    if not isinstance(said, Mapping):
        return Patch(share=said)
    box = said.get("box")
    return _made(Patch, {**said, "box": Box(*box) if box else None})


def _each_page(words: dict[str, Any]) -> list[Any]:
    """What is said of each page; one page if nothing is."""
    if "numbers" in words:
        return [{"foot": number} for number in words.pop("numbers")]
    if "sheets" in words:
        return [{"sheet_number": number, "marks": [list(PLAIN_FIGURE)]} for number in words.pop("sheets")]
    pages = words.pop("pages", 1)
    return [""] * pages if isinstance(pages, int) else list(pages)


def _field(said: Words, first: int) -> Field:
    box = said.get("box")
    return _made(Field, {"kind": "text", "page": first, **said, "box": Box(*box) if box else None})


def _font(said: Words) -> Font:
    pages, lacking = tuple(said.get("pages", (1,))), tuple(said.get("lacking", ()))
    return _made(Font, {"kind": "TrueType", "embedded": True, **said, "pages": pages, "lacking": lacking})


def _structure(said: Words) -> Structure:
    words = dict(said)
    fonts = tuple(map(_font, words.pop("fonts", ())))
    fields = tuple(_field(f, 1) for f in words.pop("fields", ()))
    listed: dict[str, Any] = {n: tuple(words.pop(n)) for n in ("restrictions", "repairs") if n in words}
    inside = msgspec.convert(words.pop("inside", {}), Inside)
    return _made(Structure, {"version": "1.6", "fonts": fonts, "fields": fields, "inside": inside, **listed, **words})


def _source(said: Words | None) -> Source | None:
    if said is None:
        return None
    prose = {name: tuple(map(_prose, said.get(name, ()))) for name in ("body", "aside")}
    return _made(Source, {**said, **prose})


def _prose(said: Words | str) -> Prose:
    words: dict[str, Any] = dict(said) if isinstance(said, Mapping) else {"text": said}
    return _made(Prose, {**words, "computed": tuple(map(tuple, words.get("computed", ())))})


def _papers(said: Iterable[Words]) -> tuple[Paper, ...]:
    """The papers, those of one file with running page numbers."""
    pages: dict[str, int] = {}
    made: list[Paper] = []
    for one in said:
        name = one.get("file") or f"{one.get('role', 'specification')}.pdf"
        new = paper(one, first=pages.get(name, 0) + 1)
        pages[name] = new.last_page
        made.append(new)
    return side_by_side(sorted(made, key=lambda p: (p.file, p.first_page)))


def _files_of(papers: Iterable[Paper]) -> list[FileFacts]:
    held: dict[str, list[Paper]] = {}
    for one in papers:
        held.setdefault(one.file, []).append(one)
    return [
        FileFacts(
            name=name,
            size=40_000,
            sha256=group[0].sha256,
            media_type="application/pdf",
            structure=Structure(version="1.6", fields=tuple(f for p in group for f in p.fields)),
            pages=tuple(page for p in group for page in p.pages),
        )
        for name, group in held.items()
    ]


def _said_more(file: FileFacts, more: FileFacts | None) -> FileFacts:
    """The file of some papers as told in so many words, its pages and fields as the papers have them."""
    if more is None:
        return file
    structure = more.structure
    if structure and file.structure and not structure.fields:
        structure = msgspec.structs.replace(structure, fields=file.structure.fields)
    return msgspec.structs.replace(more, sha256=file.sha256, structure=structure, pages=file.pages)


def _digest(name: str) -> str:
    return hashlib.sha256(name.encode()).hexdigest()
