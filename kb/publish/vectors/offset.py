"""Crank with a wrist-pin offset, and plug holes that lean."""

from __future__ import annotations

from collections.abc import Iterator

from kb.calc.dead_centre import offset_bias
from kb.calc.offset import dead_centres, offset_crank_degrees, offset_piston_position
from kb.calc.plug_hole import position_of_travel, travel_of_position
from kb.publish.vectors.calculation import DEGREES, LENGTH, Calculation, Row, rows_of
from kb.publish.vectors.cases import powers, scattered, steps

SOURCE = "the slider-crank with its pin aside; plain geometry"
CRANK = {"throw": LENGTH, "rod": LENGTH, "offset": LENGTH}
ASIDE = "deg from true top dead centre, to the side of the offset positive"
CRANKS = ((35.0, 125.0, 1.0), (35.0, 125.0, -1.0), (32.0, 120.0, 0.0), (1.25, 4.625, 0.0625), (50.0, 80.0, 12.0))
NO_CRANKS = ((35.0, 125.0, 90.0), (35.0, 125.0, -95.0), (125.0, 35.0, 1.0), (0.0, 35.0, 1.0))


def _cranks() -> Iterator[Row]:
    yield from rows_of("throw rod offset", *CRANKS, *NO_CRANKS)
    yield from rows_of("throw rod offset", *((35.0, 125.0, offset) for offset in powers(-12, 1)))
    yield from rows_of("throw rod offset", *scattered(160, (20, 60), (90, 220), (-4, 4)))


def _angles() -> Iterator[Row]:
    for crank in CRANKS:
        angles = [0.0, *powers(-12, -1, "1", "-3"), *steps(-180, 180, 40), 359.5, 400.0]
        yield from rows_of("angle throw rod offset", *((angle, *crank) for angle in angles))
    yield from rows_of("angle throw rod offset", *((20.0, *crank) for crank in NO_CRANKS))


def _positions() -> Iterator[Row]:
    for throw, rod, offset in CRANKS:
        positions = [0.0, *(throw * part for part in (*powers(-12, -2), *steps(0.04, 1.92, 20)))]
        positions += [-1e-6, throw * 2.5, -throw]
        yield from rows_of("position throw rod offset", *((position, throw, rod, offset) for position in positions))
    yield from rows_of("position throw rod offset", *((2.54, *crank) for crank in NO_CRANKS))


def _leaning(length: str) -> Iterator[Row]:
    names = f"{length} tilt crown_slope"
    yield from rows_of(names, (2.0, 30.0, 0.0), (0.0, 30.0, 0.0), (-1.5, 20.0, 0.0))
    yield from rows_of(names, *((2.54, tilt, 0.0) for tilt in (*powers(-9, 0), *steps(0, 85, 17))))
    yield from rows_of(names, *((size, 25.0, 10.0) for size in powers(-12, 2)))
    yield from rows_of(names, *((2.0, tilt, tilt) for tilt in steps(-60, 60, 12)))
    yield from rows_of(names, *scattered(80, (0, 20), (-45, 45), (-30, 30)))
    yield from rows_of(names, (2.0, 90.0, 0.0), (2.0, 0.0, 90.0), (2.0, 60.0, -30.0), (2.0, -95.0, 0.0))


def _centres(**crank: float) -> Row:
    found = dead_centres(**crank)
    return {"top": found.top, "bottom": found.bottom, "stroke": found.stroke}


CALCULATIONS = (
    Calculation(
        "offset-dead-centres",
        "where throw and rod lie in one line: asin(e / (l + r)) and 180 + asin(e / (l - r)) from the upright throw, "
        "to the side of the offset e positive; the stroke sqrt((l + r)^2 - e^2) - sqrt((l - r)^2 - e^2)",
        SOURCE,
        CRANK,
        {"top": "deg from the upright throw", "bottom": "deg from the upright throw", "stroke": LENGTH},
        _cranks,
        _centres,
    ),
    Calculation(
        "offset-piston-position",
        "how far the piston is below its own top, the angle d counted from true top dead centre: with "
        "t = d + asin(e / (l + r)), sqrt((l + r)^2 - e^2) - r cos t - sqrt(l^2 - (r sin t - e)^2)",
        SOURCE,
        {"angle": ASIDE, **CRANK},
        {"position": LENGTH},
        _angles,
        lambda angle, throw, rod, offset: {"position": offset_piston_position(angle, throw, rod, offset)},
    ),
    Calculation(
        "offset-piston-angles",
        "the two angles from true top dead centre at which the piston is so far below its own top: "
        "offset-piston-position turned round, to the side of the offset and to the other",
        SOURCE,
        {"position": LENGTH, **CRANK},
        {"near_side": ASIDE, "far_side": ASIDE},
        _positions,
        lambda **given: dict(zip(("near_side", "far_side"), offset_crank_degrees(**given), strict=True)),
    ),
    Calculation(
        "offset-bias",
        "how far the middle of two equal piston positions lies from true top dead centre: atan(e / (H - x)) - "
        "asin(e / (l + r)), with H = sqrt((l + r)^2 - e^2) and x counted from the piston's own top",
        SOURCE,
        {"position": LENGTH, **CRANK},
        {"bias": ASIDE},
        _positions,
        lambda **given: {"bias": offset_bias(**given)},
    ),
    Calculation(
        "plug-hole-position",
        "how far the piston moved when a rod in a hole leaning by a moved by s, on a crown that slopes to face the "
        "hole by b: s cos(a - b) / cos b; both angles and their difference under 90",
        "plain geometry of a line and a plane",
        {"travel": LENGTH, "tilt": DEGREES, "crown_slope": DEGREES},
        {"position": LENGTH},
        lambda: _leaning("travel"),
        lambda **given: {"position": position_of_travel(**given)},
    ),
    Calculation(
        "plug-hole-travel",
        "how far the rod in the hole moves when the piston moves by x: x cos b / cos(a - b)",
        "plain geometry of a line and a plane",
        {"position": LENGTH, "tilt": DEGREES, "crown_slope": DEGREES},
        {"travel": LENGTH},
        lambda: _leaning("position"),
        lambda **given: {"travel": travel_of_position(**given)},
    ),
)
