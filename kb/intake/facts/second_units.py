"""Whether a statement's second unit equals the first, and whether a piston position matches the degrees."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from math import inf

from kb.book.model.crank_geometry import Crank
from kb.book.model.family import Statement
from kb.calc.crank import piston_position
from kb.errors import GeometryImpossible
from kb.finding import Path
from kb.intake.facts.float_values import FACTORS, NEAR, degrees_at, half_place, half_step, plain
from kb.quantity import (
    PLAIN_KEYS,
    SIDE_KEYS,
    Dimension,
    Form,
    Number,
    Quantity,
    Side,
    Unit,
    decimal_step,
    read_quantity,
    read_value,
    signed_quantity,
    value_keys,
)

_NUMBERS = frozenset((*PLAIN_KEYS, *SIDE_KEYS, Side.CENTRE.value))
_POSITION = Dimension.PISTON_POSITION


def second_units(statement: Statement) -> Iterator[tuple[Path, Quantity]]:
    """The values in a statement's further units, each with its place."""
    path = ("figures", statement.figure, statement.index, "also")
    also = statement.document["also"]
    for key in value_keys(also):
        if key in _NUMBERS:
            yield (*path, key), read_quantity(key, also[key])
        elif key == "from" and isinstance(value := read_value({"from": also[key], "to": also["to"]}), Quantity):
            yield (*path, key), value


@lru_cache(maxsize=4096)
def disagreement(first: Quantity, second: Quantity) -> str | None:
    """The first value in the second's unit, in words, if that is not what the second prints; otherwise None.

    Each number of the second must be the first's, converted and rounded to the second's printed precision; a tie may
    be rounded either way. Values of different shapes are compared by their ends.
    """
    factor, offset = FACTORS[first.unit.key]
    its_factor, its_offset = FACTORS[second.unit.key]
    ratio, shift = factor / its_factor, (offset - its_offset) / its_factor
    if first.form is second.form and first.sides == second.sides:
        shifts = (shift, 0.0, 0.0) if first.form is Form.TOLERANCE else (shift, shift)  # plus and minus are differences
        pairs = zip(first.numbers, second.numbers, shifts, strict=False)
        right = all(_rounds_to(plain(one) * ratio + off, other) for one, other, off in pairs)
    else:
        within = half_step(second) + NEAR
        pairs_of_ends = zip(first.float_ends, second.float_ends, strict=True)
        right = all(mine == its or abs(mine * ratio + shift - its) <= within for mine, its in pairs_of_ends)
    return None if right else str(first.to(second.unit))


def _rounds_to(value: float, number: Number) -> bool:
    printed = plain(number)
    return abs(value - printed) <= half_place(number) + NEAR * max(1.0, abs(printed))


def through_the_crank(first: Quantity, second: Quantity, crank: Crank) -> tuple[str, bool] | None:
    """Degrees as a piston position, or the reverse, in words, if that is not what the second prints; otherwise None.

    The words come with whether the two differ by more than the printed precision of both, and not only from the exact
    conversion. An end that is open in one must be open in both.

    Raises:
        GeometryImpossible: the piston never gets there.
    """
    ends, its_ends = first.float_ends, second.float_ends
    half, its_half = half_step(first), half_step(second) + NEAR
    exact = [_across(end, first.unit, second.unit, crank) for end in ends]
    if all(mine == its or abs(mine - its) <= its_half for mine, its in zip(exact, its_ends, strict=True)):
        return None
    if any((abs(mine) == inf) is not (abs(its) == inf) for mine, its in zip(exact, its_ends, strict=True)):
        return "a bound on the other side", True
    closed = [Fraction(end) for end in exact if abs(end) != inf]
    step = decimal_step(max(number.step for number in second.numbers))
    words = str(signed_quantity(second.unit, min(closed), max(closed), step))
    farthest = 2 * crank.throw / FACTORS[first.unit.key][0] if first.unit.dimension is _POSITION else 180.0
    for mine, its in zip(ends, its_ends, strict=True):
        low, high = (
            _across(min(farthest, max(-farthest, mine + off)), first.unit, second.unit, crank) for off in (-half, half)
        )
        if abs(mine) != inf and not low - its_half <= its <= high + its_half:
            return words, True
    return words, False


def _across(value: float, unit: Unit, other: Unit, crank: Crank) -> float:
    """A signed angle or position in a unit of the other kind; an open end stays open."""
    if unit.dimension is _POSITION:
        return degrees_at(value, unit, crank)
    if abs(value) == inf:
        return value
    position = piston_position(abs(value), crank.throw, crank.rod) / FACTORS[other.key][0]
    return position if value >= 0 else -position


def beyond_the_stroke(value: Quantity, crank: Crank) -> bool:
    """Whether a value is a piston position that the piston never reaches."""
    if value.unit.dimension is not _POSITION:
        return False
    try:
        for end in value.float_ends:
            degrees_at(end, value.unit, crank)
    except GeometryImpossible:
        return True
    return False
