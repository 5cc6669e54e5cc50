"""Printed values as floating-point numbers, with which rules compare values many times per file.

Printed values never differ by less than a thousand-millionth of themselves, and calculations here are more exact than
that; so a number within ``NEAR`` of a bound is on the bound. Answers are never made from these numbers.
"""

from __future__ import annotations

from math import inf

from kb.book.evidence.agreement import claimed_step
from kb.book.model.crank_geometry import Crank
from kb.calc.crank import crank_degrees
from kb.errors import GeometryImpossible
from kb.quantity import UNITS, Dimension, Number, Quantity, Unit

Ends = tuple[float, float]
"""The smaller and the larger end; an open end is infinite. For crank angles: the later and the earlier end, signed."""

NEAR = 1e-9

FACTORS = {unit.key: (float(unit.factor), float(unit.offset)) for unit in UNITS.values()}
"""Factor and offset of each unit, by its key."""


def plain(number: Number) -> float:
    """A printed number."""
    value = number.value
    return value.numerator / value.denominator


def half_step(quantity: Quantity) -> float:
    """Half of one in the last printed place of its coarsest number."""
    return max(map(half_place, quantity.numbers))


def half_place(number: Number) -> float:
    """Half of one in the last printed place of a number; a fraction claims at least sixty-fourths."""
    text = number.text
    if "/" in text:
        return float(claimed_step(number)) / 2
    point = text.find(".")
    return 0.5 if point < 0 else 0.5 * 10.0 ** (point + 1 - len(text))


def in_base_unit(ends: Ends, unit: Unit) -> Ends:
    """Ends in the unit that their dimension is compared in: millimetres, newton metres, turns a minute."""
    factor, offset = FACTORS[unit.key]
    return ends[0] * factor + offset, ends[1] * factor + offset


def comparable_ends(quantity: Quantity, crank: Crank | None) -> Ends | None:
    """The ends in the unit that the dimension is compared in; a piston position is converted to degrees.

    None for a piston position that cannot be converted to degrees.
    """
    ends = quantity.float_ends
    unit = quantity.unit
    if unit.dimension is Dimension.PISTON_POSITION:
        return None if crank is None else through_crank(ends, unit, crank)
    return ends if unit.dimension is Dimension.CRANK_ANGLE else in_base_unit(ends, unit)


def through_crank(ends: Ends, unit: Unit, crank: Crank) -> Ends | None:
    """Piston positions as signed degrees; None if the piston never gets there."""
    try:
        return degrees_at(ends[0], unit, crank), degrees_at(ends[1], unit, crank)
    except GeometryImpossible:
        return None


def degrees_at(position: float, unit: Unit, crank: Crank) -> float:
    """The signed degrees of a signed piston position; an open end stays open.

    Raises:
        GeometryImpossible: the piston never gets there.
    """
    if position in (-inf, inf):
        return position
    angle = crank_degrees(abs(position) * FACTORS[unit.key][0], crank.throw, crank.rod)
    return angle if position >= 0 else -angle


def lies_above(one: Ends, other: Ends) -> bool:
    """Whether a value is above another (for crank angles: earlier) at both its ends.

    A value that is above at one end only is not above; nor is one that is open below.
    """
    return exceeds(one[0], other[0]) and exceeds(one[1], other[1])


def begins_above(one: Ends, other: Ends) -> bool:
    """Whether the earliest end of one crank angle is earlier than the latest end of another."""
    return exceeds(earliest(one), latest(other))


def exceeds(one: float, other: float) -> bool:
    """Whether a number is greater than another by more than floating-point error."""
    return one > other and (one == inf or other == -inf or one - other > NEAR * max(1.0, abs(one)))


def earliest(angle: Ends) -> float:
    """The earliest printed end of a crank angle."""
    return angle[0] if angle[1] == inf else angle[1]


def latest(angle: Ends) -> float:
    """The latest printed end of a crank angle."""
    return angle[1] if angle[0] == -inf else angle[0]
