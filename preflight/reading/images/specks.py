"""Strings of digit-sized ink that the box finder passed over."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from preflight.reading.images.components import Components
from preflight.reading.images.engine import Rect

LOW, HIGH = 0.6, 1.5
"""Heights of ink that may be digits, by the height of the digits of the sheet."""
GAP = 0.45
LEVEL = 0.3
"""Between tops and between feet."""
FEWEST, MOST = 2, 5
"""Digits side by side."""
MOST_STRINGS = 300
"""Of one page: hatching and dotted lines give many."""


def strings_of(ink: Components, height: float, covered: Iterable[Rect]) -> Iterator[Rect]:
    """Places with two to five such pieces side by side, outside the covered places; `height` in pixels."""
    taken = list(covered)
    pieces = sorted(ink.specks(LOW * height, HIGH * height))
    free = [piece for piece in pieces if not any(_within(piece, box) for box in taken)]
    given = 0
    for run in _runs(free, height):
        if FEWEST <= len(run) <= MOST and given < MOST_STRINGS:
            given += 1
            yield Rect(
                min(p.left for p in run), min(p.top for p in run), max(p.right for p in run), max(p.bottom for p in run)
            )


def _within(piece: Rect, box: Rect) -> bool:
    across, down = (piece.left + piece.right) / 2, (piece.top + piece.bottom) / 2
    return box.left <= across <= box.right and box.top <= down <= box.bottom


def _runs(pieces: list[Rect], height: float) -> list[list[Rect]]:
    """Pieces in a row, each with its next neighbour to the right."""
    runs: list[list[Rect]] = []
    for piece in pieces:
        run = next((run for run in reversed(runs) if _next_to(run[-1], piece, height)), None)
        if run is None:
            runs.append([piece])
        else:
            run.append(piece)
    return runs


def _next_to(last: Rect, piece: Rect, height: float) -> bool:
    return (
        -0.2 * height < piece.left - last.right < GAP * height
        and abs(piece.top - last.top) < LEVEL * height
        and abs(piece.bottom - last.bottom) < LEVEL * height
    )
