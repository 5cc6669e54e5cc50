"""How far the cylinders' compression readings lie apart, with the denominator named."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum

from kb.calc.finite import require_finite
from kb.errors import ReadingsContradict
from kb.frozen import record


@record()
class Apart:
    """The readings' lowest, highest and mean in their unit, and their difference as percent of each."""

    lowest: float
    highest: float
    mean: float
    of_highest: float
    of_mean: float
    of_lowest: float


def apart(readings: Sequence[float]) -> Apart:
    """How far pressures of several cylinders, all in one unit, lie apart.

    Raises:
        ReadingsContradict: fewer than two, or one that is not positive.
        NotFinite: a number is not finite.

    >>> result = apart([110, 122, 118])
    >>> round(result.of_highest, 3), round(apart([110, 122]).of_mean, 3), round(result.of_lowest, 3)
    (9.836, 10.345, 10.909)
    """
    require_finite(*readings)
    if len(readings) < 2:
        raise ReadingsContradict("a comparison needs at least two cylinders")
    if min(readings) <= 0:
        raise ReadingsContradict("a pressure is positive; leave out a cylinder that gives none")
    lowest, highest = min(readings), max(readings)
    mean = fsum(readings) / len(readings)
    difference = highest - lowest
    return Apart(lowest, highest, mean, 100 * difference / highest, 100 * difference / mean, 100 * difference / lowest)
