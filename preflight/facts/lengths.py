"""Lengths and boxes. 1 in = 2.54 cm = 72 pt (ISO 32000-1, 8.3.2.3: default user space unit)."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

CM_PER_INCH = 2.54
CM_PER_PT = CM_PER_INCH / 72
PT_PER_CM = 72 / CM_PER_INCH


class Box(msgspec.Struct, frozen=True, array_like=True):
    """A rectangle in cm from the top left corner of the page as displayed."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """In cm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """In cm."""
        return self.bottom - self.top

    @property
    def area(self) -> float:
        """In square cm."""
        return self.width * self.height

    @property
    def middle(self) -> tuple[float, float]:
        """The point half-way across and half-way down."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def touches(self, other: Box) -> bool:
        """Whether the two share a point; touching edges count."""
        return (
            self.left <= other.right
            and other.left <= self.right
            and self.top <= other.bottom
            and other.top <= self.bottom
        )

    def common(self, other: Box) -> Box:
        """What lies in both; they touch."""
        return Box(
            max(self.left, other.left),
            max(self.top, other.top),
            min(self.right, other.right),
            min(self.bottom, other.bottom),
        )

    def holds_middle_of(self, other: Box) -> bool:
        """Whether the middle of the other lies in it; its edges count."""
        across, down = other.middle
        return self.left <= across <= self.right and self.top <= down <= self.bottom

    def grown(self, by: float) -> Box:
        """The box with `by` cm added on every side."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    @staticmethod
    def around(boxes: Iterable[Box]) -> Box | None:
        """The smallest box round all of them; None if there are none."""
        every = list(boxes)
        if not every:
            return None
        return Box(
            min(b.left for b in every),
            min(b.top for b in every),
            max(b.right for b in every),
            max(b.bottom for b in every),
        )
