"""Throttle plates: open area, how plates differ, and the angle for an area."""

from __future__ import annotations

from collections.abc import Iterator

from kb.calc.plates import air_ratio, angle_for_part, open_part
from kb.publish.vectors.calculation import Calculation, Row, rows_of
from kb.publish.vectors.cases import powers, scattered, steps

SOURCE = "the bore less the shadow of plate and shaft; J. B. Heywood (1988), eq. 7.18 (from memory)"
SQUARE = "deg from square across the bore"
PLATE = {"closed_angle": SQUARE, "shaft_ratio": "shaft over bore diameter"}
PART = "open area over the bore's"


def _angles() -> Iterator[Row]:
    names = "angle closed_angle shaft_ratio"
    yield from rows_of(names, *((10 + over, 10.0, 0.2) for over in (0.0, *powers(-12, 0), *steps(2, 80, 78))))
    yield from rows_of(names, *((angle, 0.0, 0.0) for angle in (*powers(-12, 0), *steps(5, 90, 17))))
    strewn = scattered(100, (0, 20), (0, 70), (0, 0.5))
    yield from rows_of(names, *((closed + over, closed, shaft) for closed, over, shaft in strewn))
    yield from rows_of(names, (78.640665246, 10.0, 0.2), (85.0, 10.0, 0.2), (30.0, 10.0, 0.99))
    yield from rows_of(names, (5.0, 10.0, 0.2), (91.0, 10.0, 0.2), (20.0, 10.0, 1.0), (20.0, 10.0, -0.1))
    yield from rows_of(names, (20.0, -1.0, 0.2), (90.0, 90.0, 0.2))


def _pairs() -> Iterator[Row]:
    names = "angle other closed_angle shaft_ratio"
    yield from rows_of(names, *((angle, angle + 1, 10.0, 0.2) for angle in steps(10.5, 88.5, 78)))
    yield from rows_of(names, *((10 + over, 11.0, 10.0, 0.2) for over in powers(-9, 0)))
    yield from rows_of(names, *scattered(120, (12, 60), (12, 60), (0, 12), (0.1, 0.3), places=2))
    yield from rows_of(names, (10.0, 20.0, 10.0, 0.2), (5.0, 20.0, 10.0, 0.2), (20.0, 95.0, 10.0, 0.2))


def _parts() -> Iterator[Row]:
    names = "part closed_angle shaft_ratio"
    yield from rows_of(names, *((part, 10.0, 0.2) for part in (*powers(-9, -3), *steps(0.005, 0.74, 147))))
    yield from rows_of(names, *scattered(80, (0.01, 0.6), (5, 15), (0.05, 0.25)))
    yield from rows_of(names, (0.0, 10.0, 0.2), (0.75, 10.0, 0.2), (-0.1, 10.0, 0.2))
    yield from rows_of(names, (0.1, 95.0, 0.2), (0.1, 10.0, 1.0))


CALCULATIONS = (
    Calculation(
        "plate-open-part",
        "with k = cos t / cos c and a the shaft's ratio: 1 - k + (2 / pi) (a sqrt(1 - a^2 / k^2) + k asin(a / k) - "
        "a sqrt(1 - a^2) - asin a), and 1 - (2 / pi) (asin a + a sqrt(1 - a^2)) once k <= a",
        SOURCE,
        {"angle": SQUARE, **PLATE},
        {"part": PART},
        _angles,
        lambda **given: {"part": open_part(**given)},
        relative=1e-11,
    ),
    Calculation(
        "plate-air-ratio",
        "how many times the air of one plate the other lets through: the quotient of their open parts",
        SOURCE,
        {"angle": SQUARE, "other": SQUARE, **PLATE},
        {"ratio": "1"},
        _pairs,
        lambda **given: {"ratio": air_ratio(**given)},
        relative=1e-11,
    ),
    Calculation(
        "plate-angle",
        "the angle at which the plate first lets a part of the bore open: plate-open-part turned round",
        SOURCE,
        {"part": PART, **PLATE},
        {"angle": SQUARE},
        _parts,
        lambda **given: {"angle": angle_for_part(**given)},
        relative=1e-11,
    ),
)
