"""Distances along and across the flywheel's rim, and degrees between numbered marks."""

from __future__ import annotations

from collections.abc import Iterator

from kb.calc.rim import angle_of_arc, angle_of_chord, arc, between_marks, chord, from_nearest_mark
from kb.publish.vectors.calculation import BEFORE, DEGREES, LENGTH, Calculation, Row, rows_of
from kb.publish.vectors.cases import powers, scattered, steps

SOURCE = "plain geometry of the circle; spacing of divisions on a circle, machinists' handbooks"
TAPE = {"diameter": LENGTH, "tape_thickness": LENGTH}


def _tape(first: str) -> Iterator[Row]:
    names = f"{first} diameter tape_thickness"
    yield from rows_of(names, *((size, 240.0, 0.0) for size in (0.0, *powers(-12, 0), *steps(-180, 360, 54))))
    yield from rows_of(names, *((62.0, 240.0, thickness) for thickness in powers(-3, 0)))
    yield from rows_of(names, *scattered(120, (-360, 720), (60, 420), (0, 0.5)))
    yield from rows_of(names, (10.0, 0.0, 0.0), (10.0, -240.0, 0.0), (10.0, 240.0, -0.1), (10.0, 0.5, 0.0))


def _across() -> Iterator[Row]:
    angles = (0.0, *powers(-12, 0, "1", "-2", "5"), *steps(-180, 180, 90), 179.999, 180.001, -181.0)
    yield from rows_of("angle diameter", *((angle, 240.0) for angle in angles))
    yield from rows_of("angle diameter", *scattered(120, (-180, 180), (60, 420)))
    yield from rows_of("angle diameter", (10.0, 0.0), (10.0, -240.0))


def _callipers() -> Iterator[Row]:
    distances = (0.0, *powers(-12, 0, "1", "-2", "5"), *steps(-236, 236, 118), 240.0, -240.0, 240.001, -300.0)
    yield from rows_of("distance diameter", *((distance, 240.0) for distance in distances))
    yield from rows_of("distance diameter", *scattered(120, (-55, 55), (60, 420)))
    yield from rows_of("distance diameter", (10.0, 0.0), (10.0, -240.0))


def _marks() -> Iterator[Row]:
    names = "angle marks division"
    several: list[float] = [-9.0, 9.0, 18.0, 27.0]
    yield from rows_of(names, (19.0, [21.0], 1.0), (19.0, [9.0, 18.0, 27.0], 1.0), (-5.0, [9.0, -9.0], None))
    yield from rows_of(names, *((angle, several, 1.0) for angle in steps(-15, 35, 100)))
    yield from rows_of(names, *((angle, several, None) for angle in steps(-15, 35, 20)))
    yield from rows_of(names, *((angle, [27.0, 0.0], 0.5) for angle in steps(-5, 30, 70)))
    yield from rows_of(names, (10.0, [], 1.0), (10.0, [9.0], 0.0), (10.0, [9.0], -1.0))


def _between() -> Iterator[Row]:
    names = "distance first second"
    first, second = [10.0, 9.0], [30.0, 18.0]
    yield from rows_of(names, *((distance, first, second) for distance in steps(0, 40, 80)))
    yield from rows_of(names, *((distance, second, first) for distance in steps(0, 40, 40)))
    strewn = scattered(100, (0, 60), (0, 20), (-20, 0), (30, 60), (5, 40), places=1)
    yield from rows_of(names, *((at, [low, one], [high, other]) for at, low, one, high, other in strewn))
    yield from rows_of(names, (1.0, [2.0, 9.0], [2.0, 18.0]))


def _from_mark(angle: float, marks: list[float], division: float | None) -> Row:
    found = from_nearest_mark(angle, marks, division)
    return {
        "mark": found.mark,
        "beyond": found.beyond,
        "divisions": found.divisions,
        "extrapolated": found.extrapolated,
    }


def _by_marks(distance: float, first: list[float], second: list[float]) -> Row:
    angle, extrapolated = between_marks(distance, (first[0], first[1]), (second[0], second[1]))
    return {"angle": angle, "extrapolated": extrapolated}


CALCULATIONS = (
    Calculation(
        "rim-arc",
        "the distance along the rim by tape: the angle in radians times (diameter + thickness of the tape) / 2",
        SOURCE,
        {"angle": DEGREES, **TAPE},
        {"distance": LENGTH},
        lambda: _tape("angle"),
        lambda **given: {"distance": arc(**given)},
    ),
    Calculation(
        "rim-arc-angle",
        "the angle of a distance along the rim: distance / ((diameter + thickness of the tape) / 2), in degrees",
        SOURCE,
        {"distance": LENGTH, **TAPE},
        {"angle": DEGREES},
        lambda: _tape("distance"),
        lambda **given: {"angle": angle_of_arc(**given)},
    ),
    Calculation(
        "rim-chord",
        "the straight distance by callipers: diameter times sin(angle / 2), from -180 to 180",
        SOURCE,
        {"angle": DEGREES, "diameter": LENGTH},
        {"distance": LENGTH},
        _across,
        lambda **given: {"distance": chord(**given)},
    ),
    Calculation(
        "rim-chord-angle",
        "the angle of a distance by callipers: 2 asin(distance / diameter)",
        SOURCE,
        {"distance": LENGTH, "diameter": LENGTH},
        {"angle": DEGREES},
        _callipers,
        lambda **given: {"angle": angle_of_chord(**given)},
    ),
    Calculation(
        "nearest-mark",
        "a degree counted from the nearest numbered mark: mark + beyond; of two equally near the earlier; divisions "
        "where one's worth is known (null where not); extrapolated outside the numbered marks",
        "common practice, no source",
        {"angle": BEFORE, "marks": "list of deg, before top dead centre positive", "division": "deg, or null"},
        {"mark": BEFORE, "beyond": BEFORE, "divisions": "how many, or null", "extrapolated": "true or false"},
        _marks,
        _from_mark,
        absolute=1e-13,
    ),
    Calculation(
        "between-marks",
        "the degree at a distance along the rim, on the straight line through two marks, each [distance, degrees]; "
        "extrapolated where it does not lie between them",
        "a straight line through two points",
        {"distance": LENGTH, "first": "[length, deg]", "second": "[length, deg]"},
        {"angle": BEFORE, "extrapolated": "true or false"},
        _between,
        _by_marks,
        absolute=1e-13,
    ),
)
