"""Whether the second unit of a statement is what the first comes to, and a piston position what the degrees are."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from kb.book.agreement import claimed_step
from kb.book.geometry import Crank
from kb.book.records import Statement
from kb.errors import GeometryImpossible
from kb.finding import Path
from kb.quantity import PISTON_MM, Dimension, Form, Quantity, Unit, decimal_step, signed_quantity, value_keys

_POSITION = Dimension.PISTON_POSITION
_FLOAT = Fraction(1, 10**9)  # what is lost on the way through the crank


def second_units(statement: Statement) -> Iterator[tuple[Path, Quantity]]:
    """The further units of a statement, each with its place."""
    also = statement.document.get("also") or {}
    keys = value_keys(also)
    keys = [key for key in keys if key != "from"] + [key for key in keys if key == "from"]
    for key, value in zip(keys, statement.also, strict=True):
        if isinstance(value, Quantity):
            yield ("figures", statement.figure, statement.index, "also", key), value


def disagreement(first: Quantity, second: Quantity) -> str | None:
    """What the first comes to in the second's unit, in words, if the second is printed otherwise.

    Each number of the second must be the first's by exact conversion, rounded to the second's printed precision; a
    tie may be rounded either way. Values of another shape are compared by their ends.
    """
    unit = second.unit
    if first.form is second.form and first.sides == second.sides:
        converted = [first.unit.convert(number.value, unit) for number in first.numbers]
        if first.form is Form.TOLERANCE:  # plus and minus are differences
            ratio = first.unit.factor / unit.factor
            converted[1:] = [number.value * ratio for number in first.numbers[1:]]
        wanted = zip(converted, second.numbers, strict=True)
        if all(abs(value - number.value) <= claimed_step(number) / 2 for value, number in wanted):
            return None
    else:
        step = max(map(claimed_step, second.numbers))
        ends = ((first.low, second.low), (first.high, second.high))
        if all(_near(None if mine is None else first.unit.convert(mine, unit), its, step / 2) for mine, its in ends):
            return None
    return str(first.to(unit))


def _near(one: Fraction | None, other: Fraction | None, within: Fraction) -> bool:
    return one is other if one is None or other is None else abs(one - other) <= within


def through_the_crank(first: Quantity, second: Quantity, crank: Crank) -> tuple[str, bool] | None:
    """What degrees come to as a piston position, or the other way about, if the second is printed otherwise.

    With the words comes whether the two differ beyond the printed precision of both; else the second is only not
    what the first comes to exactly. Open ends must both be open.

    Raises:
        GeometryImpossible: the piston does not come that far.
    """
    ends = list(zip(_printed_ends(first), _printed_ends(second), strict=True))
    if any((mine is None) is not (its is None) for mine, its in ends):
        return "a bound on the other side", True
    closed = [(mine, its) for mine, its in ends if mine is not None and its is not None]
    half, other_half = (max(map(claimed_step, quantity.numbers)) / 2 for quantity in (first, second))
    exact = [_across(mine, first.unit, second.unit, crank) for mine, _ in closed]
    if all(abs(value - its) <= other_half + _FLOAT for value, (_, its) in zip(exact, closed, strict=True)):
        return None
    step = decimal_step(max(number.step for number in second.numbers))
    words = str(signed_quantity(second.unit, min(exact), max(exact), step))
    return words, not all(_overlap(pair, (half, other_half), first.unit, second.unit, crank) for pair in closed)


def _printed_ends(quantity: Quantity) -> Iterator[Fraction | None]:
    yield quantity.low
    yield quantity.high


def _across(value: Fraction, unit: Unit, other: Unit, crank: Crank) -> Fraction:
    """A signed angle or position in a unit of the other kind."""
    if unit.dimension is _POSITION:
        return crank.signed_degrees_at(value, unit)
    return crank.signed_position(value, other)


def _overlap(
    pair: tuple[Fraction, Fraction], halves: tuple[Fraction, Fraction], unit: Unit, other: Unit, crank: Crank
) -> bool:
    """Whether a value may, within what both print, be the other."""
    stroke = PISTON_MM.convert(Fraction(2 * crank.throw), unit) if unit.dimension is _POSITION else Fraction(180)
    ends = (max(-stroke, pair[0] - halves[0]), min(stroke, pair[0] + halves[0]))
    low, high = (_across(end, unit, other, crank) for end in ends)
    return low - halves[1] - _FLOAT <= pair[1] <= high + halves[1] + _FLOAT


def beyond_the_stroke(value: Quantity, crank: Crank) -> bool:
    """Whether a piston position lies where the piston never comes."""
    ends = [end for end in (value.low, value.high) if end is not None]
    try:
        for end in ends:
            crank.signed_degrees_at(end, value.unit)
    except GeometryImpossible:
        return value.unit.dimension is _POSITION
    return False
