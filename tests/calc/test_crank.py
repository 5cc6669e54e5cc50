"""Crank geometry against published values and against mpmath at fifty digits."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from importlib import import_module
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.book.model.crank_geometry import Crank, in_degrees
from kb.book.model.family import Family
from kb.calc.crank import crank_degrees, degrees_per_length, piston_position, piston_speed
from kb.errors import GeometryImpossible, NotFinite
from kb.quantity import DEGREE_OF_CRANK, PISTON_IN, Quantity, read_value

mpmath: Any = import_module("mpmath")  # it carries no types
mpmath.mp.dps = 50

REFERENCES = "computed at fifty digits from x = l + r - r cos t - sqrt(l^2 - r^2 sin^2 t), r = 35 mm, l = 125 mm"
EXACT = "125^2 - 35^2 = 120^2, so 90 degrees is exactly 125 + 35 - 120 mm"
BY_SHAPE = "at the dead centres the piston is at 0 and at the stroke, whatever the rod"


def position_at_fifty_digits(degrees: float, throw: float, rod: float) -> Any:
    angle = mpmath.radians(mpmath.mpf(degrees))
    half, length = mpmath.mpf(throw), mpmath.mpf(rod)
    across = half * mpmath.sin(angle)
    return length + half - half * mpmath.cos(angle) - mpmath.sqrt(length**2 - across**2)


@pytest.mark.parametrize(
    ("degrees", "millimetres", "source"),
    [
        (0, 0.0, BY_SHAPE),
        (5, 0.17041211517261, REFERENCES),
        (10, 0.6795691509085, REFERENCES),
        (15, 1.5212659361083, REFERENCES),
        (20, 2.6852696400977, REFERENCES),
        (25, 4.1574831422027, REFERENCES),
        (30, 5.920172922679, REFERENCES),
        (60, 21.230671643651, REFERENCES),
        (90, 40.0, EXACT),
        (180, 70.0, BY_SHAPE),
    ],
)
def test_piston_position(degrees: float, millimetres: float, source: str) -> None:
    assert piston_position(degrees, 35, 125) == pytest.approx(millimetres, abs=2e-13), source
    assert piston_position(-degrees, 35, 125) == pytest.approx(millimetres, abs=2e-13), source


@pytest.mark.parametrize(
    ("millimetres", "degrees", "source"),
    [
        (0, 0.0, BY_SHAPE),
        (0.5, 8.5730182874287, REFERENCES),
        (1, 12.142349566507, REFERENCES),
        (2, 17.224136485592, REFERENCES),
        (2.54, 19.442790634572, REFERENCES),
        (3, 21.160153538891, REFERENCES),
        (5, 27.489334157314, REFERENCES),
        (10, 39.517652797173, REFERENCES),
        (40, 90.0, EXACT),
        (70, 180.0, BY_SHAPE),
    ],
)
def test_crank_degrees(millimetres: float, degrees: float, source: str) -> None:
    assert crank_degrees(millimetres, 35, 125) == pytest.approx(degrees, abs=2e-12), source


@pytest.mark.parametrize(
    ("throw", "rod", "source"),
    [
        (0.3, 1.0, "Khurmi and Gupta, Theory of Machines, 14th ed., example 15.3: crank and rod in metres"),
        (0.3, 1.5, "the same, example 15.4"),
        (0.15, 0.6, "the same, example 15.5"),
        (32, 120, "the Ketch 47 of the demonstration book: stroke 64 mm, rod 120 mm"),
    ],
)
@pytest.mark.parametrize("degrees", [1e-9, 1e-6, 1e-3, 1, 24, 40, 75, 89, 91, 150, 179])
def test_both_ways_against_fifty_digits(throw: float, rod: float, source: str, degrees: float) -> None:
    exact = position_at_fifty_digits(degrees, throw, rod)
    assert piston_position(degrees, throw, rod) == pytest.approx(float(exact), rel=1e-14), source
    assert crank_degrees(float(exact), throw, rod) == pytest.approx(degrees, rel=1e-9), source


@pytest.mark.parametrize(
    ("throw", "rod", "rpm", "degrees", "exact", "printed", "source"),
    [  # the book uses an approximation; the exact values were computed at fifty digits
        (0.3, 1.0, 200, 75, 6.56145525767, 6.5403298576, "Khurmi and Gupta, Theory of Machines, 14th ed., ex. 15.3"),
        (0.3, 1.5, 180, 40, 4.19643371937, 4.19177396271, "the same, ex. 15.4"),
        (0.15, 0.6, 450, 60, 6.90535994284, 6.88676946108, "the same, ex. 15.5"),
    ],
)
def test_piston_speed(
    throw: float, rod: float, rpm: float, degrees: float, exact: float, printed: float, source: str
) -> None:
    found = piston_speed(degrees, throw, rod, rpm)
    assert found == pytest.approx(exact, abs=5e-12), source
    assert found == pytest.approx(printed, rel=0.005), source
    assert piston_speed(-degrees, throw, rod, rpm) == -found  # on the way up


def test_a_crank_does_not_turn_backward() -> None:
    with pytest.raises(GeometryImpossible, match="the speed must not be negative"):
        piston_speed(20, 35, 125, -1)


@given(st.floats(1e-6, 179.9), st.floats(10, 60), st.floats(1.5, 6))
def test_there_and_back(degrees: float, throw: float, ratio: float) -> None:
    there = piston_position(degrees, throw, ratio * throw)
    assert crank_degrees(there, throw, ratio * throw) == pytest.approx(degrees, rel=1e-8)


@given(st.floats(0.5, 170), st.floats(10, 60), st.floats(1.5, 6))
def test_degrees_per_length_is_the_slope_at_fifty_digits(degrees: float, throw: float, ratio: float) -> None:
    rod = ratio * throw
    slope = mpmath.diff(lambda angle: position_at_fifty_digits(angle, throw, rod), degrees)
    found = degrees_per_length(piston_position(degrees, throw, rod), throw, rod)
    assert found == pytest.approx(float(1 / slope), rel=1e-6)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: piston_position(20, 125, 35), "the rod is the longer one"),
        (lambda: piston_position(20, 35, 35), "the rod is the longer one"),
        (lambda: piston_position(20, 0, 35), "cannot turn"),
        (lambda: crank_degrees(-0.1, 35, 125), "never gets -0.1 below"),
        (lambda: crank_degrees(70.1, 35, 125), "in a stroke of 70"),
        (lambda: degrees_per_length(0, 35, 125), "not inside"),
        (lambda: degrees_per_length(70, 35, 125), "not inside"),
    ],
)
def test_what_cannot_be_is_refused(call: object, words: str) -> None:
    assert callable(call)
    with pytest.raises(GeometryImpossible, match=words):
        call()


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), -float("inf")])
def test_what_is_not_finite_is_refused(bad: float) -> None:
    calls: list[Callable[[], float]] = [
        lambda: piston_position(20, bad, 35),
        lambda: piston_position(20, 35, bad),
        lambda: piston_position(bad, 35, 125),
        lambda: crank_degrees(bad, 35, 125),
        lambda: degrees_per_length(bad, 35, 125),
        lambda: piston_speed(20, 35, 125, bad),
    ]
    for call in calls:
        with pytest.raises(NotFinite, match="is not a finite number"):
            call()


def quantity(**document: object) -> Quantity:
    value = read_value(document)
    assert isinstance(value, Quantity)
    return value


@pytest.mark.parametrize(
    ("position", "degrees"),
    [
        ({"btdc": {"mm": "2.54"}}, "19.44° BTDC"),
        ({"btdc": {"in": "0.100"}}, "19.44° BTDC"),
        ({"atdc": {"mm": ["0.5", "1.0"]}}, "8.6 to 12.1° ATDC"),
        ({"from": {"btdc": {"mm": "0.50"}}, "to": {"atdc": {"mm": "1.00"}}}, "8.57° BTDC to 12.14° ATDC"),
        ({"btdc": {"mm": "0"}}, "TDC"),
        ({"atdc": "5"}, "5° ATDC"),
    ],
)
def test_a_piston_position_in_degrees_keeps_its_side_and_precision(position: dict[str, object], degrees: str) -> None:
    found = in_degrees(quantity(**position), Crank(35, 125))
    assert found is not None
    assert found.unit is DEGREE_OF_CRANK
    assert str(found) == degrees


@pytest.mark.parametrize(
    "position",
    [{"btdc": {"mm": "71"}}, {"btdc": {"mm": "70"}}, {"btdc": {"mm": {"at_most": "3"}}}],
    ids=["beyond the stroke", "bottom dead centre", "open"],
)
def test_a_position_without_degrees(position: dict[str, object]) -> None:
    assert in_degrees(quantity(**position), Crank(35, 125)) is None


def test_no_crank_no_degrees() -> None:
    assert in_degrees(quantity(btdc={"mm": "3"}), None) is None


def test_nine_decimals_still_have_a_step() -> None:
    assert str(Crank(35, 125).degrees(quantity(btdc={"mm": "2.540000000"}))).startswith("19.44279063")


@pytest.mark.parametrize("degrees", [Fraction(24), Fraction(-24), Fraction(0), Fraction(1, 2)])
def test_a_signed_position_leads_back(degrees: Fraction) -> None:
    crank = Crank(32, 120)
    position = crank.signed_position(degrees, PISTON_IN)
    inches = Quantity(PISTON_IN, quantity(btdc={"in": "1"}).form, quantity(btdc={"in": "1"}).numbers, ())
    back = crank.signed_degrees(inches, position)
    assert back is not None
    assert float(back) == pytest.approx(float(degrees), abs=1e-9)


@pytest.mark.parametrize(
    ("engine", "crank"),
    [
        ({"stroke": {"mm": "64"}, "rod": {"mm": "120"}}, Crank(32, 120)),
        ({"stroke": {"in": "2"}, "rod": {"mm": "101.6"}}, Crank(25.4, 101.6)),
        ({"stroke": {"mm": "1.5"}, "rod": {"mm": "3"}}, Crank(0.75, 3)),  # any throw above zero turns
        ({"stroke": {"mm": "64"}}, None),
        ({"stroke": {"mm": "64"}, "rod": {"mm": "32"}}, None),
        ({"stroke": {"mm": "0"}, "rod": {"mm": "32"}}, None),
        ({"stroke": {"mm": ["60", "64"]}, "rod": {"mm": "120"}}, None),
        ({"stroke": {"mm": "sixty"}, "rod": {"mm": "120"}}, None),
    ],
)
def test_the_crank_of_a_family(engine: dict[str, object], crank: Crank | None) -> None:
    assert Crank.of(Family("skerrow/example", {"engine": engine})) == crank
