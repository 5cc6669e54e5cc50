"""A chart with two axes: the numbers along them, and the places of values on it."""

from __future__ import annotations

from math import ceil, floor

from kb.frozen import record
from kb.publish.drawings.picture import Picture, Point

_STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000)


@record()
class Axis:
    """One axis: from its first to its last value, a number every ``step``."""

    first: float
    last: float
    step: float

    def part(self, value: float) -> float:
        """Where a value lies between the ends, from 0 to 1."""
        return (value - self.first) / (self.last - self.first)

    def numbers(self) -> list[float]:
        """The values that bear a number."""
        return [self.first + self.step * count for count in range(round((self.last - self.first) / self.step) + 1)]


def axis_for(low: float, high: float, most: int) -> Axis:
    """An axis that holds both values in at most that many whole steps.

    >>> axis_for(21, 31, 8)
    Axis(first=20, last=32, step=2)
    """
    for step in _STEPS:
        first, last = floor(low / step) * step, ceil(high / step) * step
        last = last if last > first else first + step
        if (last - first) / step <= most:
            return Axis(first, last, step)
    raise ValueError(f"no axis holds {low} to {high}")


@record()
class ChartArea:
    """A rectangle with an axis along its lower edge and one up its left."""

    left: float
    top: float
    width: float
    height: float
    across: Axis
    upward: Axis

    def place(self, x: float, y: float) -> Point:
        """Where a pair of values lies."""
        return self.left + self.across.part(x) * self.width, self.top + (1 - self.upward.part(y)) * self.height

    def draw(self, picture: Picture, size: float) -> None:
        """Draw the axes with their numbers and a fine grid."""
        bottom = self.top + self.height
        for value in self.across.numbers():
            x = self.place(value, self.upward.first)[0]
            picture.line((x, self.top), (x, bottom), 0.4, "1 3")
            picture.line((x, bottom), (x, bottom + 4), 1)
            picture.text((x, bottom + 8 + size), _number_words(value), size, "middle", kind="number")
        for value in self.upward.numbers():
            y = self.place(self.across.first, value)[1]
            picture.line((self.left, y), (self.left + self.width, y), 0.4, "1 3")
            picture.line((self.left - 4, y), (self.left, y), 1)
            picture.text((self.left - 6, y + size * 0.35), _number_words(value), size, "end", kind="number")
        picture.line((self.left, bottom), (self.left + self.width, bottom), 1.4)
        picture.line((self.left, self.top), (self.left, bottom), 1.4)


def _number_words(value: float) -> str:
    return f"{abs(value):g}" + (" after" if value < 0 else "")
