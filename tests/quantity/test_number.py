"""Numbers as printed: what is one and what is not, what its digits claim, and rounding."""

from __future__ import annotations

from fractions import Fraction

import pytest

from kb.errors import NumberNotPlain
from kb.quantity import Toward, crank_angle, decimal_step, read_number, read_value, round_to_step, write_number

F = Fraction


PLAIN = [
    ("0", F(0), F(1)),
    ("24", F(24), F(1)),
    ("0.030", F(3, 100), F(1, 1000)),  # the last zero is printed precision
    ("24.0", F(24), F(1, 10)),
    ("999999999", F(999999999), F(1)),
    ("1.123456789", F(1123456789, 10**9), F(1, 10**9)),
]


@pytest.mark.parametrize(("text", "value", "step"), PLAIN)
def test_plain_numbers_keep_their_digits(text: str, value: Fraction, step: Fraction) -> None:
    number = read_number(text)
    assert (number.text, number.value, number.step) == (text, value, step)
    assert str(number) == text


NOT_PLAIN = [
    "",
    " ",
    "24 ",
    " 24",
    "2 4",
    "24\n",
    "\t24",
    "010",
    "00",
    "00.5",
    "007",  # octal for one parser, decimal for another
    "1e3",
    "1E3",
    "1.5e-2",
    "0x18",
    "0o30",
    "0b11",
    "1_000",
    "1,000",
    "1'000",
    "0,5",
    "+24",
    "-24",
    "−24",
    "--2",
    "24-",
    "±2",
    ".5",
    "5.",
    "1.2.3",
    "1.1234567890",
    "1234567890",
    "nan",
    "NaN",
    ".nan",
    "inf",
    "-inf",
    ".inf",
    "Infinity",
    "null",
    "~",
    "true",
    "no",
    "٢٤",
    "２４",
    "२४",
    "²",
    "½",
    "Ⅷ",
    "1\u200b2",
    "24°",
    "24 deg",
    "1:30",
    "7/64",
    "1 1/4",  # fractions only where the unit has them
]


@pytest.mark.parametrize("text", NOT_PLAIN)
def test_what_is_no_plain_number(text: str) -> None:
    with pytest.raises(NumberNotPlain, match="is not a plain number; write plain digits such as 24"):
        read_number(text)


@pytest.mark.parametrize(
    ("text", "value", "step"),
    [
        ("7/64", F(7, 64), F(1, 64)),
        ("1 1/4", F(5, 4), F(1, 4)),
        ("2/4", F(1, 2), F(1, 4)),  # as printed: fourths are claimed, not halves
        ("12 15/16", F(207, 16), F(1, 16)),
        ("0.5", F(1, 2), F(1, 10)),
    ],
)
def test_fractions_as_printed(text: str, value: Fraction, step: Fraction) -> None:
    number = read_number(text, fractions=True)
    assert (number.text, number.value, number.step) == (text, value, step)


@pytest.mark.parametrize(
    "text",
    ["5/4", "4/4", "0/4", "1/0", "01/4", "1/04", "0 1/4", "1  1/4", "1-1/4", "1 5/4", "-1/4", "1/4/8", "1/4 ", "1.5/4"],
)
def test_what_is_no_fraction(text: str) -> None:
    with pytest.raises(NumberNotPlain, match="or a fraction such as 7/64 or 1 1/4"):
        read_number(text, fractions=True)


def test_a_sign_is_for_temperatures_alone() -> None:
    assert read_number("-5.0", signed=True).value == -5
    assert str(read_value({"degC": "-5"})) == "-5 °C"
    for unit in ("deg", "mm", "delta_degC", "btdc"):
        with pytest.raises(NumberNotPlain, match="'-5' is not a plain number"):
            read_value({unit: "-5"})
    with pytest.raises(NumberNotPlain, match="'-1' is not a plain number"):
        read_value({"degC": {"nominal": "-5", "plus": "2", "minus": "-1"}})


ROUNDING = [
    (F(1, 4), F(1, 2), Toward.NEAREST, F(1, 2)),  # half goes away from zero
    (F(-1, 4), F(1, 2), Toward.NEAREST, F(-1, 2)),
    (F(77, 4), F(1, 2), Toward.DOWN, F(19)),
    (F(77, 4), F(1, 2), Toward.UP, F(39, 2)),
    (F(-77, 4), F(1), Toward.DOWN, F(-20)),  # later: 19.25 after becomes 20 after
    (F(-77, 4), F(1), Toward.UP, F(-19)),  # earlier
    (F(24), F(1, 10), Toward.DOWN, F(24)),  # what is exact stays, whichever way
    (F(24), F(1, 10), Toward.UP, F(24)),
]


@pytest.mark.parametrize(("value", "step", "toward", "rounded"), ROUNDING)
def test_rounding_goes_where_it_is_told(value: Fraction, step: Fraction, toward: Toward, rounded: Fraction) -> None:
    assert round_to_step(value, step, toward) == rounded


def test_rounding_late_and_early_of_a_crank_angle() -> None:
    assert str(crank_angle(F(2449, 100), F(2449, 100), F(1), Toward.DOWN)) == "24° BTDC"
    assert str(crank_angle(F(2401, 100), F(2401, 100), F(1), Toward.UP)) == "25° BTDC"
    assert str(crank_angle(F(-401, 100), F(-401, 100), F(1), Toward.DOWN)) == "5° ATDC"
    assert str(crank_angle(F(-499, 100), F(-499, 100), F(1), Toward.UP)) == "4° ATDC"


@pytest.mark.parametrize(
    ("step", "kept"),
    [(F(254, 10000), F(1, 100)), (F(1, 64), F(1, 100)), (F(1), F(1)), (F(25), F(1)), (F(1, 10**12), F(1, 10**9))],
)
def test_a_conversion_keeps_the_printed_precision(step: Fraction, kept: Fraction) -> None:
    assert decimal_step(step) == kept


def test_writing_a_number() -> None:
    assert write_number(F(5, 3), F(1, 100)).text == "1.67"
    assert write_number(F(-5, 3), F(1, 100)).text == "-1.67"
    assert write_number(F(1, 20), F(1, 10)).text == "0.1"
    assert write_number(F(1, 30), F(1, 10)).text == "0.0"
    assert write_number(F(249), F(1)).text == "249"
    assert write_number(F(1, 3), F(1, 64)).text == "0.33"  # no power of ten: the next finer one
