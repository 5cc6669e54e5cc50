"""The rim and true top dead centre against published values and oracles that solve otherwise."""

from __future__ import annotations

import math
from collections.abc import Callable

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from kb.calc.dead_centre import dead_centre, indicated_angle, offset_bias, shift_error, true_angle
from kb.calc.rim import FromMark, angle_of_arc, angle_of_chord, arc, between_marks, chord, from_nearest_mark
from kb.errors import GeometryImpossible, NotFinite

mpmath.mp.dps = 50


@pytest.mark.parametrize(
    ("angle", "along", "across"),
    [  # computed with mpmath for a rim of radius 120 mm
        (10, 20.943951023932, 20.917378259438),
        (20, 41.887902047864, 41.675562640063),
        (30, 62.831853071796, 62.116570824605),
        (60, 125.66370614359, 120.0),
    ],
)
def test_arc_and_chord(angle: float, along: float, across: float) -> None:
    assert arc(angle, 240) == pytest.approx(along, rel=1e-13)
    assert chord(angle, 240) == pytest.approx(across, rel=1e-13)
    assert angle_of_arc(along, 240) == pytest.approx(angle, rel=1e-13)
    assert angle_of_chord(across, 240) == pytest.approx(angle, rel=1e-13)


@pytest.mark.parametrize(
    ("divisions", "factor"),
    [(12, 0.2588), (36, 0.0872)],  # "spacing of divisions on a circle": chord factor sin(pi/N), machinists' tables
)
def test_chord_factor_of_divisions(divisions: int, factor: float) -> None:
    assert round(chord(360 / divisions, 1), 4) == factor


def test_a_tape_has_thickness() -> None:
    assert arc(360, 240, 0.2) == pytest.approx(math.pi * 240.2)
    assert angle_of_arc(arc(17, 240, 0.2), 240, 0.2) == pytest.approx(17)


def ulps(value: float, exact: mpmath.mpf) -> float:
    return float(abs(mpmath.mpf(value) - exact) / mpmath.mpf(math.ulp(float(exact)))) if exact else abs(value)


def test_worst_error_of_the_rim_in_units_of_the_last_place(capsys: pytest.CaptureFixture[str]) -> None:
    worst = {"arc": 0.0, "chord": 0.0, "angle of arc": 0.0, "angle of chord": 0.0}
    for exponent in range(-120, 23):
        angle = min(10 ** (exponent / 10), 179.0)
        radians = mpmath.mpf(angle) * mpmath.pi / 180
        worst["arc"] = max(worst["arc"], ulps(arc(angle, 240), radians * 120))
        worst["chord"] = max(worst["chord"], ulps(chord(angle, 240), 240 * mpmath.sin(radians / 2)))
        along, across = float(radians * 120), float(240 * mpmath.sin(radians / 2))
        worst["angle of arc"] = max(
            worst["angle of arc"], ulps(angle_of_arc(along, 240), mpmath.mpf(along) / 120 * 180 / mpmath.pi)
        )
        if angle < 170:  # near half a turn the chord hardly changes: the angle is ill conditioned there
            exact = 2 * mpmath.asin(mpmath.mpf(across) / 240) * 180 / mpmath.pi
            worst["angle of chord"] = max(worst["angle of chord"], ulps(angle_of_chord(across, 240), exact))
    with capsys.disabled():
        print("\nworst error, ulp:", {name: round(error, 2) for name, error in worst.items()})
    assert max(worst.values()) <= 4


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: arc(10, 0), "diameter"),
        (lambda: arc(10, 240, -1), "thick"),
        (lambda: chord(181, 240), "half a turn"),
        (lambda: angle_of_chord(241, 240), "no two marks"),
        (lambda: from_nearest_mark(10, []), "no mark"),
        (lambda: from_nearest_mark(10, [9], 0), "a division is not worth"),
        (lambda: between_marks(1, (2, 9), (2, 18)), "the same place"),
        (lambda: dead_centre(20, 20), "the same"),
        (lambda: dead_centre(20, -20, -1), "negative"),
        (lambda: shift_error(0.05, 0, 35, 125), "does not move"),
        (lambda: shift_error(0.05, 10, 135, 125), "cannot turn"),
        (lambda: offset_bias(1, 80, 35, 125), "never gets 80"),
        (lambda: offset_bias(90, 1, 35, 125), "90 aside"),
    ],
)
def test_impossible_geometry_is_refused(call: Callable[[], object], message: str) -> None:
    with pytest.raises(GeometryImpossible, match=message):
        call()


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_refused(bad: float) -> None:
    for call in (
        lambda: arc(bad, 240),
        lambda: chord(bad, 240),
        lambda: dead_centre(bad, 3),
        lambda: angle_of_arc(bad, 240),
    ):
        with pytest.raises(NotFinite, match="finite"):
            call()


@pytest.mark.parametrize(
    ("angle", "marks", "division", "expected"),
    [
        (19, [21], 1, FromMark(21, -2, 2.0, True)),  # common practice, no source
        (19, [9, 18, 27], 1, FromMark(18, 1, 1.0, False)),
        (-5, [9, -9], None, FromMark(-9, 4, None, False)),
        (13.5, [9, 18], 0.5, FromMark(18, -4.5, 9.0, False)),
    ],
)
def test_counting_from_the_nearest_mark(
    angle: float, marks: list[float], division: float | None, expected: FromMark
) -> None:
    assert from_nearest_mark(angle, marks, division) == expected


def test_between_marks_is_linear_and_says_when_it_goes_beyond() -> None:
    assert between_marks(20, (10, 9), (30, 18)) == (13.5, False)
    assert between_marks(40, (10, 9), (30, 18)) == (22.5, True)


@given(st.floats(-60, 60), st.floats(5, 60), st.floats(-20, 20))
def test_bisecting_two_contacts_finds_the_centre(centre: float, half: float, pointer: float) -> None:
    found = dead_centre(centre + half, centre - half)
    assert found.reading == pytest.approx(centre, abs=1e-12)
    assert true_angle(indicated_angle(pointer, found.reading), found.reading) == pytest.approx(pointer, abs=1e-12)


def test_uncertainty_of_the_centre() -> None:
    found = dead_centre(30, -30, 0.25, 0.25)
    assert found.standard == pytest.approx(0.25 / math.sqrt(2))  # sqrt(ua^2 + ub^2) / 2
    assert found.expanded == pytest.approx(2 * found.standard)


def test_offset_by_root_finding() -> None:
    """The contacts of a crank with offset e found by bracketing its height, not by the formula under test."""
    throw, rod, e = 35.0, 125.0, 1.0

    def height(degrees: float) -> float:
        t = math.radians(degrees)
        return throw * math.cos(t) + math.sqrt(rod**2 - (throw * math.sin(t) - e) ** 2)

    top = math.degrees(math.asin(e / (rod + throw)))
    assert top == pytest.approx(0.35810095337, abs=1e-10)
    position = 4.1574831422
    stop = height(top) - position
    after = brentq(lambda t: height(t) - stop, top, 90, xtol=1e-13)
    before = brentq(lambda t: height(t) - stop, -90, top, xtol=1e-13)
    assert (after, before) == (pytest.approx(25.3673969126, abs=1e-8), pytest.approx(-24.6320886898, abs=1e-8))
    assert (after + before) / 2 - top == pytest.approx(offset_bias(e, position, throw, rod), abs=1e-10)
    assert offset_bias(e, position, throw, rod) == pytest.approx(0.0095531581, abs=1e-9)
    assert all(abs(offset_bias(e, _position(stop_at), throw, rod)) < 0.02 for stop_at in range(5, 36))


def _position(degrees: float) -> float:
    t = math.radians(degrees)
    return 160 - 35 * math.cos(t) - math.sqrt(125**2 - (35 * math.sin(t)) ** 2)


@pytest.mark.parametrize(("contact", "error"), [(10, 0.185), (20, 0.095), (30, 0.066)])  # r 35, l 125, 0.05 mm
def test_a_stop_that_gives_way_on_one_side(contact: float, error: float) -> None:
    assert shift_error(0.05, contact, 35, 125) == pytest.approx(error, abs=0.0006)
