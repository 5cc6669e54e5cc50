"""Whether values agree: convert to the coarser printed unit and round; nominals equal, windows with a common part."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from kb.book.geometry import Crank, in_degrees
from kb.quantity import Quantity, Value, Words, round_to_step, signed_quantity


@dataclass(frozen=True, slots=True)
class Agreement:
    """What values come to: whether they agree, and if so on what; ``same`` when all print the same."""

    agree: bool
    common: Value | None = None
    same: bool = True


def agreement(values: Sequence[Value], crank: Crank | None = None) -> Agreement | None:
    """Whether values of one figure in one state agree; nothing when that is not for a program to judge.

    The values are of one dimension, or piston positions beside degrees. Words in which marks are described are never
    judged unless they are the same; codes, orders and corrections agree when equal.
    """
    quantities = [in_degrees(value, crank) for value in values if isinstance(value, Quantity)]
    if len(quantities) == len(values):
        known = [quantity for quantity in quantities if quantity is not None]
        if len(known) < len(values) or len({quantity.unit.dimension for quantity in known}) > 1:
            return None
        return _of_quantities(values, known)
    if all(_bare(value) == _bare(values[0]) for value in values):
        return Agreement(True, values[0])
    if any(isinstance(value, Words) and value.dimension.value == "mark" for value in values) or quantities:
        return None
    return Agreement(False, same=False)


def _bare(value: Value) -> object:
    if isinstance(value, Words):
        return " ".join(value.text.split()).casefold()
    return value if isinstance(value, Quantity) else str(value)


def _of_quantities(values: Sequence[Value], quantities: Sequence[Quantity]) -> Agreement:
    coarsest = max(quantities, key=lambda quantity: quantity.step * quantity.unit.factor)
    unit, step = coarsest.unit, coarsest.step
    lows: list[Fraction] = []
    highs: list[Fraction] = []
    ends: set[tuple[Fraction | None, Fraction | None]] = set()
    for quantity in quantities:
        low, high = (
            None if end is None else round_to_step(quantity.unit.convert(end, unit), step)
            for end in (quantity.low, quantity.high)
        )
        ends.add((low, high))
        lows.extend(() if low is None else (low,))
        highs.extend(() if high is None else (high,))
    if len(ends) == 1:
        return Agreement(True, values[0])
    if lows and highs and max(lows) > min(highs):
        return Agreement(False, same=False)
    common: Value = signed_quantity(unit, max(lows), min(highs), step) if lows and highs else values[0]
    return Agreement(True, common, same=False)


def safest(values: Sequence[Value], end: str, crank: Crank | None = None) -> int | None:
    """Which of disagreeing values is the safest by the catalogue's ``safest_end``; none where there is no such end.

    ``later`` and ``smaller`` take the value whose larger end is least, ``earlier`` and ``larger`` the one whose
    smaller end is greatest; crank angles count before top dead centre positive.
    """
    quantities = [in_degrees(value, crank) for value in values if isinstance(value, Quantity)]
    known = [quantity for quantity in quantities if quantity is not None]
    if end == "none" or len(known) < len(values):
        return None
    unit = known[0].unit
    upper = end in ("later", "smaller")
    ends = [quantity.high if upper else quantity.low for quantity in known]
    if any(found is None for found in ends) or len({quantity.unit.dimension for quantity in known}) > 1:
        return None
    converted = [quantity.unit.convert(found, unit) for quantity, found in zip(known, ends, strict=True) if found is not None]
    return converted.index(min(converted) if upper else max(converted))
