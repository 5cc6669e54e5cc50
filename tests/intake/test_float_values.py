"""What rules compare as floating-point numbers is what exact arithmetic says."""

from __future__ import annotations

from fractions import Fraction
from math import inf
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.book.evidence.agreement import claimed_step
from kb.book.model.crank_geometry import Crank
from kb.intake.facts.float_values import comparable_ends, earliest, exceeds, half_place, latest, lies_above
from kb.intake.facts.second_units import beyond_the_stroke, disagreement, through_the_crank
from kb.quantity import Quantity, read_value

PARTS = st.sampled_from(["", ".0", ".5", ".25", ".125"])
NUMBERS = st.builds(lambda whole, part: f"{whole}{part}", st.integers(0, 40), PARTS)
PAIRS = st.tuples(NUMBERS, NUMBERS).map(lambda pair: sorted(pair, key=float))
SHAPES = st.one_of(
    NUMBERS,
    PAIRS,
    NUMBERS.map(lambda number: {"at_least": number}),
    NUMBERS.map(lambda number: {"at_most": number}),
    st.tuples(NUMBERS, NUMBERS).map(lambda pair: {"nominal": pair[0], "plus_minus": pair[1]}),
)


def quantity(document: dict[str, Any]) -> Quantity:
    value = read_value(document)
    assert isinstance(value, Quantity)
    return value


@given(st.sampled_from(["btdc", "atdc", "mm", "Nm", "degF"]), SHAPES)
def test_the_ends_are_the_exact_ones(key: str, shape: Any) -> None:
    found = quantity({key: shape})
    low, high = found.float_ends
    assert low == (-inf if found.low is None else float(found.low))
    assert high == (inf if found.high is None else float(found.high))


@given(NUMBERS, NUMBERS)
def test_a_straddling_window_runs_from_after_to_before(before: str, after: str) -> None:
    found = quantity({"from": {"btdc": before}, "to": {"atdc": after}})
    assert found.float_ends == (-float(after), float(before))


@given(NUMBERS)
def test_half_a_place_is_half_the_step(text: str) -> None:
    number = quantity({"mm": text}).numbers[0]
    assert half_place(number) == pytest.approx(float(claimed_step(number)) / 2, rel=1e-12)


@pytest.mark.parametrize(("text", "half"), [("7/64", 1 / 128), ("1/2", 1 / 128), ("1 3/128", 1 / 256)])
def test_a_fraction_claims_at_least_sixty_fourths(text: str, half: float) -> None:
    assert half_place(quantity({"in": text}).numbers[0]) == half


@given(st.integers(1, 4000), st.integers(1, 9000))
def test_units_agree_when_the_exact_conversion_rounds_to_them(thousandths: int, hundredths: int) -> None:
    inches, millimetres = f"{thousandths / 1000:.3f}", f"{hundredths / 100:.2f}"
    exact = Fraction(thousandths, 1000) * Fraction("25.4")
    agree = abs(exact - Fraction(hundredths, 100)) <= Fraction(1, 200)
    assert (disagreement(quantity({"in": inches}), quantity({"mm": millimetres})) is None) is agree


@given(st.integers(1, 4000))
def test_what_is_printed_from_the_exact_conversion_agrees(thousandths: int) -> None:
    first = quantity({"in": f"{thousandths / 1000:.3f}"})
    for digits in (0, 1, 2):
        millimetres = f"{float(Fraction(thousandths, 1000) * Fraction('25.4')):.{digits}f}"
        assert disagreement(first, quantity({"mm": millimetres})) is None


CRANK = Crank(32, 120)  # the Ketch 47 of the demonstration book


@pytest.mark.parametrize(
    ("first", "second", "found"),
    [
        ({"btdc": "24"}, {"btdc": {"mm": "3.47"}}, None),
        ({"btdc": "24"}, {"btdc": {"mm": "3.4"}}, ("3.5 mm of piston travel BTDC", False)),
        ({"btdc": "24"}, {"btdc": {"mm": "4.7"}}, ("3.5 mm of piston travel BTDC", True)),
        ({"btdc": "24"}, {"atdc": {"mm": "3.47"}}, ("3.47 mm of piston travel BTDC", True)),
        ({"btdc": {"mm": "3.47"}}, {"btdc": "24"}, None),
        ({"atdc": ["4", "6"]}, {"atdc": {"mm": ["0.10", "0.22"]}}, None),
        (
            {"from": {"btdc": "2"}, "to": {"atdc": "3"}},
            {"from": {"btdc": {"mm": "0.02"}}, "to": {"atdc": {"mm": "0.06"}}},
            None,
        ),
        ({"btdc": {"at_most": "24"}}, {"btdc": {"mm": {"at_most": "3.47"}}}, None),
        ({"btdc": {"at_most": "24"}}, {"btdc": {"mm": {"at_least": "3.47"}}}, ("a bound on the other side", True)),
        ({"btdc": {"mm": "64"}}, {"btdc": "180"}, None),
    ],
)
def test_degrees_beside_piston_positions(first: Any, second: Any, found: tuple[str, bool] | None) -> None:
    assert through_the_crank(quantity(first), quantity(second), CRANK) == found


@pytest.mark.parametrize(
    ("value", "beyond"), [({"btdc": {"mm": "64"}}, False), ({"btdc": {"mm": "64.1"}}, True), ({"btdc": "300"}, False)]
)
def test_beyond_the_stroke(value: Any, beyond: bool) -> None:
    assert beyond_the_stroke(quantity(value), CRANK) is beyond


@pytest.mark.parametrize(
    ("value", "crank", "ends"),
    [
        ({"in": "1"}, None, (25.4, 25.4)),
        ({"atdc": ["4", "6"]}, None, (-6.0, -4.0)),
        ({"btdc": {"mm": "3.47"}}, None, None),
        ({"btdc": {"mm": "65"}}, CRANK, None),
    ],
)
def test_comparable_ends(value: Any, crank: Crank | None, ends: tuple[float, float] | None) -> None:
    assert comparable_ends(quantity(value), crank) == ends


@pytest.mark.parametrize(
    ("one", "other", "above"),
    [
        ((5.0, 5.0), (4.0, 4.0), True),
        ((5.0, 5.0), (5.0, 5.0), False),
        ((5.0 + 1e-12, 5.0 + 1e-12), (5.0, 5.0), False),
        ((4.0, 7.0), (3.0, 6.0), True),
        ((2.0, 7.0), (3.0, 6.0), False),
        ((-inf, 7.0), (3.0, 6.0), False),
        ((5.0, inf), (3.0, 6.0), True),
    ],
)
def test_lies_above(one: tuple[float, float], other: tuple[float, float], above: bool) -> None:
    assert lies_above(one, other) is above


def test_the_end_that_is_printed() -> None:
    assert (earliest((3.0, inf)), latest((-inf, 4.0))) == (3.0, 4.0)
    assert (earliest((3.0, 4.0)), latest((3.0, 4.0))) == (4.0, 3.0)
    assert exceeds(inf, 3.0)
    assert not exceeds(inf, inf)
