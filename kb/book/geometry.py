"""Piston positions as crank angles, through a family's crank."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from kb.book.records import Family
from kb.calc.crank import crank_degrees, degrees_per_length
from kb.errors import GeometryImpossible, QuantityError
from kb.quantity import DEGREE_OF_CRANK, PISTON_MM, UNITS, Dimension, Quantity, decimal_step, read_value, signed_quantity


@dataclass(frozen=True, slots=True)
class Crank:
    """Throw and rod in millimetres."""

    throw: float
    rod: float

    @classmethod
    def of(cls, family: Family) -> Crank | None:
        """The crank of a family, if its file tells stroke and rod and they can turn."""
        lengths = []
        for part in ("stroke", "rod"):
            raw = family.part("engine", part)
            if not isinstance(raw, dict):
                return None
            try:
                length = read_value(raw)
            except QuantityError:
                return None
            if not isinstance(length, Quantity) or length.nominal is None:
                return None
            lengths.append(float(length.unit.convert(length.nominal, UNITS["mm"])))
        return cls(lengths[0] / 2, lengths[1]) if lengths[0] / 2 < lengths[1] else None

    def degrees(self, position: Quantity) -> Quantity:
        """A piston position as a crank angle, to the precision that the printed position has there.

        Raises:
            GeometryImpossible: the piston does not reach it.
        """
        low, high = self.signed_degrees(position, position.low), self.signed_degrees(position, position.high)
        step = decimal_step(Fraction(self.step_degrees(position)).limit_denominator(10**6))
        if low is None or high is None:
            raise GeometryImpossible(f"{position} has an open end")
        return signed_quantity(DEGREE_OF_CRANK, low, high, step)

    def signed_degrees(self, position: Quantity, end: Fraction | None) -> Fraction | None:
        """One signed end of a piston position as signed degrees; an open end stays open."""
        if end is None:
            return None
        millimetres = float(position.unit.convert(abs(end), PISTON_MM))
        angle = Fraction(crank_degrees(millimetres, self.throw, self.rod))
        return angle if end >= 0 else -angle

    def step_degrees(self, position: Quantity) -> float:
        """What one in the last printed place of a piston position is worth in degrees, at its end nearest the centre."""
        ends = [abs(end) for end in (position.low, position.high) if end is not None]
        millimetres = float(position.unit.convert(min(ends), PISTON_MM))
        step = float(position.unit.convert(position.step, PISTON_MM))
        return degrees_per_length(max(millimetres, step), self.throw, self.rod) * step


def in_degrees(quantity: Quantity, crank: Crank | None) -> Quantity | None:
    """A crank angle in degrees as it is, a piston position through the crank; nothing when that cannot be told."""
    if quantity.unit.dimension is not Dimension.PISTON_POSITION:
        return quantity
    if crank is None or quantity.low is None or quantity.high is None:
        return None
    try:
        return crank.degrees(quantity)
    except GeometryImpossible:
        return None
