"""From standard uncertainties to an expanded one: combining them, and the coverage factor for a probability.

JCGM 100:2008, *Guide to the expression of uncertainty in measurement*: 5.1.2, G.3 (Student's distribution), G.4.1
(Welch-Satterthwaite; degrees of freedom cut to a whole number), G.6.4.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, floor, hypot, inf, isinf, pi, sin, sqrt
from statistics import NormalDist

from kb.calc.finite import require_finite
from kb.errors import ReadingsContradict
from kb.frozen import record

_MANY = 1000
"""Degrees of freedom from which on Student's distribution is taken from the normal one by its series."""


@record()
class Combined:
    """A combined standard uncertainty, in the unit of its parts, and its effective degrees of freedom."""

    standard: float
    freedom: float

    def expanded(self, probability: float = 0.95) -> float:
        """The expanded uncertainty that covers a share of all cases, in the same unit.

        Raises:
            ReadingsContradict: the probability is not between 0 and 1, or less than one degree of freedom.
            NotFinite: the probability is not a finite number.
        """
        return coverage_factor(probability, self.freedom) * self.standard


def combine(parts: Sequence[tuple[float, float]]) -> Combined:
    """Independent standard uncertainties combined: the root of the sum of their squares.

    ``parts`` are pairs of a standard uncertainty, all in one unit, and its degrees of freedom (``inf`` where it is
    taken as known, as the half-width of an instrument's division).

    Raises:
        ReadingsContradict: no parts, a negative uncertainty, or degrees of freedom that are not positive.
        NotFinite: an uncertainty is not finite, or degrees of freedom are not a number.

    >>> found = combine([(3.0, 4), (4.0, inf)])
    >>> found.standard, round(found.freedom, 3)
    (5.0, 30.864)
    """
    require_finite(*(standard for standard, _ in parts), *(freedom for _, freedom in parts if freedom != inf))
    if not parts:
        raise ReadingsContradict("without parts there is no uncertainty to combine")
    if any(standard < 0 or freedom <= 0 for standard, freedom in parts):
        raise ReadingsContradict("an uncertainty is not negative, and degrees of freedom are positive")
    standard = hypot(*(part for part, _ in parts))
    if standard == 0:
        return Combined(0.0, inf)
    share = sum((part / standard) ** 4 / freedom for part, freedom in parts)
    return Combined(standard, 1 / share if share > 0 else inf)


def coverage_factor(probability: float, freedom: float) -> float:
    """Student's factor k: the share ``probability`` of all cases lies within k standard uncertainties.

    ``probability`` between 0 and 1, as 0.95; ``freedom`` at least 1 and cut to a whole number as G.4.1 says, ``inf``
    for the normal distribution. From the closed sums of the distribution for whole degrees of freedom (M. Abramowitz
    and I. A. Stegun, *Handbook of Mathematical Functions*, 26.7.3 to 26.7.5, from memory), turned round by halving.

    Raises:
        ReadingsContradict: the probability is not between 0 and 1, or less than one degree of freedom.
        NotFinite: a number is not a number.

    >>> round(coverage_factor(0.95, inf), 2), round(coverage_factor(0.99, 16.75), 2)
    (1.96, 2.92)
    """
    require_finite(probability, *(() if freedom == inf else (freedom,)))
    if not 0 < probability < 1:
        raise ReadingsContradict(f"a probability lies between 0 and 1, such as 0.95; {probability} does not")
    if freedom < 1:
        raise ReadingsContradict(f"{freedom} degrees of freedom are too few; take another reading")
    normal = NormalDist().inv_cdf((1 + probability) / 2)
    if isinf(freedom):
        return normal
    whole = floor(freedom)
    return _by_series(normal, whole) if whole >= _MANY else _by_halving(probability, whole)


def _within(angle: float, freedom: int) -> float:
    """The share of all cases within ``sqrt(freedom) * tan(angle)``, for whole degrees of freedom."""
    square, term, total = cos(angle) ** 2, 1.0, 0.0
    odd = freedom % 2
    for step in range((freedom - odd) // 2):
        total += term
        term *= square * ((2 * step + 2) / (2 * step + 3) if odd else (2 * step + 1) / (2 * step + 2))
    return (angle + sin(angle) * cos(angle) * total) * 2 / pi if odd else sin(angle) * total


def _by_halving(probability: float, freedom: int) -> float:
    low, high = 0.0, pi / 2
    while low < (middle := (low + high) / 2) < high:
        if _within(middle, freedom) < probability:
            low = middle
        else:
            high = middle
    return sqrt(freedom) * sin(high) / cos(high)


def _by_series(z: float, freedom: int) -> float:
    """Student's quantile from the normal one, by the first terms of its expansion; the next is under 1e-15."""
    s, n = z * z, freedom
    return z * (
        1
        + (s + 1) / (4 * n)
        + ((5 * s + 16) * s + 3) / (96 * n**2)
        + (((3 * s + 19) * s + 17) * s - 15) / (384 * n**3)
        + ((((79 * s + 776) * s + 1482) * s - 1920) * s - 945) / (92160 * n**4)
    )
