"""True top dead centre from two readings, and what the pointer shows."""

from __future__ import annotations

from collections.abc import Iterator

from kb.calc.dead_centre import dead_centre, indicated_angle, shift_error, true_angle
from kb.publish.vectors.calculation import BEFORE, DEGREES, LENGTH, Calculation, Row, rows_of
from kb.publish.vectors.cases import powers, scattered, steps

SOURCE = "J. Rose, Modern Machine-Shop Practice, figs 2551-2552; A. Sinclair, Finding the Dead Centers"


def _contacts() -> Iterator[Row]:
    names = "first second first_uncertainty second_uncertainty"
    yield from rows_of(names, (31.0, -27.0, 0.25, 0.25), (20.0, -20.0, 0.0, 0.0), (-27.0, 31.0, 0.5, 0.25))
    yield from rows_of(names, (20.0, 20.0, 0.25, 0.25), (20.0, -20.0, -0.25, 0.25), (20.0, -20.0, 0.25, -0.1))
    yield from rows_of(names, *((size, 0.0, size, 2 * size) for size in powers(-12, 1)))
    yield from rows_of(names, *scattered(200, (5, 60), (-60, -5), (0, 1), (0, 1), places=2))


def _pairs(first: str) -> Iterator[Row]:
    names = f"{first} dead_centre_reading"
    yield from rows_of(names, (19.0, 2.0), (0.0, 0.0), (-5.0, 2.0), (1.0, -2.5))
    yield from rows_of(names, *scattered(200, (-15, 40), (-3, 3), places=1))


def _shifts() -> Iterator[Row]:
    names = "shift contact throw rod"
    yield from rows_of(names, *((0.05, contact, 35.0, 125.0) for contact in steps(1, 179, 89)))
    yield from rows_of(names, *((shift, 30.0, 35.0, 125.0) for shift in powers(-12, 0)))
    yield from rows_of(names, *((0.05, contact, 32.0, 120.0) for contact in powers(-9, 1)))
    yield from rows_of(names, *scattered(60, (-1, 1), (-60, 60), (20, 60), (90, 220)))
    yield from rows_of(names, (0.05, 0.0, 35.0, 125.0), (0.05, 180.0, 35.0, 125.0), (0.05, 20.0, 125.0, 35.0))


def _centre(**given: float) -> Row:
    found = dead_centre(**given)
    return {"reading": found.reading, "standard": found.standard, "expanded": found.expanded}


CALCULATIONS = (
    Calculation(
        "dead-centre",
        "what the pointer shows at true top dead centre from what it shows at two equal piston positions: "
        "(a + b) / 2; its standard uncertainty sqrt(ua^2 + ub^2) / 2, and twice that",
        SOURCE,
        {"first": BEFORE, "second": BEFORE, "first_uncertainty": DEGREES, "second_uncertainty": DEGREES},
        {"reading": BEFORE, "standard": DEGREES, "expanded": DEGREES},
        _contacts,
        _centre,
        absolute=1e-14,
    ),
    Calculation(
        "true-angle",
        "the true angle of an indicated one: indicated - dead-centre reading",
        "by definition",
        {"indicated": BEFORE, "dead_centre_reading": BEFORE},
        {"true": BEFORE},
        lambda: _pairs("indicated"),
        lambda **given: {"true": true_angle(**given)},
        absolute=1e-14,
    ),
    Calculation(
        "indicated-angle",
        "what the pointer shows at a true angle: true + dead-centre reading",
        "by definition",
        {"true": BEFORE, "dead_centre_reading": BEFORE},
        {"indicated": BEFORE},
        lambda: _pairs("true"),
        lambda **given: {"indicated": indicated_angle(**given)},
        absolute=1e-14,
    ),
    Calculation(
        "stop-shift",
        "how far off the middle is when the stop gave way on one side, to first order: half the shift over the slope "
        "of piston-position there; refused where the piston is still",
        "the slope of the slider-crank",
        {"shift": LENGTH, "contact": "deg from top dead centre", "throw": LENGTH, "rod": LENGTH},
        {"error": DEGREES},
        _shifts,
        lambda **given: {"error": shift_error(**given)},
    ),
)
