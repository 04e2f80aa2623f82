"""Words that somebody marked in colour, told from tinted cells and bands by how closely the colour fits the words."""

from __future__ import annotations

import msgspec

from preflight.facts import Box, Line, Page, Shade

BEFORE, BEHIND = 0.12, 0.25
"""A marker begins at most so many cm before the first letter of a line and ends so many behind its last: the cell of a
table keeps about 0.2 before. House values."""
RULED = 0.2
"""A rule so many cm above coloured words is that of a table: nothing else is drawn there. House value."""
CLOSE = 0.6
"""Coloured lines with less than so many line heights between them are one block. House value."""


class Highlight(msgspec.Struct, frozen=True):
    """Marked words of one line."""

    line: Line
    box: Box
    colour: str


def highlights(page: Page) -> tuple[Highlight, ...]:
    """From the top down. Coloured pieces side by side in a row are cells of a table; a band reaches past its words."""
    found = [(shade, line) for shade in page.shades if (line := _line_on(page, shade))]
    kept = []
    for block in _blocks(found):
        table = any(_cells(one, other) for one in block for other in block)
        if not table and all(_fits(shade, line) and not _ruled(page, shade) for shade, line in block):
            kept += [Highlight(line, shade.box, shade.colour) for shade, line in block]
    return tuple(sorted(kept, key=lambda one: (one.box.top, one.box.left)))


def _line_on(page: Page, shade: Shade) -> Line | None:
    return next((line for line in page.lines if line.visible and _lies_on(line, shade)), None)


def _lies_on(line: Line, shade: Shade) -> bool:
    level = line.box.top < shade.box.middle[1] < line.box.bottom
    return (
        level
        and not line.turned
        and not line.oblique
        and line.box.left < shade.box.right
        and shade.box.left < line.box.right
    )


def _fits(shade: Shade, line: Line) -> bool:
    return line.box.left - BEFORE <= shade.box.left and shade.box.right <= line.box.right + BEHIND


def _ruled(page: Page, shade: Shade) -> bool:
    """Whether a rule runs above it."""
    middle, top = shade.box.middle[0], shade.box.top
    return any(
        bar.box.left < middle < bar.box.right and top - RULED <= bar.box.top and bar.box.bottom <= top
        for bar in page.bars
    )


def _blocks(found: list[tuple[Shade, Line]]) -> list[list[tuple[Shade, Line]]]:
    """Those of one colour that stand close below or beside each other."""
    blocks: list[list[tuple[Shade, Line]]] = []
    for one in sorted(found, key=lambda pair: (pair[0].box.top, pair[0].box.left)):
        near = [block for block in blocks if any(_near(one[0], other) for other, _ in block)]
        blocks = [block for block in blocks if block not in near]
        blocks.append([*(pair for block in near for pair in block), one])
    return blocks


def _near(one: Shade, other: Shade) -> bool:
    apart = max(one.box.top, other.box.top) - min(one.box.bottom, other.box.bottom)
    return one.colour == other.colour and apart < CLOSE * max(one.box.height, other.box.height)


def _cells(one: tuple[Shade, Line], other: tuple[Shade, Line]) -> bool:
    """Whether two lines stand side by side in one row, each with its colour: cells do."""
    (_, first), (_, second) = one, other
    level = min(first.box.bottom, second.box.bottom) - max(first.box.top, second.box.top)
    return first is not second and level > first.box.height / 2
