"""Crank geometry: piston position to crank angle and back, for a crank without wrist-pin offset.

J. B. Heywood, *Internal Combustion Engine Fundamentals* (1988), eq. 2.4 to 2.6 (from memory); R. S. Khurmi and
J. K. Gupta, *Theory of Machines*, 14th ed., ch. 15.
"""

from __future__ import annotations

from math import asin, cos, isfinite, radians, sin, sqrt

from kb.errors import GeometryImpossible


def _require_crank(throw: float, rod: float) -> None:
    if not (isfinite(throw) and isfinite(rod) and 0 < throw < rod):
        raise GeometryImpossible(f"a rod of {rod} on a crank throw of {throw} cannot turn; the rod is the longer one")


def piston_position(degrees: float, throw: float, rod: float) -> float:
    """How far the piston stands below top dead centre.

    ``degrees`` of crank from top dead centre, either side; ``throw`` (half the stroke) and ``rod`` (centre to centre)
    in one unit of length, which is also the result's. Valid for ``0 < throw < rod``. The form used keeps its digits
    near top dead centre, where ``l + r - r cos t - sqrt(l^2 - r^2 sin^2 t)`` loses them all.

    Raises:
        GeometryImpossible: the rod is not longer than the throw, or a number is not finite.

    >>> round(piston_position(20, 35, 125), 10)
    2.68526964
    """
    _require_crank(throw, rod)
    if not isfinite(degrees):
        raise GeometryImpossible(f"{degrees} is no crank angle")
    angle = radians(degrees)
    across = throw * sin(angle)
    return 2 * throw * sin(angle / 2) ** 2 + across**2 / (rod + sqrt((rod - across) * (rod + across)))


def crank_degrees(position: float, throw: float, rod: float) -> float:
    """The crank angle, 0 to 180 degrees from top dead centre, at which the piston stands ``position`` below it.

    All lengths in one unit. Valid for ``0 < throw < rod`` and ``0 <= position <= 2 * throw``.

    Raises:
        GeometryImpossible: no such crank, or the piston does not reach that position.

    >>> round(crank_degrees(2.54, 35, 125), 10)
    19.4427906346
    """
    _require_crank(throw, rod)
    if not (isfinite(position) and 0 <= position <= 2 * throw):
        raise GeometryImpossible(f"the piston does not stand {position} below top dead centre in a stroke of {2 * throw}")
    height = rod + throw - position
    return 2 * _degrees(asin(sqrt(min(1.0, position * (2 * rod - position) / (4 * height * throw)))))


def degrees_per_length(position: float, throw: float, rod: float) -> float:
    """How many degrees of crank one unit of piston travel is at a position: what a reading's last digit is worth.

    Lengths in one unit; at the dead centres themselves it is without bound and refused.

    Raises:
        GeometryImpossible: no such crank, or the position is not inside the stroke.

    >>> round(degrees_per_length(2.54, 35, 125), 4)
    3.8747
    """
    if not 0 < position < 2 * throw:
        raise GeometryImpossible(f"{position} is not inside a stroke of {2 * throw}")
    angle = radians(crank_degrees(position, throw, rod))
    across = throw * sin(angle)
    slope = across + across * throw * cos(angle) / sqrt((rod - across) * (rod + across))
    return _degrees(1 / slope)


def _degrees(value: float) -> float:
    return value * 180 / 3.141592653589793
