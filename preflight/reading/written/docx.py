"""WordprocessingML (ISO/IEC 29500-1, 17) as paragraphs."""

from __future__ import annotations

import posixpath
import re
from collections import Counter
from collections.abc import Mapping

from preflight.facts import Source
from preflight.reading.written.collecting import Collector
from preflight.reading.written.packed import Packed, Unreadable, attribute, saved

_LEFT_OUT = frozenset({"del", "moveFrom", "Fallback", "rt", "instrText", "delInstrText", "delText"})
"""Deleted text, the second form of what stands there already, readings above letters, and codes of fields."""
_STANDS = frozenset({"sym", "drawing", "pict", "object", "footnoteReference", "endnoteReference"})
"""What shows something that has no characters here."""
_SPACES = {"tab": " ", "ptab": " ", "br": " ", "cr": " ", "noBreakHyphen": "-", "softHyphen": ""}
_ASIDE = re.compile(r"(?:header|footer|footnotes|endnotes)\d*\.xml$")
_OFF = ("0", "false", "off")


def read_docx(package: Packed) -> Source:
    """The text of the main part, and that of headers, footers and notes beside it."""
    main = _main_part(package)
    body = _Reader(aside=False)
    package.hear(main, body)
    home = posixpath.dirname(main)
    aside = _Reader(aside=True)
    for name in package.names:
        if posixpath.dirname(name) == home and _ASIDE.match(posixpath.basename(name)):
            package.hear(name, aside)
    return Source(
        body=tuple(body.found.body),
        aside=(*body.found.aside, *aside.found.aside),
        saved=saved(package, "docProps/core.xml", "modified"),
    )


def _main_part(package: Packed) -> str:
    reader = _Relations()
    package.hear("_rels/.rels", reader)
    if reader.main not in package.names:
        raise Unreadable("it has no main part")
    return reader.main


class _Relations:
    main = ""

    def start(self, _name: str, attributes: Mapping[str, str]) -> None:
        if attribute(attributes, "Type").endswith("/officeDocument"):
            self.main = attribute(attributes, "Target").lstrip("/")

    def end(self, _name: str) -> None: ...

    def text(self, _data: str) -> None: ...


class _Field:
    """A field of several runs: its code, then what it shows."""

    def __init__(self, code: str = "", *, shows: bool = False) -> None:
        self.code = code
        self.shows = shows

    @property
    def computed(self) -> bool:
        """What a link shows was typed by the writer."""
        return self.shows and not self.code.lstrip().upper().startswith("HYPERLINK")


class _Reader:
    def __init__(self, *, aside: bool) -> None:
        self.found = Collector()
        self._aside = aside
        self._path: list[str] = []
        self._inside: Counter[str] = Counter()
        self._fields: list[_Field] = []
        self._left_out = 0
        self._hidden = False

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        what = _short(name)
        parent = self._path[-1] if self._path else ""
        self._path.append(what)
        self._inside[what] += 1
        self._left_out += what in _LEFT_OUT
        if self._left_out:
            return
        if what == "p":
            aside = self._aside or self._inside["txbxContent"] > 0
            self.found.begin(aside=aside, cell=self._inside["tc"] > 0)
        elif what == "r":
            self._hidden = False
        elif what == "vanish" and self._path[-3:-1] == ["r", "rPr"]:
            self._hidden = attribute(attributes, "val") not in _OFF
        elif what in _STANDS:
            self._add("", computed=True)
        elif what in _SPACES and parent == "r":
            self._add(_SPACES[what])
        elif what == "fldSimple":
            self._fields.append(_Field(attribute(attributes, "instr"), shows=True))
        elif what == "fldChar":
            self._field(attribute(attributes, "fldCharType"))

    def end(self, name: str) -> None:
        what = _short(name)
        if not self._left_out:
            if what == "p":
                self.found.finish()
            elif what == "fldSimple" and self._fields:
                self._fields.pop()
        self._left_out -= what in _LEFT_OUT
        self._inside[what] -= 1
        self._path.pop()

    def text(self, data: str) -> None:
        here = self._path[-1] if self._path else ""
        if here == "instrText" and self._fields and not self._fields[-1].shows:
            self._fields[-1].code = (self._fields[-1].code + data)[:200]
        elif here in ("t", "m:t") and not self._left_out:
            self._add(data, computed=here == "m:t")

    def _field(self, kind: str) -> None:
        if kind == "begin":
            self._fields.append(_Field())
        elif self._fields and kind == "separate":
            self._fields[-1].shows = True
        elif self._fields and kind == "end":
            self._fields.pop()
            self._add("", computed=True)  # a field may show what was not kept with it

    def _add(self, text: str, *, computed: bool = False) -> None:
        if not self._hidden:
            self.found.add(text, computed=computed or any(field.computed for field in self._fields))


def _short(name: str) -> str:
    """Names of WordprocessingML as they are, of formulas with "m:", of all else with "other:" where they may clash."""
    space, _, rest = name.rpartition(" ")
    if "wordprocessingml" in space or rest in ("Fallback", "txbxContent"):
        return rest
    return f"m:{rest}" if space.endswith("/math") else f"other:{rest}"
