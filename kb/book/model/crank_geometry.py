"""Piston positions as crank angles, through a family's crank."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from kb.book.model.engine_ranges import frozen, thawed
from kb.book.model.family import Document, Heading
from kb.calc.crank import crank_degrees, degrees_per_length, piston_position
from kb.errors import GeometryImpossible, QuantityError
from kb.frozen import record
from kb.quantity import (
    DEGREE_OF_CRANK,
    PISTON_MM,
    UNITS,
    Dimension,
    Quantity,
    Unit,
    decimal_step,
    read_value,
    signed_quantity,
)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


@record()
class Crank:
    """Throw and rod in millimetres."""

    throw: float
    rod: float

    @classmethod
    def of(cls, family: Heading) -> Crank | None:
        """The crank of a family, if its file states stroke and rod and they can turn."""
        return cls.read(family.part("engine"))

    @classmethod
    def read(cls, engine: Document | None) -> Crank | None:
        """The crank from what stands under ``engine`` in the family's file."""
        lengths = []
        for part in ("stroke", "rod"):
            raw = (engine or {}).get(part)
            length = _millimetres(frozen(raw)) if isinstance(raw, dict) else None
            if length is None:
                return None
            lengths.append(length)
        throw, rod = lengths[0] / 2, lengths[1]
        return cls(throw, rod) if 0 < throw < rod else None

    def degrees(self, position: Quantity) -> Quantity:
        """A piston position as a crank angle, to the precision that the printed position has there.

        Raises:
            GeometryImpossible: the piston does not reach it, or the position is a bound with an open end.
        """
        low, high = self.signed_degrees(position, position.low), self.signed_degrees(position, position.high)
        step = decimal_step(Fraction(self.step_degrees(position)))
        if low is None or high is None:
            raise GeometryImpossible(f"{position} has an open end")
        return signed_quantity(DEGREE_OF_CRANK, low, high, step)

    def signed_degrees(self, position: Quantity, end: Fraction | None) -> Fraction | None:
        """One signed end of a piston position as signed degrees; an open end stays open.

        Raises:
            GeometryImpossible: the piston does not reach it.
        """
        return None if end is None else self.signed_degrees_at(end, position.unit)

    def signed_degrees_at(self, position: Fraction, unit: Unit) -> Fraction:
        """The signed crank angle of a signed piston position in a unit of piston travel.

        Raises:
            GeometryImpossible: the piston does not reach it.
        """
        millimetres = float(unit.convert(abs(position), PISTON_MM))
        angle = Fraction(crank_degrees(millimetres, self.throw, self.rod))
        return angle if position >= 0 else -angle

    def signed_position(self, degrees: Fraction, unit: Unit) -> Fraction:
        """Where the piston is at a signed crank angle, signed alike, in a unit of piston travel."""
        millimetres = Fraction(piston_position(float(abs(degrees)), self.throw, self.rod))
        position = PISTON_MM.convert(millimetres, unit)
        return position if degrees >= 0 else -position

    def step_degrees(self, position: Quantity) -> float:
        """One unit in the last printed place of a piston position, in degrees, at its end nearest to top dead centre.

        Raises:
            GeometryImpossible: the position, or one in its last place, is not inside the stroke.
        """
        ends = [abs(end) for end in (position.low, position.high) if end is not None]
        millimetres = float(position.unit.convert(min(ends), PISTON_MM))
        step = float(position.unit.convert(position.step, PISTON_MM))
        return degrees_per_length(max(millimetres, step), self.throw, self.rod) * step


@lru_cache(maxsize=1024)
def _millimetres(raw: Any) -> float | None:
    """A length as its file gives it, ``frozen``; nothing unless it is one number. Every figure of a family asks."""
    try:
        length = read_value(thawed(raw))
    except QuantityError:
        return None
    if not isinstance(length, Quantity) or length.nominal is None:
        return None
    return float(length.unit.convert(length.nominal, UNITS["mm"]))


def in_degrees(quantity: Quantity, crank: Crank | None) -> Quantity | None:
    """A crank angle in degrees as it is, a piston position converted by the crank; None when that is impossible."""
    if quantity.unit.dimension is not Dimension.PISTON_POSITION:
        return quantity
    if crank is None or quantity.low is None or quantity.high is None:
        return None
    try:
        return crank.degrees(quantity)
    except GeometryImpossible:
        return None
