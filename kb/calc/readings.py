"""Repeated readings: mean, scatter, combined and expanded uncertainty.

JCGM 100:2008, *Guide to the expression of uncertainty in measurement*: 4.2 (type A), 4.3.7 (a rectangular
distribution of half-width a has the standard uncertainty a/sqrt(3)), 5.1.2, annex G.4.1 (Welch-Satterthwaite).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum, hypot, inf, sqrt
from statistics import fmean, stdev

from kb.calc.coverage import combine
from kb.calc.finite import require_finite
from kb.errors import ReadingsContradict
from kb.frozen import record


@record()
class Spread:
    """The result of repeated readings; all but the count and the degrees of freedom in the readings' unit.

    ``scatter`` is the experimental standard deviation of one reading, ``of_mean`` that of their mean, ``combined`` the
    combined standard uncertainty with the instrument's own errors, ``freedom`` its effective degrees of freedom.
    """

    count: int
    mean: float
    scatter: float
    of_mean: float
    combined: float
    freedom: float

    def expanded(self, coverage: float = 2.0) -> float:
        """The expanded uncertainty for a coverage factor k, about 95 % for k = 2 and many degrees of freedom.

        For few degrees of freedom ``kb.calc.coverage`` has the factor.
        """
        return coverage * self.combined


def spread(readings: Sequence[float], half_widths: Sequence[float] = ()) -> Spread:
    """Mean, scatter and uncertainty of repeated readings of one thing.

    ``half_widths`` are those of rectangular errors common to all readings (an instrument's division, where the eye
    stood), in the same unit. At least two readings are needed.

    Raises:
        ReadingsContradict: fewer than two readings, or a negative half-width.
        NotFinite: a number is not finite.

    >>> result = spread([30, 30.5, 29.5, 30, 30.5], [0.25, 0.5, 0.5])
    >>> round(result.mean, 6), round(result.combined, 10), round(result.freedom, 2), round(result.expanded(), 4)
    (30.1, 0.4716990566, 161.65, 0.9434)
    """
    require_finite(*readings, *half_widths)
    if len(readings) < 2:
        raise ReadingsContradict("at least two readings are needed to see how far they scatter")
    if any(width < 0 for width in half_widths):
        raise ReadingsContradict("the half-width of an error is not negative")
    scatter = stdev(readings)
    of_mean = scatter / sqrt(len(readings))
    total = combine([(of_mean, len(readings) - 1), *((width / sqrt(3), inf) for width in half_widths)])
    return Spread(len(readings), fmean(readings), scatter, of_mean, total.standard, total.freedom)


@record()
class FittedLine:
    """A straight line through points: ``y = intercept + slope * x``, with the correlation of the points.

    ``count`` of the points, ``middle`` the mean of their x, ``width`` the sum of the squares of x less that, and
    ``scatter`` the standard deviation of one y about the line (zero for two points, which say nothing about it).
    """

    intercept: float
    slope: float
    correlation: float
    count: int = 0
    middle: float = 0.0
    width: float = 0.0
    scatter: float = 0.0

    def at(self, x: float) -> float:
        """The line's value at x."""
        return self.intercept + self.slope * x

    def uncertainty_at(self, x: float) -> float:
        """The standard uncertainty of the line's value at x, with ``count - 2`` degrees of freedom (H.3.4).

        Raises:
            ReadingsContradict: fewer than three points, which always lie on a line.
            NotFinite: x is not a finite number.
        """
        require_finite(x)
        if self.count < 3:
            raise ReadingsContradict("two readings are always in line: a third shows how far the line can be trusted")
        return self.scatter * hypot(1 / sqrt(self.count), (x - self.middle) / sqrt(self.width))

    @property
    def ends_correlation(self) -> float:
        """The correlation of the errors of intercept and slope, -1 to 1 (H.3.3)."""
        return -self.middle / hypot(self.middle, sqrt(self.width / self.count))


def fit_line(points: Sequence[tuple[float, float]]) -> FittedLine:
    """The line of least squares through (x, y) points (JCGM 100:2008, H.3).

    Raises:
        ReadingsContradict: fewer than two points, or all at one x.
        NotFinite: a number is not finite.

    >>> line = fit_line([(0, 24.0), (0.5, 25.0), (1, 25.8), (1.5, 26.7)])
    >>> round(line.slope, 9), round(line.intercept, 9)
    (1.78, 24.04)
    """
    require_finite(*(value for point in points for value in point))
    if len({x for x, _ in points}) < 2:
        raise ReadingsContradict("readings at two or more settings are needed")
    middle_x, middle_y = fmean(x for x, _ in points), fmean(y for _, y in points)
    xx = fsum((x - middle_x) ** 2 for x, _ in points)
    xy = fsum((x - middle_x) * (y - middle_y) for x, y in points)
    yy = fsum((y - middle_y) ** 2 for _, y in points)
    slope = xy / xx
    intercept = middle_y - slope * middle_x
    off = hypot(*(y - middle_y - slope * (x - middle_x) for x, y in points))
    scatter = off / sqrt(len(points) - 2) if len(points) > 2 else 0.0
    correlation = max(-1.0, min(1.0, xy / (sqrt(xx) * sqrt(yy)))) if yy else 0.0
    return FittedLine(intercept, slope, correlation, len(points), middle_x, xx, scatter)
