"""Readings: sums in exact fractions, roots at sixty digits; Student's factor from the incomplete beta function."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import floor
from typing import Any

from scipy import stats

from tests.oracles.digits import Oracle, Refused, mp, number

CONTRADICT = "ReadingsContradict"


def readings(readings: list[float], half_widths: list[float]) -> dict[str, Any]:
    if len(readings) < 2 or min(half_widths, default=0) < 0:
        raise Refused(CONTRADICT)
    exact, count = [Fraction(value) for value in readings], len(readings)
    mean = sum(exact) / count
    variance = sum((value - mean) ** 2 for value in exact) / (count - 1)
    of_mean = variance / count
    combined = of_mean + sum(Fraction(width) ** 2 for width in half_widths) / 3
    return {
        "mean": mean,
        "scatter": mp.sqrt(number(variance)),
        "of_mean": mp.sqrt(number(of_mean)),
        "combined": mp.sqrt(number(combined)),
        "freedom": combined**2 * (count - 1) / of_mean**2 if of_mean else None,
        "expanded": 2 * mp.sqrt(number(combined)),
    }


def combined_uncertainty(parts: list[list[float | None]]) -> dict[str, Any]:
    exact = [(Fraction(u or 0), None if free is None else Fraction(free)) for u, free in parts]
    if not exact or any(u < 0 or (free is not None and free <= 0) for u, free in exact):
        raise Refused(CONTRADICT)
    square = sum(u * u for u, _ in exact)
    share = sum((u**4 / free for u, free in exact if free is not None), Fraction(0))
    return {"standard": mp.sqrt(number(square)), "freedom": square**2 / share if share else None}


def coverage_factor(probability: float, freedom: float | None) -> dict[str, Any]:
    if not 0 < probability < 1 or (freedom is not None and freedom < 1):
        raise Refused(CONTRADICT)
    wanted = number(probability)
    if freedom is None:
        return {"factor": mp.sqrt(2) * mp.erfinv(wanted)}
    n = floor(freedom)
    factor = number(float(stats.t.ppf((1 + probability) / 2, n)))
    with mp.workdps(30):
        for _ in range(2):  # from scipy's answer on by Newton, with the distribution at thirty digits
            outside = mp.betainc(mp.mpf(n) / 2, mp.mpf(1) / 2, 0, n / (n + factor**2), regularized=True)
            density = mp.gamma(mp.mpf(n + 1) / 2) / (mp.sqrt(n * mp.pi) * mp.gamma(mp.mpf(n) / 2))
            density *= (1 + factor**2 / n) ** (-mp.mpf(n + 1) / 2)
            factor += (wanted - (1 - outside)) / (2 * density)
    return {"factor": factor}


def normal_equations(points: Sequence[tuple[Fraction, Fraction]]) -> tuple[Fraction, Fraction, Fraction]:
    """Intercept, slope and the square of the correlation, by determinants of the sums as they are."""
    n = len(points)
    sx, sy = sum(x for x, _ in points), sum(y for _, y in points)
    sxx, sxy, syy = sum(x * x for x, _ in points), sum(x * y for x, y in points), sum(y * y for _, y in points)
    wide, tall = n * sxx - sx * sx, n * syy - sy * sy
    both = n * sxy - sx * sy
    squared = Fraction(both * both) / (wide * tall) if tall else Fraction(0)
    return Fraction(sxx * sy - sx * sxy) / wide, Fraction(both) / wide, squared


def line(points: list[list[float]], at: float) -> dict[str, Any]:
    exact = [(Fraction(x), Fraction(y)) for x, y in points]
    if len({x for x, _ in exact}) < 2:
        raise Refused(CONTRADICT)
    intercept, slope, _ = normal_equations(exact)
    count, x = len(exact), Fraction(at)
    uncertainty = None
    if count > 2:
        variance = sum((y - intercept - slope * each) ** 2 for each, y in exact) / (count - 2)
        middle = sum(each for each, _ in exact) / count
        wide = sum((each - middle) ** 2 for each, _ in exact)
        uncertainty = mp.sqrt(number(variance * (Fraction(1, count) + (x - middle) ** 2 / wide)))
    return {"intercept": intercept, "slope": slope, "value": intercept + slope * x, "uncertainty": uncertainty}


ORACLES: dict[str, Oracle] = {
    "readings": readings,
    "combined-uncertainty": combined_uncertainty,
    "coverage-factor": coverage_factor,
    "line": line,
}
