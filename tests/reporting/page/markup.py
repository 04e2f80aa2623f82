"""Reads a page as a browser's parser would, with the parser of the standard library."""

from __future__ import annotations

import re
from collections import Counter
from html.parser import HTMLParser

VOID = {"meta", "link", "br"}
UNSAID = {"style"}
INLINE = {"a", "b", "bdi", "code", "span", "strong", "td", "th", "dt", "dd", "summary"}


class Markup(HTMLParser):
    """Elements with their attributes, and the text that is shown, a line for each block."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: Counter[str] = Counter()
        self.attributes: list[tuple[str, str, str]] = []
        self.unbalanced: list[str] = []
        self._open: list[str] = []
        self._text: list[str] = []
        self.feed(page)
        self.close()
        self.unbalanced += self._open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags[tag] += 1
        self.attributes += [(tag, name, value or "") for name, value in attrs]
        if tag not in VOID:
            self._open.append(tag)
        self._text.append(" " if tag in INLINE else "\n")

    def handle_endtag(self, tag: str) -> None:
        if not self._open or self._open.pop() != tag:
            self.unbalanced.append(tag)
        self._text.append(" " if tag in INLINE else "\n")

    def handle_data(self, data: str) -> None:
        if not UNSAID & set(self._open):
            self._text.append(re.sub(r"\s+", " ", data))

    @property
    def text(self) -> str:
        """What a person reads, without idle space."""
        lines = (" ".join(line.split()) for line in "".join(self._text).split("\n"))
        return "\n".join(line for line in lines if line) + "\n"

    def values(self, name: str) -> list[str]:
        """All values of one attribute."""
        return [value for _, attribute, value in self.attributes if attribute == name]
