"""The correction between cranking and running: data at the speeds it is known for, else a refusal."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.calc.correction import Point, correction_at, cranking_from_running, running_from_cranking
from kb.errors import Extrapolation, NoCorrectionKnown, ReadingsContradict

CONSTANT: list[Point] = [(None, Fraction(2))]
TABLE: list[Point] = [(Fraction(1000), Fraction(1)), (Fraction(3000), Fraction(-1)), (Fraction(5000), Fraction(2))]
BY_DEFINITION = "correction = cranking reading - running reading, before top dead centre positive"
BY_HAND = "straight line between neighbouring rows"


@pytest.mark.parametrize(
    ("points", "rpm", "degrees", "source"),
    [
        (CONSTANT, None, "2", "a constant holds without a speed"),
        (CONSTANT, "9000", "2", "a constant is not asked for its speed"),
        (TABLE, "1000", "1", "the first row itself"),
        (TABLE, "3000", "-1", "a row itself"),
        (TABLE, "5000", "2", "the last row itself"),
        (TABLE, "2000", "0", BY_HAND),
        (TABLE, "4000", "1/2", BY_HAND),
        (TABLE, "3500", "-1/4", BY_HAND),
    ],
)
def test_correction_at(points: list[Point], rpm: str | None, degrees: str, source: str) -> None:
    assert correction_at(points, None if rpm is None else Fraction(rpm)) == Fraction(degrees), source


@pytest.mark.parametrize("rpm", ["999", "5001", "0"])
def test_nothing_is_extrapolated(rpm: str) -> None:
    with pytest.raises(Extrapolation, match=f"from 1000 to 5000 rpm, not at {rpm} rpm"):
        correction_at(TABLE, Fraction(rpm))


@pytest.mark.parametrize(
    "points",
    [
        [(None, Fraction(2)), (None, Fraction(3))],
        [(None, Fraction(2)), (Fraction(1000), Fraction(3))],
        [(Fraction(1000), Fraction(3)), (None, Fraction(2))],
        [(Fraction(1000), Fraction(1)), (Fraction(1000), Fraction(2))],
        [(Fraction(3000), Fraction(1)), (Fraction(1000), Fraction(2))],
        [(Fraction(1000), Fraction(1)), (Fraction(3000), Fraction(2)), (Fraction(2000), Fraction(2))],
    ],
)
def test_what_is_neither_a_constant_nor_a_rising_table(points: list[Point]) -> None:
    with pytest.raises(ReadingsContradict, match="one constant, or a table of rising speeds"):
        correction_at(points, Fraction(1000))


def test_a_table_of_one_row_holds_at_its_own_speed_alone() -> None:
    row: list[Point] = [(Fraction(5000), Fraction(2))]
    assert correction_at(row, Fraction(5000)) == 2
    for rpm in (4999, 5001):
        with pytest.raises(Extrapolation, match="from 5000 to 5000 rpm"):
            correction_at(row, Fraction(rpm))
    with pytest.raises(NoCorrectionKnown, match="give the rpm of the running figure"):
        correction_at(row, None)


def test_no_points_no_correction() -> None:
    with pytest.raises(NoCorrectionKnown, match="no correction"):
        correction_at([], Fraction(5000))


def test_a_table_wants_a_speed() -> None:
    with pytest.raises(NoCorrectionKnown, match="give the rpm of the running figure"):
        correction_at(TABLE, None)


@pytest.mark.parametrize(
    ("running", "correction", "cranking", "source"),
    [
        (22, 2, 24, BY_DEFINITION),  # reads earlier while cranking
        (32, -1, 31, BY_DEFINITION),  # reads later while cranking
        (-5, 2, -3, BY_DEFINITION),  # after top dead centre
        (1, -2, -1, BY_DEFINITION),  # across top dead centre
    ],
)
def test_from_one_to_the_other(running: int, correction: int, cranking: int, source: str) -> None:
    assert cranking_from_running(Fraction(running), Fraction(correction)) == cranking, source
    assert running_from_cranking(Fraction(cranking), Fraction(correction)) == running, source


@given(st.fractions(-40, 40), st.fractions(-5, 5))
def test_there_and_back(running: Fraction, correction: Fraction) -> None:
    assert running_from_cranking(cranking_from_running(running, correction), correction) == running


@given(st.fractions(1000, 5000))
def test_between_rows_it_stays_between_them(rpm: Fraction) -> None:
    assert -1 <= correction_at(TABLE, rpm) <= 2
