"""Readings, lines, screws and linkages against the Guide's worked examples, GTC, uncertainties and scipy."""

from __future__ import annotations

import math
from collections.abc import Callable

import GTC
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats
from scipy.optimize import brentq
from uncertainties import ufloat

from kb.calc.readings import fit_line, spread
from kb.calc.screw import LEAST_SLOPE, lever_angle, next_turn, rod_turn_degrees
from kb.errors import GeometryImpossible, NotFinite, ReadingsContradict

# JCGM 100:2008, table 2 (4.4.3): twenty temperatures in degrees Celsius; the data from memory
TEMPERATURES = [
    96.90,
    98.18,
    98.25,
    98.61,
    99.03,
    99.49,
    99.56,
    99.74,
    99.89,
    100.07,
    100.33,
    100.42,
    100.68,
    100.95,
    101.11,
    101.20,
    101.57,
    101.84,
    102.36,
    102.72,
]

# JCGM 100:2008, table H.6: thermometer readings and corrections, against t - 20; the data from memory
THERMOMETER = [
    (21.521, -0.171),
    (22.012, -0.169),
    (22.512, -0.166),
    (23.003, -0.159),
    (23.507, -0.164),
    (23.999, -0.165),
    (24.513, -0.156),
    (25.002, -0.157),
    (25.503, -0.159),
    (26.010, -0.161),
    (26.511, -0.160),
]


def test_twenty_temperatures_of_the_guide() -> None:
    found = spread(TEMPERATURES)
    assert round(found.mean, 3) == 100.145  # JCGM 100:2008, 4.4.3
    assert round(found.scatter, 3) == 1.489
    assert round(found.of_mean, 3) == 0.333


def test_line_of_the_guide() -> None:
    line = fit_line([(t - 20, b) for t, b in THERMOMETER])
    assert round(line.intercept, 4) == -0.1712  # JCGM 100:2008, H.3.3
    assert round(line.slope, 5) == 0.00218
    assert round(line.at(10), 4) == -0.1494
    oracle = stats.linregress([t - 20 for t, _ in THERMOMETER], [b for _, b in THERMOMETER])
    assert line.slope == pytest.approx(oracle.slope, rel=1e-12)
    assert line.intercept == pytest.approx(oracle.intercept, rel=1e-12)
    assert line.correlation == pytest.approx(oracle.rvalue, rel=1e-12)


def test_readings_with_instrument_errors() -> None:
    found = spread([30, 30.5, 29.5, 30, 30.5], [0.25, 0.5, 0.5])
    assert found.mean == pytest.approx(30.1)
    assert found.combined == pytest.approx(0.4716990566, abs=1e-10)
    assert found.freedom == pytest.approx(161.65, abs=0.005)
    assert found.expanded() == pytest.approx(0.9434, abs=5e-5)


@given(st.lists(st.floats(-40, 40), min_size=2, max_size=12), st.lists(st.floats(0.01, 2), max_size=3))
def test_against_gtc_and_uncertainties(readings: list[float], widths: list[float]) -> None:
    assume(max(readings) - min(readings) > 1e-3)
    found = spread(readings, widths)
    kind_a = GTC.type_a.estimate(readings)
    total = kind_a + sum(GTC.ureal(0, width / math.sqrt(3)) for width in widths)
    assert found.mean == pytest.approx(total.x, rel=1e-9, abs=1e-9)
    assert found.combined == pytest.approx(total.u, rel=1e-9)
    assert found.freedom == pytest.approx(total.df, rel=1e-6)
    plain = ufloat(found.mean, found.of_mean) + sum(ufloat(0, width / math.sqrt(3)) for width in widths)
    assert found.combined == pytest.approx(plain.std_dev, rel=1e-9)


@pytest.mark.parametrize(
    ("call", "error", "message"),
    [
        (lambda: spread([30]), ReadingsContradict, "at least two"),
        (lambda: spread([30, 31], [-1]), ReadingsContradict, "half-width"),
        (lambda: spread([30, math.nan]), NotFinite, "finite"),
        (lambda: fit_line([(1, 2), (1, 3)]), ReadingsContradict, "two or more settings"),
        (lambda: fit_line([(1, 2), (2, math.inf)]), NotFinite, "finite"),
        (lambda: next_turn([(0, 24.0), (1, 24.01)], 28), ReadingsContradict, "hardly moves"),
        (lambda: next_turn([(0, 24.0), (1, 26.0)], 28, -1), ReadingsContradict, "against what"),
        (lambda: next_turn([(0, 24.0), (1, 27.0), (2, 23.0), (3, 28.0)], 30), ReadingsContradict, "both ways"),
        # of three readings the middle one lies d off the line of the others: the correlation squared is 1 / (1 + d²/3)
        (lambda: next_turn([(0, 20.0), (1, 21.9), (2, 22.0)], 30), ReadingsContradict, "both ways"),  # 0.787
        (lambda: next_turn([(0, 24.0), (1, 25.0)], math.nan), NotFinite, "finite"),
        (lambda: rod_turn_degrees(0, 30), GeometryImpossible, "positive"),
        (lambda: rod_turn_degrees(1, 30, 70), GeometryImpossible, "further"),
        (lambda: lever_angle(30, 40, 80), GeometryImpossible, "no triangle"),
        (lambda: lever_angle(30, 0, 30), GeometryImpossible, "positive"),
        (lambda: lever_angle(0, 30, 30), GeometryImpossible, "positive"),
        (lambda: lever_angle(30, 30, 0), GeometryImpossible, "positive"),
        (lambda: lever_angle(-0.5, 3, 3), GeometryImpossible, "positive"),
        (lambda: lever_angle(3, -0.5, 3), GeometryImpossible, "positive"),
        (lambda: lever_angle(3, 3, -0.5), GeometryImpossible, "positive"),
        (lambda: lever_angle(30, 40, 9.9), GeometryImpossible, "no triangle"),
        (lambda: rod_turn_degrees(-1, 30), GeometryImpossible, "a pitch is a positive length, not -1"),
        (lambda: rod_turn_degrees(1, 0), GeometryImpossible, "an arm is a positive length, not 0"),
        (lambda: rod_turn_degrees(1, -30), GeometryImpossible, "an arm is a positive length, not -30"),
        (lambda: next_turn([(0, 24.0), (1, 22.0)], 28, 1), ReadingsContradict, "against what"),
        (lambda: next_turn([(0, 24.0), (1, 24.1)], 28, -1), ReadingsContradict, "against what"),
        (lambda: next_turn([(0, 24.0), (1, 23.9)], 28, 1), ReadingsContradict, "against what"),
    ],
)
def test_refusals(call: Callable[[], object], error: type[Exception], message: str) -> None:
    with pytest.raises(error, match=message):
        call()


def test_next_turn_of_the_check_value() -> None:
    turn = next_turn([(0, 24.0), (0.5, 25.0), (1, 25.8), (1.5, 26.7)], 28)
    assert turn.slope == pytest.approx(1.78, rel=1e-12)
    assert turn.to == pytest.approx(2.2247191011, abs=1e-10)
    assert not turn.from_one_side


@pytest.mark.parametrize("settings", [[(0, 20.0), (1, 21.85), (2, 22.0)], [(0, 20.0), (1, 22.0)]])
def test_readings_that_lie_nearly_in_line_are_enough(settings: list[tuple[float, float]]) -> None:
    assert next_turn(settings, 30).turns > 0  # the correlation squared is 0.806 of the three, 1 of the two


def test_a_target_behind_the_last_movement_is_come_at_from_one_side() -> None:
    assert next_turn([(0, 20.0), (1, 22.0), (2, 24.0)], 21).from_one_side


@pytest.mark.parametrize(
    ("settings", "target", "from_one_side"),
    [
        ([(0, 20.0), (1, 22.0)], 22, False),  # there already
        ([(0, 20.0), (1, 22.0)], 21.5, True),
        ([(1, 22.0), (0, 20.0)], 21.5, True),  # turned out last: the way back is in
        ([(1, 22.0), (0, 20.0)], 19, False),
        ([(2, 24.0), (1, 22.0), (1, 22.25)], 19, False),
    ],
)
def test_the_target_lies_behind_the_last_movement(
    settings: list[tuple[float, float]], target: float, from_one_side: bool
) -> None:
    assert next_turn(settings, target).from_one_side is from_one_side


def test_a_slope_just_steep_enough_and_one_that_no_one_knows_the_way_of() -> None:
    assert next_turn([(0, 0.0), (1, LEAST_SLOPE)], 1.0).slope == LEAST_SLOPE
    for settings in ([(0, 24.0), (1, 22.0)], [(0, 22.0), (1, 24.0)]):
        assert next_turn(settings, 23).to == pytest.approx(0.5)
    assert next_turn([(0, 24.0), (1, 23.5)], 23, -1).to == pytest.approx(2)
    assert next_turn([(0, 24.0), (1, 24.5)], 25, 1).to == pytest.approx(2)


@given(st.floats(-5, 5), st.floats(0.1, 5), st.sampled_from([-1, 1]), st.floats(-30, 30), st.floats(-30, 30))
def test_a_true_line_is_found_and_reached(
    start: float, slope: float, sign: int, intercept: float, target: float
) -> None:
    settings = [(start + turns, intercept + sign * slope * (start + turns)) for turns in (0, 0.5, 1.5)]
    turn = next_turn(settings, target, sign)
    assert intercept + sign * slope * turn.to == pytest.approx(target, abs=1e-6)


def test_rod_turns() -> None:
    assert rod_turn_degrees(1.0, 30.0) == pytest.approx(1.9099477476, abs=1e-10)  # M6x1 on an arm of 30 mm
    assert rod_turn_degrees(1.0, 30.0, left_and_right=True) == pytest.approx(rod_turn_degrees(2.0, 30.0))
    reached = brentq(lambda t: 2 * 30 * math.sin(math.radians(t) / 2) - 1.0, 0, 10, xtol=1e-13)
    assert rod_turn_degrees(1.0, 30.0) == pytest.approx(reached, abs=1e-10)


@given(st.floats(5, 80), st.floats(5, 80), st.floats(1, 179))
def test_lever_angle_undoes_the_triangle(arm: float, other: float, angle: float) -> None:
    t = math.radians(angle)
    rod = math.hypot(arm - other * math.cos(t), other * math.sin(t))
    assert lever_angle(arm, other, rod) == pytest.approx(angle, abs=1e-5)
