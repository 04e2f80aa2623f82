"""OpenDocument text (ISO/IEC 26300, OASIS OpenDocument 1.3, part 3) as paragraphs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from preflight.facts import Source
from preflight.reading.written.collecting import Collector
from preflight.reading.written.packed import Packed, attribute, saved

_LEFT_OUT = frozenset(
    {"tracked-changes", "annotation", "note-citation", "hidden-text", "hidden-paragraph", "ruby-text", "title", "desc"}
)
"""Deleted text, comments, marks of notes, hidden text, readings above letters, and descriptions for the blind."""
_PARAGRAPHS = frozenset({"p", "h"})
_TYPED = frozenset(
    {"span", "a", "ruby", "ruby-base", "meta", "note", "note-body", "s", "tab", "line-break", *_PARAGRAPHS}
    | {"list", "list-item", "list-header", "section", "numbered-paragraph"}
)
"""Elements within a paragraph whose characters the writer typed; those of all others the program works out."""
_SPACES = {"s": " ", "tab": " ", "line-break": " "}
_STANDS = frozenset({"frame", "note", "custom-shape", "rect", "g"})
_COMPUTED = frozenset({"index-body", "object"})
_MOST_SPACES = 200


def read_odt(package: Packed) -> Source:
    """The text of the content, and that of headers and footers beside it."""
    body, aside = _Reader(aside=False), _Reader(aside=True)
    package.hear("content.xml", body)
    if "styles.xml" in package.names:
        package.hear("styles.xml", aside)
    return Source(
        body=tuple(body.found.body),
        aside=(*body.found.aside, *aside.found.aside),
        saved=saved(package, "meta.xml", "date"),
    )


class _Reader:
    def __init__(self, *, aside: bool) -> None:
        self.found = Collector()
        self._aside = aside
        self._inside: Counter[str] = Counter()
        self._left_out = 0
        self._computed = 0
        self._style = ""
        self._unseen: set[str] = set()
        """Styles whose text is not shown."""
        self._spans: list[bool] = []

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        what = _short(name)
        within = self.found.within
        if what == "span":
            self._spans.append(attribute(attributes, "style-name") in self._unseen)
            self._left_out += self._spans[-1]
        elif what == "style":
            self._style = attribute(attributes, "name")
        elif what == "text-properties" and attribute(attributes, "display") == "none":
            self._unseen.add(self._style)
        self._inside[what] += 1
        self._left_out += what in _LEFT_OUT
        self._computed += _is_computed(what, within=within)
        if self._left_out:
            return
        if what in _PARAGRAPHS:
            aside = self._aside or self._inside["text-box"] > 0 or self._inside["note-body"] > 0
            self.found.begin(aside=aside, cell=self._inside["table-cell"] > 0)
        elif what in _STANDS:
            self.found.add("", computed=True)
        elif what in _SPACES:
            count = attribute(attributes, "c")
            self.found.add(_SPACES[what] * min(int(count) if count.isdecimal() else 1, _MOST_SPACES))

    def end(self, name: str) -> None:
        what = _short(name)
        if what in _PARAGRAPHS and not self._left_out:
            self.found.finish()
        self._computed -= _is_computed(what, within=self.found.within)
        self._left_out -= what in _LEFT_OUT or (what == "span" and self._spans.pop())
        self._inside[what] -= 1

    def text(self, data: str) -> None:
        if not self._left_out:
            self.found.add(data, computed=self._computed > 0)


def _is_computed(what: str, *, within: bool) -> bool:
    return what in _COMPUTED or (within and what.startswith("text:") and what not in _TYPED)


def _short(name: str) -> str:
    """The local name; with "text:" in front for an element of text that is no known one."""
    space, _, rest = name.rpartition(" ")
    known = rest in _TYPED or rest in _LEFT_OUT or rest in _COMPUTED
    return f"text:{rest}" if space.endswith(":text:1.0") and not known else rest
