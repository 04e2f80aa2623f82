"""Whether the views of a sheet stand apart (37 CFR 1.84(h)), as far as clusters of ink and labels tell it."""

from __future__ import annotations

import msgspec

from preflight.facts import Box, Page
from preflight.papers.pages.sheets import FigureLabel, labels_on
from preflight.papers.words.drawn import strings_on

LEAST = 1.5
"""In cm: a view is so long in one direction at the least. House value."""
THIN = 0.8
"""In cm: what is lower and holds writing is a line of words. House value."""


class Views(msgspec.Struct, frozen=True):
    """The labels of differently numbered views of a sheet, and the clusters of ink that may be views."""

    labels: tuple[FigureLabel, ...]
    clusters: tuple[Box, ...]

    @property
    def touch(self) -> bool:
        """Whether there are fewer clusters than views: then two views are in one."""
        return len(self.clusters) < len(self.labels)


def views_on(page: Page) -> Views:
    """Those of one sheet. Pieces of one view (2A, 2B) may be joined, as the waveforms of a group may."""
    labels = {label.number: label for label in reversed(labels_on(page)) if not _shared(label, page)}
    return Views(tuple(labels[number] for number in sorted(labels)), tuple(_clusters(page)))


def _shared(label: FigureLabel, page: Page) -> bool:
    """Whether one label names several views of one drawing."""
    return any(other.box == label.box and other.number != label.number for other in labels_on(page))


def _clusters(page: Page) -> list[Box]:
    """Loose parts count too: so this says of some views that touch that they do not, and seldom the reverse."""
    words = [one.box for one in strings_on(page)]
    large = [mark for mark in page.marks if max(mark.width, mark.height) >= LEAST]
    return [mark for mark in large if min(mark.width, mark.height) >= THIN or not any(map(mark.touches, words))]
