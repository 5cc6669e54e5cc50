"""Crank and piston without wrist-pin offset."""

from __future__ import annotations

from collections.abc import Iterator

from kb.calc.crank import crank_degrees, degrees_per_length, piston_position, piston_speed
from kb.publish.vectors.calculation import DEGREES, LENGTH, Calculation, Row, rows_of
from kb.publish.vectors.cases import powers, scattered, steps

SOURCE = (
    "J. B. Heywood, Internal Combustion Engine Fundamentals (1988), eq. 2.4 to 2.6 (from memory); "
    "Khurmi and Gupta, ch. 15"
)
CRANK = {"throw": LENGTH, "rod": LENGTH}
CRANKS = ((35.0, 125.0), (32.0, 120.0), (0.3, 1.0), (1.25, 4.625), (50.0, 75.0))
NO_CRANKS = ((125.0, 35.0), (35.0, 35.0), (0.0, 35.0), (-35.0, 125.0), (35.0, -125.0))


def _angles() -> Iterator[Row]:
    for throw, rod in CRANKS:
        angles = [0.0, *powers(-12, 0), *steps(3, 180, 59)] if rod == 125 else [1e-12, 1e-6, 0.01, *steps(0, 180, 24)]
        angles += [-24.0, 181.5, 359.999999, 360.0, 384.0, -1e-9, 89.9999999, 90.0000001, 179.9999999, 723.25]
        yield from rows_of("angle throw rod", *((angle, throw, rod) for angle in angles))
    yield from rows_of("angle throw rod", *((20.0, *crank) for crank in NO_CRANKS))


def _positions() -> Iterator[Row]:
    for throw, rod in CRANKS:
        parts = [*powers(-12, -2), *steps(1, 49, 48)] if rod == 125 else [1e-12, 1e-6, 0.001, *steps(1, 49, 24)]
        positions = [0.0, 2 * throw, *(part * throw / 25 for part in parts)]
        yield from rows_of("position throw rod", *((position, throw, rod) for position in positions))
        beyond = (-1e-9, -throw, 2 * throw * 1.000001, 5 * rod)
        yield from rows_of("position throw rod", *((position, throw, rod) for position in beyond))
    yield from rows_of("position throw rod", *((2.54, *crank) for crank in NO_CRANKS))


def _speeds() -> Iterator[Row]:
    names = "angle throw rod rpm"
    yield from rows_of(names, (75.0, 0.3, 1.0, 200.0), (40.0, 0.3, 1.5, 180.0), (60.0, 0.15, 0.6, 450.0))
    for throw, rod in CRANKS:
        angles = [0.0, 1e-12, 1e-6, 0.01, *steps(-180, 360, 54), 179.9999999]
        yield from rows_of(names, *((angle, throw, rod, 5000.0) for angle in angles))
    yield from rows_of(names, (20.0, 35.0, 125.0, 0.0), (20.0, 35.0, 125.0, -1.0))
    yield from rows_of(names, *((20.0, *crank, 300.0) for crank in NO_CRANKS))
    yield from rows_of(names, *scattered(40, (-180, 180), (20, 60), (70, 200), (200, 6500)))


CALCULATIONS = (
    Calculation(
        "piston-position",
        "how far the piston is below top dead centre: l + r - r cos t - sqrt(l^2 - r^2 sin^2 t), with r the "
        "throw (half the stroke), l the rod, t the angle from top dead centre on either side",
        SOURCE,
        {"angle": DEGREES, **CRANK},
        {"position": LENGTH},
        _angles,
        lambda angle, throw, rod: {"position": piston_position(angle, throw, rod)},
    ),
    Calculation(
        "piston-angle",
        "the crank angle, 0 to 180, at which the piston is so far below top dead centre: with a = l + r - x, "
        "cos t = (a^2 + r^2 - l^2) / (2 a r)",
        SOURCE,
        {"position": LENGTH, **CRANK},
        {"angle": DEGREES},
        _positions,
        lambda position, throw, rod: {"angle": crank_degrees(position, throw, rod)},
    ),
    Calculation(
        "degrees-per-length",
        "how many degrees of crank one unit of piston travel is at a position: the slope of piston-angle",
        SOURCE,
        {"position": LENGTH, **CRANK},
        {"slope": "deg for one unit of the length"},
        _positions,
        lambda position, throw, rod: {"slope": degrees_per_length(position, throw, rod)},
    ),
    Calculation(
        "piston-speed",
        "the piston's speed, positive on the way down: the slope of piston-position in radians times the crank's "
        "speed, 2 pi N / 60; the angle counts after top dead centre",
        "R. S. Khurmi and J. K. Gupta, Theory of Machines, 14th ed., ch. 15, ex. 15.3 to 15.5 (the exact values)",
        {"angle": "deg, after top dead centre positive", **CRANK, "rpm": "1/min"},
        {"speed": "the length's unit per second"},
        _speeds,
        lambda angle, throw, rod, rpm: {"speed": piston_speed(angle, throw, rod, rpm)},
        absolute=1e-300,
    ),
)
