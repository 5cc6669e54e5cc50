"""Where each cylinder fires, and means of angles on a circle."""

from __future__ import annotations

from collections.abc import Iterator

from kb.calc.cylinders import firing_angles, mean_angle, on_marks_of_the_first
from kb.publish.vectors.calculation import BEFORE, Calculation, Row, rows_of
from kb.publish.vectors.cases import powers, scattered, steps

ORDERS = (
    [1],
    [1, 2],
    [1, 3, 2],
    [1, 2, 3],
    [1, 3, 4, 2],
    [1, 2, 4, 3],
    [1, 4, 2, 5, 3],
    [1, 2, 3, 4, 5, 6],
    [1, 4, 5, 2, 3, 6],
    [2, 1],
    [3, 1, 2],
    [1, 7, 3, 5, 2, 6, 4],
    [1, 8, 4, 3, 6, 5, 7, 2],
)
ENGINE = {"order": "list of cylinder numbers", "even_fire": "true, false, or null", "four_stroke": "true or false"}


def _engines() -> Iterator[Row]:
    names = "order even_fire four_stroke"
    for order in ORDERS:
        for even_fire in (True, False, None):
            yield from rows_of(names, *((order, even_fire, four_stroke) for four_stroke in (False, True)))
    chance = scattered(120, *((0.0, 1.0) for _ in range(8)), places=6)
    for number, row in enumerate(chance):
        count = 2 + number % 7
        order = [place + 1 for _, place in sorted(zip(row, range(count), strict=False))]
        yield from rows_of(names, (order, True, number % 3 == 0))
    yield from rows_of(names, *((order, True, False) for order in ([1, 3, 3], [], [0, 1], [1, 3], [2, 2])))


def _others() -> Iterator[Row]:
    names = "angle cylinder order even_fire four_stroke"
    for order in ORDERS:
        for four_stroke in (False, True):
            yield from rows_of(
                names, *((angle, cylinder, order, True, four_stroke) for angle in (24.0, -5.5) for cylinder in order)
            )
    angles = (*powers(-12, 0), *steps(-180, 360, 27))
    yield from rows_of(names, *((angle, 3, [1, 3, 2], True, False) for angle in angles))
    yield from rows_of(names, (24.0, 4, [1, 3, 2], True, False), (24.0, 2, [1, 3, 2], False, False))
    yield from rows_of(names, (24.0, 2, [1, 3, 2], None, False), (24.0, 2, [1, 2, 2], True, False))


def _circles() -> Iterator[Row]:
    for angles in ([359.0, 1.0], [24.0], [170.0, -170.0], [0.0, 90.0], [0.0, 180.0], [], [0.0, 120.0, 240.0], [180.0]):
        yield {"angles": angles}
    yield from ({"angles": [size, 2 * size]} for size in powers(-12, 1))
    yield from ({"angles": list(row)} for row in scattered(100, (20, 24), (20, 24), (20, 24), places=1))
    yield from ({"angles": list(row)} for row in scattered(100, (170, 190), (-190, -170), (165, 195), places=1))
    yield from ({"angles": list(row)} for row in scattered(40, (0, 120), (0, 120), (0, 120), (0, 120), places=2))


def _by_cylinder(order: list[int], even_fire: bool | None, four_stroke: bool) -> Row:
    places = firing_angles(order, even_fire=even_fire, four_stroke=four_stroke)
    return {"angles": {str(cylinder): angle for cylinder, angle in places.items()}}


CALCULATIONS = (
    Calculation(
        "firing-angles",
        "degrees of the flywheel after the first in the order at which each cylinder, by its number, has its top dead "
        "centre: its place in the order times 360 / n, or 720 / n for a four-stroke, modulo 360; even fire only",
        "by definition of even fire",
        ENGINE,
        {"angles": "object from cylinder number to deg, 0 to under 360"},
        _engines,
        _by_cylinder,
        absolute=1e-12,
    ),
    Calculation(
        "on-marks-of-the-first",
        "what the marks of the order's first cylinder show while another stands at an angle: the angle less that of "
        "firing-angles, brought to within half a turn, -180 excluded",
        "by definition of even fire",
        {"angle": BEFORE, "cylinder": "number", **ENGINE},
        {"shown": BEFORE},
        _others,
        lambda **given: {"shown": on_marks_of_the_first(**given)},
        absolute=1e-12,
    ),
    Calculation(
        "mean-angle",
        "the mean of angles on a circle: the direction of the sum of their unit vectors, from -180 (excluded) to 180",
        "by definition",
        {"angles": "list of deg"},
        {"mean": "deg"},
        _circles,
        lambda angles: {"mean": mean_angle(angles)},
        absolute=1e-12,
    ),
)
