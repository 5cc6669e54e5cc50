"""Quantities as printed: every shape, what is none, sides and signs, words."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from kb.errors import NumberNotPlain, QuantityError, UnitsNotComparable, UnknownUnit, WindowInverted
from kb.quantity import (
    DEGREE_OF_CRANK,
    PISTON_IN,
    UNITS,
    Form,
    Quantity,
    Side,
    Words,
    crank_angle,
    read_quantity,
    read_value,
    round_to_step,
    signed_quantity,
    spoken_quantity,
    unit_of,
    value_keys,
)

F = Fraction


def quantity(document: dict[str, Any]) -> Quantity:
    value = read_value(document)
    assert isinstance(value, Quantity)
    return value


SHAPES: list[tuple[dict[str, Any], Form, Fraction | None, Fraction | None, str]] = [
    ({"btdc": "24"}, Form.NOMINAL, F(24), F(24), "24° BTDC"),
    ({"atdc": "5"}, Form.NOMINAL, F(-5), F(-5), "5° ATDC"),
    ({"tdc": "0"}, Form.NOMINAL, F(0), F(0), "TDC"),
    ({"btdc": ["20", "22"]}, Form.WINDOW, F(20), F(22), "20 to 22° BTDC"),
    ({"atdc": ["4", "6"]}, Form.WINDOW, F(-6), F(-4), "4 to 6° ATDC"),
    ({"from": {"btdc": "2"}, "to": {"atdc": "3"}}, Form.WINDOW, F(-3), F(2), "2° BTDC to 3° ATDC"),
    ({"from": {"tdc": "0"}, "to": {"atdc": "3"}}, Form.WINDOW, F(-3), F(0), "TDC to 3° ATDC"),
    ({"btdc": {"at_most": "26"}}, Form.AT_MOST, None, F(26), "at most 26° BTDC"),
    ({"btdc": {"at_least": "26"}}, Form.AT_LEAST, F(26), None, "at least 26° BTDC"),
    ({"atdc": {"at_most": "6"}}, Form.AT_MOST, F(-6), None, "at most 6° ATDC"),
    ({"atdc": {"at_least": "6"}}, Form.AT_LEAST, None, F(-6), "at least 6° ATDC"),
    ({"btdc": {"nominal": "24", "plus_minus": "1"}}, Form.TOLERANCE, F(23), F(25), "24 ± 1° BTDC"),
    ({"atdc": {"nominal": "5", "plus": "2", "minus": "1"}}, Form.TOLERANCE, F(-7), F(-4), "5 +2 −1° ATDC"),
    ({"btdc": {"in": "0.150"}}, Form.NOMINAL, F(3, 20), F(3, 20), "0.150 in of piston travel BTDC"),
    ({"atdc": {"mm": ["0.1", "0.2"]}}, Form.WINDOW, F(-1, 5), F(-1, 10), "0.1 to 0.2 mm of piston travel ATDC"),
    ({"in": "7/64"}, Form.NOMINAL, F(7, 64), F(7, 64), "7/64 in"),
    ({"in": ["1/2", "0.55"]}, Form.WINDOW, F(1, 2), F(11, 20), "1/2 to 0.55 in"),
    ({"mm": {"nominal": "0.40", "plus_minus": "0.05"}}, Form.TOLERANCE, F(7, 20), F(9, 20), "0.40 ± 0.05 mm"),
    ({"V": {"at_least": "9.6"}}, Form.AT_LEAST, F(48, 5), None, "at least 9.6 V"),
    ({"to_one": "50"}, Form.NOMINAL, F(50), F(50), "50:1"),
    ({"degC": ["-10", "40"]}, Form.WINDOW, F(-10), F(40), "-10 to 40 °C"),
]


@pytest.mark.parametrize(("document", "form", "low", "high", "words"), SHAPES, ids=lambda value: str(value)[:40])
def test_every_shape(
    document: dict[str, Any], form: Form, low: Fraction | None, high: Fraction | None, words: str
) -> None:
    value = quantity(document)
    assert (value.form, value.low, value.high, str(value)) == (form, low, high, words)
    for end in (low, high):
        if end is not None:
            assert value.holds(end), "both ends belong to it"
    if low is not None:
        assert not value.holds(low - F(1, 10**6))
    if high is not None:
        assert not value.holds(high + F(1, 10**6))
    assert (value.nominal is None) is (form not in (Form.NOMINAL, Form.TOLERANCE))


REFUSED: list[tuple[dict[str, Any], type[QuantityError], str]] = [
    ({}, QuantityError, "exactly one unit is needed, not none"),
    ({"state": "cranking"}, QuantityError, "exactly one unit is needed, not none"),
    ({"btdc": "4", "atdc": "4"}, QuantityError, "exactly one unit is needed, not btdc, atdc"),
    ({"mm": "1", "from": {"btdc": "1"}, "to": {"atdc": "1"}}, QuantityError, "not mm, from"),
    ({"btdc": ["24", "22"]}, WindowInverted, "the first number, 24, is greater than the second, 22"),
    ({"atdc": ["6", "4"]}, WindowInverted, "the first number, 6, is greater"),
    ({"in": ["1/2", "0.4"]}, WindowInverted, "the first number, 1/2, is greater"),
    ({"from": {"atdc": "3"}, "to": {"btdc": "2"}}, WindowInverted, "from, 3° ATDC, is later than to, 2° BTDC"),
    ({"from": {"btdc": "2"}}, QuantityError, "has both from and to"),
    ({"from": {"btdc": "2"}, "to": {"atdc": {"mm": "1"}}}, QuantityError, "both in the same unit"),
    ({"from": {"btdc": ["2", "3"]}, "to": {"atdc": "1"}}, QuantityError, "is one number"),
    ({"from": {"deg": "2"}, "to": {"atdc": "1"}}, QuantityError, "is one of btdc, atdc or tdc"),
    ({"tdc": "1"}, QuantityError, "tdc is always 0"),
    ({"tdc": ["0", "1"]}, QuantityError, "tdc is always 0"),
    ({"tdc": {"mm": "0"}}, QuantityError, "write a number"),
    ({"btdc": {"ft": "1"}}, QuantityError, "write a number"),
    ({"btdc": {"mm": "1", "in": "1"}}, QuantityError, "write a number"),
    ({"mm": []}, QuantityError, "write a number"),
    ({"mm": ["1", "2", "3"]}, QuantityError, "write a number"),
    ({"mm": {"nominal": "1"}}, QuantityError, "write a number"),
    ({"mm": {"nominal": "1", "plus": "1"}}, QuantityError, "write a number"),
    ({"mm": {"at_least": "1", "at_most": "2"}}, QuantityError, "write a number"),
    ({"mm": {"in": "1"}}, QuantityError, "write a number"),
    ({"mm": "7/64"}, NumberNotPlain, "'7/64' is not a plain number"),
    ({"btdc": {"mm": "7/64"}}, NumberNotPlain, "'7/64' is not a plain number"),
    ({"mark": ""}, QuantityError, "mark is words"),
    ({"code": ["a"]}, QuantityError, "code is words"),
    ({"order": []}, QuantityError, "an order is a list"),
    ({"order": "1-3-2"}, QuantityError, "an order is a list"),
    ({"order": ["1", "0"]}, QuantityError, "count from 1"),
    ({"order": ["1", "2.0"]}, QuantityError, "cylinder numbers are whole"),
    ({"cranking_earlier": ["1", "2"]}, QuantityError, "one number of degrees"),
    ({"by_rpm": [{"rpm": "1000", "cranking_earlier": "1"}]}, QuantityError, "at least two rows"),
    (
        {"by_rpm": [{"rpm": "2000", "cranking_earlier": "1"}, {"rpm": "1000", "cranking_later": "1"}]},
        QuantityError,
        "each at a higher speed",
    ),
    ({"by_rpm": [{"rpm": "1000"}, {"rpm": "2000", "cranking_later": "1"}]}, QuantityError, "each row of by_rpm has"),
]


@pytest.mark.parametrize(("document", "error", "words"), REFUSED, ids=lambda value: str(value)[:50])
def test_what_is_no_value(document: dict[str, Any], error: type[QuantityError], words: str) -> None:
    with pytest.raises(error, match=words):
        read_value(document)


def test_other_keys_are_passed_over_and_a_straddling_pair_counts_once() -> None:
    assert value_keys(["state", "from", "to", "source", "mm"]) == ["from", "mm"]
    assert value_keys(["to"]) == ["to"]
    assert quantity({"mm": "1", "state": "at-rest", "source": "plate"}) == quantity({"mm": "1"})
    assert isinstance(read_value({"mark": "arrow on line"}), Words)


def test_signed_decimals_are_for_crank_degrees_alone() -> None:
    assert quantity({"atdc": ["4", "6.5"]}).degrees == (Decimal("-6.5"), Decimal("-4"))
    assert quantity({"btdc": {"at_most": "26"}}).degrees == (None, Decimal(26))
    for document in ({"deg": "4"}, {"btdc": {"mm": "1.2"}}):
        with pytest.raises(QuantityError, match="is not a crank angle in degrees"):
            assert quantity(document).degrees


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (F(24), F(24), "24.0° BTDC"),
        (F(-5), F(-5), "5.0° ATDC"),
        (F(0), F(0), "TDC"),
        (F(1, 1000), F(1, 1000), "TDC"),  # zero once rounded: no side is claimed
        (F(20), F(22), "20.0 to 22.0° BTDC"),
        (F(-6), F(-4), "4.0 to 6.0° ATDC"),
        (F(-3), F(2), "2.0° BTDC to 3.0° ATDC"),
        (F(0), F(2), "0.0 to 2.0° BTDC"),
        (F(-2), F(0), "0.0 to 2.0° ATDC"),
    ],
)
def test_a_signed_angle_is_told_by_its_side(low: Fraction, high: Fraction, words: str) -> None:
    angle = crank_angle(low, high)
    assert str(angle) == words
    assert (angle.low, angle.high) == (round_to_step(low, F(1, 10)), round_to_step(high, F(1, 10)))


def test_signed_ends_of_a_piston_position_and_of_a_length() -> None:
    assert str(signed_quantity(PISTON_IN, F(-1, 4), F(1, 4), F(1, 1000))) == (
        "0.250 in of piston travel BTDC to 0.250 in of piston travel ATDC"
    )
    assert signed_quantity(UNITS["mm"], F(1), F(2), F(1, 10)).sides == ()


def test_unknown_units_and_strange_dimensions() -> None:
    with pytest.raises(UnknownUnit, match="no unit 'furlong'; units are deg, mm"):
        unit_of("furlong")
    with pytest.raises(UnitsNotComparable, match="inch measures length, newton metre measures torque"):
        UNITS["in"].convert(F(1), UNITS["Nm"])
    with pytest.raises(UnitsNotComparable, match="degree of crank measures crank-angle, degree measures angle"):
        quantity({"btdc": "4"}).to(UNITS["deg"])
    with pytest.raises(UnitsNotComparable, match="measures temperature, "):
        quantity({"degC": "4"}).to(UNITS["delta_degC"])


def test_sides_have_signs() -> None:
    assert [side.sign for side in (Side.BEFORE, Side.AFTER, Side.CENTRE)] == [1, -1, 0]
    assert read_quantity("btdc", "4").unit is DEGREE_OF_CRANK


@pytest.mark.parametrize(
    ("words", "bare", "document"),
    [("0.030 in", "", {"in": "0.030"}), ("47", "mm", {"mm": "47"}), (' 1 1/4" ', "", {"in": "1 1/4"})],
)
def test_a_number_is_typed_with_its_unit_or_without_where_that_is_allowed(
    words: str, bare: str, document: dict[str, Any]
) -> None:
    assert spoken_quantity(words, ("mm", "in"), bare) == quantity(document)


@pytest.mark.parametrize(
    ("words", "bare"),
    [
        ("47", ""),  # without a unit
        ("47 deg", "mm"),  # a unit, but another one
        ("forty", "mm"),  # no number, though a bare one is allowed
        ("", "mm"),
    ],
)
def test_what_is_typed_without_a_number_or_with_another_unit_is_refused(words: str, bare: str) -> None:
    with pytest.raises(QuantityError, match=f"^'{words}': write a number and mm or in, such as '62 mm'$"):
        spoken_quantity(words, ("mm", "in"), bare)
