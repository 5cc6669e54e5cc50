"""Plates, speed, compression, premix, cylinders, breaker points and targets."""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pint import UnitRegistry
from scipy.integrate import quad

from kb.calc.breaker import first_contact, timing_at_gap
from kb.calc.compression import apart
from kb.calc.cylinders import firing_angles, mean_angle
from kb.calc.plates import air_ratio, open_part
from kb.calc.premix import oil_for, ratio_of
from kb.calc.speed import degrees_of_delay, delay_between, frequency_from_rpm, rpm_from_frequency, true_rpm
from kb.calc.target import Off, Verdict, indicated_target, judge_reading, running_of_indicated
from kb.errors import Extrapolation, GeometryImpossible, NotFinite, OddFire, ReadingsContradict, UnitsNotComparable
from kb.quantity import UNITS

F = Fraction


def open_part_by_quadrature(angle: float, closed: float, shaft: float) -> float:
    """The bore less the shadow of the plate and its shaft, strip by strip across the shaft's direction."""
    t, c = math.radians(angle), math.radians(closed)
    k = math.cos(t) / math.cos(c)

    def gap(x: float) -> float:  # along the shaft; the larger of plate and shaft shadows
        bore = math.sqrt(max(0.0, 1 - x * x))
        return bore - max(min(k * bore, bore), min(shaft, bore))

    corner = math.sqrt(max(0.0, 1 - (shaft / k) ** 2)) if k > shaft else 0.0
    breaks = [math.sqrt(max(0.0, 1 - shaft * shaft)), corner]
    area, _ = quad(gap, 0, 1, points=sorted(breaks), limit=200, epsabs=1e-13, epsrel=1e-13)
    return 4 * float(area) / math.pi


@pytest.mark.parametrize(
    ("angle", "part"),
    [  # closed at 10, shaft ratio 0.20; computed with mpmath
        (12, 0.0067394122347),
        (15, 0.0191053521735),
        (20, 0.0456420322017),
        (30, 0.1201101070024),
        (45, 0.2803605920896),
        (60, 0.4872463383013),
        (78.640665246, 0.7470600781047),
        (85, 0.7470600781047),
        (90, 0.7470600781047),
    ],
)
def test_open_part(angle: float, part: float) -> None:
    assert open_part(angle) == pytest.approx(part, abs=1e-12)
    assert open_part(angle) == pytest.approx(open_part_by_quadrature(angle, 10, 0.2), abs=1e-8)


@given(st.floats(0, 30), st.floats(0, 0.5), st.floats(0, 1))
def test_open_part_by_quadrature_everywhere(closed: float, shaft: float, share: float) -> None:
    angle = closed + share * (90 - closed)
    assert open_part(angle, closed, shaft) == pytest.approx(open_part_by_quadrature(angle, closed, shaft), abs=1e-6)


@given(st.floats(10, 89), st.floats(0, 1))
def test_a_wider_plate_never_lets_less_through(angle: float, more: float) -> None:
    assert open_part(min(90.0, angle + more)) >= open_part(angle) - 1e-15


def test_unequal_plates_matter_near_closed() -> None:
    assert air_ratio(12, 13) == pytest.approx(1.5671525194, abs=1e-10)
    assert air_ratio(30, 31) == pytest.approx(1.0745017283, abs=1e-10)


@pytest.mark.parametrize(("seconds", "degrees"), [(20e-6, 0.6), (50e-6, 1.5), (100e-6, 3.0)])  # at 5000 rpm
def test_delay(seconds: float, degrees: float) -> None:
    assert degrees_of_delay(seconds, 5000) == pytest.approx(degrees, rel=1e-12)
    assert delay_between(2, 300, 5000) == pytest.approx(70.9e-6, abs=0.05e-6)


def test_speed_from_frequency_against_pint() -> None:
    unit: UnitRegistry[float] = UnitRegistry()
    assert (F(250) / 3) * 60 == pytest.approx((250 / 3 * unit.Hz).to("1/minute").magnitude)
    assert rpm_from_frequency(250, 3) == 5000
    assert rpm_from_frequency(25, 0.5) == 3000  # a four-stroke cylinder fires every second turn
    assert frequency_from_rpm(rpm_from_frequency(123.4, 6), 6) == pytest.approx(123.4)
    assert true_rpm(3000, 4, 6) == 2000


def test_compression_names_its_denominator() -> None:
    found = apart([110, 122])
    assert found.of_highest == pytest.approx(9.836, abs=5e-4)
    assert found.of_mean == pytest.approx(100 * 12 / 116)
    assert found.of_lowest == pytest.approx(10.909, abs=5e-4)
    assert apart([110, 118.5, 119.5, 122]).of_mean == pytest.approx(10.213, abs=5e-4)  # a mean of 117.5


@pytest.mark.parametrize(
    ("petrol", "ratio", "petrol_unit", "oil_unit", "oil"),
    [
        (F(6), F(50), "us_gal", "us_fl_oz", F(384, 25)),
        (F(5), F(50), "imp_gal", "imp_fl_oz", F(16)),
        (F(20), F(50), "L", "mL", F(400)),
        (F(1), F(1), "us_gal", "mL", F(3785411784, 10**6)),  # NIST SP 811, B.8: 3.785 412 L
        (F(1), F(1), "imp_gal", "mL", F("4546.09")),  # NIST SP 811, B.8: 4.546 09 L
    ],
)
def test_premix(petrol: Fraction, ratio: Fraction, petrol_unit: str, oil_unit: str, oil: Fraction) -> None:
    assert oil_for(petrol, ratio, UNITS[petrol_unit], UNITS[oil_unit]) == oil
    assert ratio_of(petrol, oil, UNITS[petrol_unit], UNITS[oil_unit]) == ratio


@pytest.mark.parametrize(
    ("order", "four_stroke", "expected"),
    [
        ([1, 3, 2], False, {1: 0, 3: 120, 2: 240}),
        ([1, 2, 3, 4, 5, 6], False, {1: 0, 2: 60, 3: 120, 4: 180, 5: 240, 6: 300}),  # common practice, no source
        ([1, 3, 4, 2], True, {1: 0, 3: 180, 4: 0, 2: 180}),
        ([1], False, {1: 0}),
    ],
)
def test_firing_angles(order: list[int], four_stroke: bool, expected: dict[int, float]) -> None:
    assert firing_angles(order, even_fire=True, four_stroke=four_stroke) == expected


@given(st.floats(-180, 180), st.floats(0, 80))
def test_mean_angle_of_two_lies_between(middle: float, apart_by: float) -> None:
    found = mean_angle([middle - apart_by, middle + apart_by])
    assert math.cos(math.radians(found - middle)) == pytest.approx(1, abs=1e-9)


def test_breaker_points_and_cam() -> None:
    assert timing_at_gap([(0.45, 24.0), (0.35, 20.0)], 0.40) == pytest.approx(22.0)
    assert first_contact([(0, 0.8), (4, 0.4), (8, 0.0), (12, 0.0)]) == (4, 8)


@pytest.mark.parametrize(
    ("limit", "centre", "margin", "step", "shown"),
    [  # common practice, no source: kept one degree late 20 is set at 19
        (F(20), F(0), F(1), F(1, 2), F(19)),
        (F(20), F(2), F(0), F(1, 2), F(22)),
        (F(20), F(-1, 2), F(0), F(1), F(19)),
        (F(61, 3), F(0), F(0), F(1, 2), F(20)),
        (F(-4), F(0), F(0), F(1), F(-4)),
    ],
)
def test_indicated_target(limit: Fraction, centre: Fraction, margin: Fraction, step: Fraction, shown: Fraction) -> None:
    assert indicated_target(limit, centre, margin, step) == shown


@given(st.fractions(-20, 40), st.fractions(-3, 3), st.fractions(0, 3))
def test_a_target_is_never_early(limit: Fraction, centre: Fraction, margin: Fraction) -> None:
    assert indicated_target(limit, centre, margin) - centre <= limit - margin


def test_running_of_an_indicated_reading() -> None:
    assert running_of_indicated(F(19), F(0), F(2)) == 17  # common practice, no source
    assert running_of_indicated(F(20), F(0), F(2)) == 18


@pytest.mark.parametrize(
    ("reading", "off", "degrees"),
    [  # a pickup window of 5 to 7 after; common practice, no source
        (F(-4), Off.EARLY, 1),
        (F(-9), Off.LATE, 2),
        (F(-7), Off.INSIDE, 0),
        (F(-5), Off.INSIDE, 0),
    ],
)
def test_judging(reading: Fraction, off: Off, degrees: int) -> None:
    verdict = judge_reading(reading, F(-7), F(-5))
    assert verdict == Verdict(off, F(degrees))


@pytest.mark.parametrize(
    ("call", "error", "message"),
    [
        (lambda: open_part(5), GeometryImpossible, "closes at"),
        (lambda: open_part(20, 10, 1), GeometryImpossible, "shaft"),
        (lambda: air_ratio(10, 20), GeometryImpossible, "shut"),
        (lambda: rpm_from_frequency(0, 3), GeometryImpossible, "positive"),
        (lambda: rpm_from_frequency(math.nan, 3), NotFinite, "finite"),
        (lambda: degrees_of_delay(-1, 300), GeometryImpossible, "negative"),
        (lambda: degrees_of_delay(math.inf, 300), NotFinite, "finite"),
        (lambda: delay_between(2, 5000, 300), GeometryImpossible, "faster"),
        (lambda: delay_between(math.nan, 300, 5000), NotFinite, "finite"),
        (lambda: apart([110]), ReadingsContradict, "two cylinders"),
        (lambda: apart([110, 0]), ReadingsContradict, "positive"),
        (lambda: apart([110, math.nan]), NotFinite, "finite"),
        (lambda: oil_for(F(1), F(1, 2), UNITS["L"], UNITS["mL"]), GeometryImpossible, "more oil"),
        (lambda: oil_for(F(-1), F(50), UNITS["L"], UNITS["mL"]), GeometryImpossible, "negative"),
        (lambda: oil_for(F(1), F(50), UNITS["L"], UNITS["mm"]), UnitsNotComparable, "measures"),
        (lambda: ratio_of(F(1), F(0), UNITS["L"], UNITS["mL"]), GeometryImpossible, "without oil"),
        (lambda: firing_angles([1, 3, 3], even_fire=True), GeometryImpossible, "each cylinder once"),
        (lambda: firing_angles([1, 2], even_fire=False), OddFire, "uneven"),
        (lambda: firing_angles([1, 2], even_fire=None), OddFire, "not known to fire"),
        (lambda: mean_angle([]), GeometryImpossible, "no angles"),
        (lambda: mean_angle([0, 180]), GeometryImpossible, "spread evenly"),
        (lambda: mean_angle([math.nan]), NotFinite, "finite"),
        (lambda: timing_at_gap([(0.35, 24.0), (0.45, 20.0)], 0.4), ReadingsContradict, "wider gap"),
        (lambda: timing_at_gap([(0.35, 20.0), (0.45, 24.0)], 0.5), Extrapolation, "outside the readings, 0.35 to 0.45"),
        (lambda: timing_at_gap([(0.35, 20.0)], 0.35), ReadingsContradict, "two readings"),
        (lambda: timing_at_gap([(0.35, math.nan), (0.4, 2)], 0.35), NotFinite, "finite"),
        (lambda: first_contact([(0, 0.8), (4, 0.4)]), Extrapolation, "still 0.4 at"),
        (lambda: first_contact([(0, 0.4), (4, 0.8)]), ReadingsContradict, "grows"),
        (lambda: first_contact([(0, 0.0), (4, 0.0)]), ReadingsContradict, "no gap"),
        (lambda: indicated_target(F(20), F(0), F(-1)), GeometryImpossible, "margin"),
        (lambda: indicated_target(F(20), F(0), F(0), F(0)), GeometryImpossible, "step"),
        (lambda: judge_reading(F(0), F(0), F(1), F(-1)), GeometryImpossible, "allowance"),
    ],
)
def test_refusals(call: Callable[[], object], error: type[Exception], message: str) -> None:
    with pytest.raises(error, match=message):
        call()
