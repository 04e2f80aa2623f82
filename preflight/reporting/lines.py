"""Lines for a terminal: wrapped with a hanging indent, in columns, never markup, no idle spaces at their ends."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import zip_longest

from rich.cells import cell_len
from rich.console import Console
from rich.text import Text

from preflight.reporting.wording import clean

WIDEST = 120
"""Longer lines tire the eye, however wide the window."""
NARROWEST = 40
INDENT = 2
_GAP = 2
_SLIMMEST = 6

HEADING = "bold cyan"
"""One accent for headings; weight, not hue, says what matters, so that nothing is lost without colour."""
STRONG = "bold"
FAINT = "dim"


class Sheet:
    """A console that is written line by line; whatever text is given to it is made harmless first."""

    def __init__(self, console: Console) -> None:
        self._console = console
        self.width = max(NARROWEST, min(console.width, WIDEST))

    def blank(self) -> None:
        """An empty line."""
        self._put(Text())

    def heading(self, name: str, said: str = "") -> None:
        """A blank line, then the name in capitals with what it means."""
        self.blank()
        title = styled(name.upper(), HEADING)
        self.hang(title + plain(f": {said}") if said else title)

    def hang(self, text: Text | str, *, indent: int = 0, label: Text | str = "") -> None:
        """Text behind a label, wrapped; further lines stand under the first, without label a little to the right."""
        start = Text(" " * indent) + self._text(label)
        column = cell_len(start.plain)
        inset = column if label else column + _GAP
        for number, line in enumerate(self._wrapped(self._text(text), column, inset)):
            self._put((Text(" " * inset) if number else start) + line)

    def pair(self, text: Text, remark: Text, *, indent: int) -> None:
        """Text and a remark behind it, or below it where both do not fit on one line."""
        if indent + cell_len(text.plain) + 1 + cell_len(remark.plain) <= self.width:
            self.hang(text + Text(" ") + remark, indent=indent)
        else:
            self.hang(text, indent=indent)
            self.hang(remark, indent=indent)

    def rows(self, rows: Iterable[Sequence[Text | str]], *, indent: int = INDENT, right: Sequence[int] = ()) -> None:
        """Cells in columns, each as wide as needed; the widest wrap where there is no room. `right`: flush right."""
        cells = [[self._text(cell) for cell in row] for row in rows]
        if not cells:
            return
        widths = self._widths([max(cell_len(c.plain) for c in column) for column in zip(*cells, strict=True)], indent)
        flush = [column in right for column in range(len(widths))]
        for row in cells:
            stacks = [cell.wrap(self._console, width) for cell, width in zip(row, widths, strict=True)]
            for parts in zip_longest(*stacks, fillvalue=Text()):
                fitted = [_fitted(*part) for part in zip(parts, widths, flush, strict=True)]
                self._put(Text(" " * indent) + Text(" " * _GAP).join(fitted))

    def _widths(self, natural: list[int], indent: int) -> list[int]:
        widths = list(natural)
        room = self.width - indent - _GAP * (len(widths) - 1)
        while sum(widths) > room and max(widths) > _SLIMMEST:
            widths[widths.index(max(widths))] -= 1
        return widths

    def _wrapped(self, text: Text, first: int, inset: int) -> list[Text]:
        """The text in lines: the first begins at column `first`, the others at column `inset`."""
        lines = self._lines(text, first)
        if len(lines) == 1 or first == inset:
            return lines
        rest = text[len(lines[0].plain.rstrip()) :]
        blanks = len(rest.plain) - len(rest.plain.lstrip())
        return [lines[0], *self._lines(rest[blanks:], inset)]

    def _lines(self, text: Text, column: int) -> list[Text]:
        return list(text.wrap(self._console, max(_SLIMMEST, self.width - column)))

    def _text(self, text: Text | str) -> Text:
        return plain(text) if isinstance(text, str) else text

    def _put(self, line: Text) -> None:
        line.rstrip()
        self._console.print(line, no_wrap=True, overflow="ignore", crop=False, soft_wrap=True, highlight=False)


def _fitted(part: Text, width: int, flush_right: bool) -> Text:
    part.rstrip()
    idle = Text(" " * (width - cell_len(part.plain)))
    return idle + part if flush_right else part + idle


def plain(text: str) -> Text:
    """Harmless text without style."""
    return Text(clean(text))


def styled(text: str, style: str) -> Text:
    """Harmless text in one of the styles above."""
    return Text(clean(text), style=style)
