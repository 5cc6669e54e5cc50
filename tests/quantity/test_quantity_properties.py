"""What holds for every quantity: printed, value and printed again; there and back; no sign on any angle."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from kb.quantity import (
    DEGREE_OF_CRANK,
    PISTON_MM,
    PLAIN_KEYS,
    UNITS,
    Correction,
    Quantity,
    Side,
    Toward,
    Unit,
    crank_angle,
    decimal_step,
    read_number,
    read_value,
    round_to_step,
    signed_quantity,
    write_number,
    write_value,
)

DECIMALS = st.from_regex(r"(0|[1-9][0-9]{0,4})(\.[0-9]{1,4})?", fullmatch=True)
_PARTS = st.tuples(st.integers(1, 63), st.integers(2, 64)).filter(lambda pair: pair[0] < pair[1])
FRACTIONS = st.builds(lambda whole, part: f"{whole or ''} {part[0]}/{part[1]}".strip(), st.integers(0, 20), _PARTS)
SIGNED = st.builds(lambda minus, text: "-" * minus + text, st.booleans(), DECIMALS)
CRANK = ("btdc", "atdc")
VALUES = st.fractions(-400, 400, max_denominator=10**6)
STEPS = st.sampled_from([Fraction(1), Fraction(1, 2), Fraction(1, 4), Fraction(1, 10), Fraction(1, 100), Fraction(5)])


def _numbers(unit: Unit) -> st.SearchStrategy[str]:
    if unit.fractions:
        return DECIMALS | FRACTIONS
    return SIGNED if unit.signed else DECIMALS


def _in_order(unit: Unit, texts: list[str]) -> list[str]:
    return sorted(texts, key=lambda text: read_number(text, fractions=unit.fractions, signed=unit.signed).value)


@st.composite
def shapes(draw: st.DrawFn, unit: Unit) -> Any:
    """What may stand under a unit: a number, a window, a bound or a tolerance."""
    numbers = _numbers(unit)
    tolerances = DECIMALS | FRACTIONS if unit.fractions else DECIMALS
    form = draw(st.sampled_from(["nominal", "window", "at_least", "at_most", "plus_minus", "plus"]))
    if form == "nominal":
        return draw(numbers)
    if form == "window":
        return _in_order(unit, [draw(numbers), draw(numbers)])
    if form in ("at_least", "at_most"):
        return {form: draw(numbers)}
    if form == "plus_minus":
        return {"nominal": draw(numbers), "plus_minus": draw(tolerances)}
    plus, minus = draw(tolerances), draw(tolerances)
    plain = {"nominal": draw(numbers), "plus": plus, "minus": minus}
    return {"nominal": plain["nominal"], "plus_minus": plus} if plus == minus else plain


@st.composite
def documents(draw: st.DrawFn) -> dict[str, Any]:
    """A value as a contributor types it, under any unit."""
    kind = draw(st.sampled_from(["plain", "angle", "piston", "straddle", "correction"]))
    if kind == "plain":
        key = draw(st.sampled_from(PLAIN_KEYS))
        return {key: draw(shapes(UNITS[key]))}
    if kind == "angle":
        return {draw(st.sampled_from(CRANK)): draw(shapes(DEGREE_OF_CRANK))}
    if kind == "piston":
        inner = draw(st.sampled_from(["mm", "in"]))
        return {draw(st.sampled_from(CRANK)): {inner: draw(shapes(UNITS["piston_" + inner]))}}
    if kind == "straddle":
        return {"from": {"btdc": draw(DECIMALS)}, "to": {"atdc": draw(DECIMALS)}}
    side = st.sampled_from(["cranking_earlier", "cranking_later"])
    if draw(st.booleans()):
        return {draw(side): draw(DECIMALS)}
    speeds = sorted(draw(st.lists(st.integers(1, 9999), min_size=2, max_size=5, unique=True)))
    return {"by_rpm": [{"rpm": str(speed), draw(side): draw(DECIMALS)} for speed in speeds]}


@given(documents())
def test_printed_value_printed(document: dict[str, Any]) -> None:
    assert write_value(read_value(document)) == document


@given(documents())
def test_no_angle_ever_shows_a_sign(document: dict[str, Any]) -> None:
    value = read_value(document)
    if isinstance(value, Correction) or (isinstance(value, Quantity) and value.sides):
        words = re.sub(r"\+[0-9./ ]+ −[0-9./ ]+", "", str(value))  # the two tolerances are no angles
        assert not set("-+−") & set(words)
        assert "-" not in str(write_value(value))


@given(documents())
def test_the_smaller_end_is_never_the_greater_and_both_belong(document: dict[str, Any]) -> None:
    value = read_value(document)
    if not isinstance(value, Quantity):
        return
    if value.low is not None and value.high is not None:
        assert value.low <= value.high
    assert all(value.holds(end) for end in (value.low, value.high) if end is not None)
    if value.nominal is not None:
        assert value.holds(value.nominal)


@given(st.sampled_from(list(UNITS.values())), st.data(), VALUES)
def test_there_and_back_is_exact(unit: Unit, data: st.DataObject, value: Fraction) -> None:
    other = data.draw(st.sampled_from([other for other in UNITS.values() if other.dimension is unit.dimension]))
    assert other.convert(unit.convert(value, other), unit) == value
    assert unit.ratio(other) * other.ratio(unit) == 1


@given(documents(), st.data())
def test_a_converted_quantity_keeps_form_and_sides(document: dict[str, Any], data: st.DataObject) -> None:
    value = read_value(document)
    if not isinstance(value, Quantity):
        return
    units = [unit for unit in UNITS.values() if unit.dimension is value.unit.dimension]
    unit = data.draw(st.sampled_from(units))
    there = value.to(unit)
    assert (there.form, there.sides, there.unit) == (value.form, value.sides, unit)
    if unit is not value.unit:
        kept = decimal_step(value.step * value.unit.ratio(unit))
        assert all(number.step == kept for number in there.numbers)
        exact = value.unit.convert(value.numbers[0].value, unit)
        assert abs(there.numbers[0].value - exact) <= kept / 2


@given(VALUES, VALUES, STEPS, st.sampled_from(list(Toward)))
def test_signed_to_sides_and_back(one: Fraction, other: Fraction, step: Fraction, toward: Toward) -> None:
    low, high = sorted((one, other))
    angle = crank_angle(low, high, step, toward)
    kept = decimal_step(step)
    assert (angle.low, angle.high) == (round_to_step(low, kept, toward), round_to_step(high, kept, toward))
    assert all(number.value >= 0 for number in angle.numbers)
    assert "-" not in str(angle)
    assert read_value(write_value(angle)) == angle
    position = signed_quantity(PISTON_MM, low, high, step, toward)
    again = read_value(write_value(position))
    assert again == position or (position.sides == (Side.CENTRE,) and str(again) == str(position) == "TDC")


@given(VALUES, STEPS)
def test_later_is_never_earlier(value: Fraction, step: Fraction) -> None:
    down, nearest, up = (round_to_step(value, step, toward) for toward in (Toward.DOWN, Toward.NEAREST, Toward.UP))
    assert down <= value <= up
    assert up - down in (0, step)
    assert nearest in (down, up)
    assert abs(nearest - value) <= step / 2
    assert round_to_step(-value, step) == -nearest


@given(VALUES, st.integers(0, 9))
def test_a_written_number_is_read_back(value: Fraction, decimals: int) -> None:
    number = write_number(value, Fraction(1, 10**decimals))
    assert read_number(number.text.removeprefix("-"), signed=True).value == abs(number.value)
    assert number.text.startswith("-") == (number.value < 0)
    assert abs(number.value - value) <= number.step / 2
