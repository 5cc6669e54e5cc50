"""Petrol and oil by volume, with the gallon named."""

from __future__ import annotations

from fractions import Fraction

from kb.errors import GeometryImpossible
from kb.quantity import Unit


def oil_for(petrol: Fraction, ratio: Fraction, petrol_unit: Unit, oil_unit: Unit) -> Fraction:
    """The oil for a volume of petrol, exactly.

    ``ratio`` is parts of petrol to one of oil, at least 1; the volumes are in the units given, so that a US and an
    imperial gallon are never mistaken for each other (NIST SP 811: 3.785 412 L and 4.546 09 L).

    Raises:
        GeometryImpossible: the volume is negative or the ratio under 1.
        UnitsNotComparable: a unit is no unit of volume.

    >>> from kb.quantity import UNITS
    >>> oil_for(Fraction(6), Fraction(50), UNITS["us_gal"], UNITS["us_fl_oz"])
    Fraction(384, 25)
    """
    if petrol < 0:
        raise GeometryImpossible("a volume is not negative")
    if ratio < 1:
        raise GeometryImpossible(f"{ratio} parts of petrol to one of oil is more oil than petrol")
    return petrol_unit.convert(petrol / ratio, oil_unit)


def ratio_of(petrol: Fraction, oil: Fraction, petrol_unit: Unit, oil_unit: Unit) -> Fraction:
    """Parts of petrol to one of oil, exactly, of a mixture of two volumes.

    Raises:
        GeometryImpossible: there is no oil, or a negative volume.
        UnitsNotComparable: a unit is no unit of volume.

    >>> from kb.quantity import UNITS
    >>> ratio_of(Fraction(20), Fraction(400), UNITS["L"], UNITS["mL"])
    Fraction(50, 1)
    """
    if oil <= 0 or petrol < 0:
        raise GeometryImpossible("without oil there is no ratio")
    return petrol_unit.convert(petrol, oil_unit) / oil
