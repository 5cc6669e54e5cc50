"""Repeated readings, their uncertainty, and the line through readings."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from kb.calc.coverage import combine, coverage_factor
from kb.calc.readings import fit_line, spread
from kb.publish.vectors.calculation import Calculation, Row, rows_of
from kb.publish.vectors.cases import powers, scattered, steps

GUIDE = "JCGM 100:2008, Guide to the expression of uncertainty in measurement"
SAME = "the readings' unit"
FREEDOM = "degrees of freedom, or null for no end of them"


def _readings() -> Iterator[Row]:
    names = "readings half_widths"
    yield from rows_of(names, ([30.0, 30.5, 29.5, 30.0, 30.5], [0.25, 0.5, 0.5]), ([20.0, 20.0], []))
    yield from rows_of(names, ([20.0, 20.0], [0.5]), ([1e9, 1e9 + 1, 1e9 + 2], []), ([0.0, 0.0], [0.0]))
    yield from rows_of(names, *(([20.0, 20.0 + size], [0.5]) for size in powers(-9, 1)))
    for count in (2, 3, 5, 8):
        for row in scattered(60, *((18, 22) for _ in range(count)), (0, 1), places=1, seed=count):
            yield from rows_of(names, (list(row[:count]), [row[count]] if count % 2 else []))
    yield from rows_of(names, ([30.0], []), ([], []), ([30.0, 31.0], [-1.0]), ([30.0, 31.0], [0.5, -0.1]))


def _parts() -> Iterator[Row]:
    yield {"parts": [[3.0, 4], [4.0, None]]}
    yield {"parts": [[25.0, 18], [9.7, 25.6], [2.9, 50], [16.6, 2]]}  # JCGM 100:2008, H.1.6
    yield from ({"parts": [[size, 3], [1.0, None]]} for size in powers(-9, 3))
    strewn = scattered(200, (0.01, 2), (1, 30), (0.01, 2), (1, 30), (0, 1))
    yield from ({"parts": [list(row[:2]), list(row[2:4]), [row[4], None]]} for row in strewn)
    yield from ({"parts": parts} for parts in ([], [[-1.0, 3]], [[1.0, 0]], [[1.0, -2]], [[0.0, None]], [[0.5, None]]))


def _factors() -> Iterator[Row]:
    names = "probability freedom"
    for probability in (0.5, 0.6827, 0.9, 0.95, 0.99, 0.9973):
        freedoms = (*range(1, 31), 16.75, 50, 99.5, 100, 500, 999, 1000, 1500, 10000, None)
        yield from rows_of(names, *((probability, freedom) for freedom in freedoms))
    yield from rows_of(names, *((probability, 5) for probability in steps(0.05, 0.95, 18)))
    yield from rows_of(names, (0.0, 5), (1.0, 5), (-0.5, 5), (95.0, 5), (0.95, 0.5), (0.95, 0), (0.95, -3))


def _points() -> Iterator[Row]:
    yield {"points": [[0.0, 24.0], [0.5, 25.0], [1.0, 25.8], [1.5, 26.7]], "at": 2.0}
    yield {"points": [[0.0, 24.0], [1.0, 26.0]], "at": 0.5}
    for count in (2, 3, 4, 6):
        for row in scattered(60, *((-3, 3) for _ in range(count)), *((15, 30) for _ in range(count)), seed=count):
            yield {"points": [list(point) for point in zip(row[:count], row[count:], strict=True)], "at": 1.5}
    yield from ({"points": [[0.0, 24.0], [size, 25.0], [1.0, 26.5]], "at": 0.0} for size in powers(-9, -1))
    yield from ({"points": points, "at": 1.0} for points in ([], [[1.0, 2.0]], [[1.0, 2.0], [1.0, 3.0]]))


def _spread(readings: list[float], half_widths: list[float]) -> Row:
    found = spread(readings, half_widths)
    return {
        "mean": found.mean,
        "scatter": found.scatter,
        "of_mean": found.of_mean,
        "combined": found.combined,
        "freedom": _ended(found.freedom),
        "expanded": found.expanded(),
    }


def _combined(parts: list[list[float | None]]) -> Row:
    found = combine([(part[0] or 0.0, inf if part[1] is None else part[1]) for part in parts])
    return {"standard": found.standard, "freedom": _ended(found.freedom)}


def _line(points: list[list[float]], at: float) -> Row:
    line = fit_line([(point[0], point[1]) for point in points])
    return {
        "intercept": line.intercept,
        "slope": line.slope,
        "value": line.at(at),
        "uncertainty": line.uncertainty_at(at) if line.count > 2 else None,
    }


def _ended(freedom: float) -> float | None:
    return None if freedom == inf else freedom


CALCULATIONS = (
    Calculation(
        "readings",
        "mean; scatter sqrt(sum of squares of the deviations / (n - 1)); of the mean scatter / sqrt(n); combined with "
        "half-widths a of rectangular errors, a / sqrt(3) each, by the root of the sum of squares; effective degrees "
        "of freedom by Welch-Satterthwaite; expanded twice the combined",
        f"{GUIDE}, 4.2, 4.3.7, 5.1.2, G.4.1",
        {"readings": "list of numbers in one unit", "half_widths": f"list, in {SAME}"},
        {"mean": SAME, "scatter": SAME, "of_mean": SAME, "combined": SAME, "freedom": FREEDOM, "expanded": SAME},
        _readings,
        _spread,
        relative=1e-9,
        absolute=1e-12,
    ),
    Calculation(
        "combined-uncertainty",
        "independent standard uncertainties, each [u, degrees of freedom], by the root of the sum of their squares; "
        "effective degrees of freedom uc^4 / sum(u^4 / freedom)",
        f"{GUIDE}, 5.1.2, G.4.1",
        {"parts": "list of [u in one unit, degrees of freedom or null for no end of them]"},
        {"standard": "the parts' unit", "freedom": FREEDOM},
        _parts,
        _combined,
    ),
    Calculation(
        "coverage-factor",
        "k so that Student's distribution with so many degrees of freedom (cut to a whole number; null: the normal "
        "distribution) has the probability between -k and k",
        f"{GUIDE}, G.3, G.4.1",
        {"probability": "1", "freedom": FREEDOM},
        {"factor": "1"},
        _factors,
        lambda probability, freedom: {"factor": coverage_factor(probability, inf if freedom is None else freedom)},
        relative=1e-10,
    ),
    Calculation(
        "line",
        "the line of least squares, its value at x and that value's standard uncertainty with n - 2 degrees of "
        "freedom (null for two points): s sqrt(1 / n + (x - mean x)^2 / sum of (x - mean x)^2)",
        f"{GUIDE}, H.3",
        {"points": "list of [x, y]", "at": "x"},
        {"intercept": "unit of y", "slope": "unit of y for one of x", "value": "unit of y", "uncertainty": "unit of y"},
        _points,
        _line,
        relative=1e-9,
        absolute=1e-11,
    ),
)
