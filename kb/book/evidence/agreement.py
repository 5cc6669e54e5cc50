"""Whether values agree: converted to the coarsest printed unit and rounded, nominals are equal, or windows overlap."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from kb.book.model.crank_geometry import Crank, in_degrees
from kb.quantity import (
    Correction,
    Dimension,
    Number,
    Quantity,
    Unit,
    Value,
    Words,
    decimal_step,
    round_to_step,
    signed_quantity,
)
from kb.vocabulary.catalogue import SafestEnd

FINEST_OF_FRACTIONS = Fraction(1, 64)
"""Fractions are read off a rule in sixty-fourths and then reduced: 1/2 in does not claim half an inch of precision."""


@dataclass(frozen=True, slots=True)
class Agreement:
    """Whether values agree, and if so on which ``common`` value; ``same`` when all are printed the same."""

    agree: bool
    common: Value | None = None
    same: bool = False


def claimed_step(number: Number) -> Fraction:
    """One unit in the last printed place of a number; for a fraction at most a sixty-fourth."""
    return min(number.step, FINEST_OF_FRACTIONS) if "/" in number.text else number.step


def agreement(values: Sequence[Value], crank: Crank | None = None) -> Agreement | None:
    """Whether values of one figure in one state agree; None when a program cannot judge.

    The values are of one dimension, or piston positions beside degrees. Descriptions of marks are not judged unless
    they are the same; codes and orders agree when equal, constant corrections as numbers do.
    """
    first = values[0]
    if all(value == first for value in values):
        return Agreement(True, first, same=True)
    quantities = [value for value in values if isinstance(value, Quantity)]
    if len(quantities) == len(values):
        return _of_quantities(_in_one_dimension(quantities, crank), first)
    corrections = [value for value in values if isinstance(value, Correction)]
    if len(corrections) == len(values):
        return _of_corrections(corrections)
    if all(_bare(value) == _bare(first) for value in values):
        return Agreement(True, first, same=True)
    if quantities or any(isinstance(value, Words) and value.dimension is Dimension.MARK for value in values):
        return None
    return Agreement(False)


def _bare(value: Value) -> object:
    return " ".join(value.text.split()).casefold() if isinstance(value, Words) else value


def _in_one_dimension(quantities: Sequence[Quantity], crank: Crank | None) -> list[Quantity] | None:
    """Quantities brought to one dimension: in degrees when some are piston positions; None when that fails."""
    if len({quantity.unit.dimension for quantity in quantities}) == 1:
        return list(quantities)
    known = [found for quantity in quantities if (found := in_degrees(quantity, crank)) is not None]
    if len(known) < len(quantities) or len({quantity.unit.dimension for quantity in known}) > 1:
        return None
    return known


def _of_quantities(quantities: Sequence[Quantity] | None, first: Value) -> Agreement | None:
    if quantities is None:
        return None
    unit, step = _coarsest(quantities)
    ends = [
        tuple(
            None if end is None else round_to_step(quantity.unit.convert(end, unit), step)
            for end in (quantity.low, quantity.high)
        )
        for quantity in quantities
    ]
    if len(set(ends)) == 1:
        return Agreement(True, first, same=True)
    low = max((low for low, _ in ends if low is not None), default=None)
    high = min((high for _, high in ends if high is not None), default=None)
    if low is None or high is None:  # bounds open on one side: the narrowest is common
        return Agreement(True, quantities[ends.index((low, high))])
    if low > high:
        return Agreement(False)
    decimal = decimal_step(step)
    return Agreement(True, signed_quantity(unit, low, high, decimal if decimal == step else decimal / 10))


def _coarsest(quantities: Sequence[Quantity]) -> tuple[Unit, Fraction]:
    """The unit and step of the most coarsely printed value."""
    steps = [max(map(claimed_step, quantity.numbers)) for quantity in quantities]
    index = max(range(len(steps)), key=lambda one: steps[one] * quantities[one].unit.factor)
    return quantities[index].unit, steps[index]


def _of_corrections(corrections: Sequence[Correction]) -> Agreement:
    """Tables agree when they have the same speeds and agree at each."""
    speeds = {tuple(point.rpm and point.rpm.value for point in correction.points) for correction in corrections}
    if len(speeds) > 1:
        return Agreement(False)
    for points in zip(*(correction.points for correction in corrections), strict=True):
        step = max(point.degrees.step for point in points)
        if len({round_to_step(point.signed, step) for point in points}) > 1:
            return Agreement(False)
    return Agreement(True, corrections[0], same=True)


def safest(values: Sequence[Value], end: str, crank: Crank | None = None) -> int | None:
    """The index of the safest of disagreeing values by the catalogue's ``safest_end``; None where there is none.

    ``later`` and ``smaller`` take the value whose larger end is least, ``earlier`` and ``larger`` the one whose
    smaller end is greatest; crank angles count before top dead centre positive. Of constant corrections the safest is
    the one by which the maximum is set latest while cranking; tables are not compared.
    """
    if end == SafestEnd.NONE:
        return None
    upper = end in (SafestEnd.LATER, SafestEnd.SMALLER)
    ends = _correction_ends(values) or _quantity_ends(values, crank, upper)
    if not ends:
        return None
    return ends.index(min(ends) if upper else max(ends))


def _correction_ends(values: Sequence[Value]) -> list[Fraction]:
    constants = [
        value.points[0].signed for value in values if isinstance(value, Correction) and value.points[0].rpm is None
    ]
    return constants if len(constants) == len(values) else []


def _quantity_ends(values: Sequence[Value], crank: Crank | None, upper: bool) -> list[Fraction]:
    quantities = [value for value in values if isinstance(value, Quantity)]
    known = _in_one_dimension(quantities, crank) if len(quantities) == len(values) else None
    if not known:
        return []
    ends = [(quantity.unit, quantity.high if upper else quantity.low) for quantity in known]
    converted = [unit.convert(end, known[0].unit) for unit, end in ends if end is not None]
    return converted if len(converted) == len(ends) else []
