"""Crank geometry: piston position to crank angle and back, for a crank without wrist-pin offset.

J. B. Heywood, *Internal Combustion Engine Fundamentals* (1988), eq. 2.4 to 2.6 (from memory); R. S. Khurmi and
J. K. Gupta, *Theory of Machines*, 14th ed., ch. 15.
"""

from __future__ import annotations

from math import atan2, cos, degrees, isfinite, radians, sin, sqrt

from kb.errors import GeometryImpossible


def require_crank(throw: float, rod: float) -> None:
    """Do nothing if a crank of that throw can turn on that rod, both in one unit of length.

    Raises:
        GeometryImpossible: the rod is not longer than the throw, or a number is not finite.
    """
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
    2.6852696401
    """
    require_crank(throw, rod)
    if not isfinite(degrees):
        raise GeometryImpossible(f"{degrees} is no crank angle")
    angle = radians(degrees)
    across = throw * sin(angle)
    return 2 * throw * sin(angle / 2) ** 2 + across**2 / (rod + sqrt((rod - across) * (rod + across)))


def crank_degrees(position: float, throw: float, rod: float) -> float:
    """The crank angle, 0 to 180 degrees from top dead centre, at which the piston stands ``position`` below it.

    All lengths in one unit. Valid for ``0 < throw < rod`` and ``0 <= position <= 2 * throw``. The half angle is taken
    from its sine and cosine, ``x (2l - x)`` and ``(2r - x) (2l + 2r - x)``, which keeps its digits at both centres.

    Raises:
        GeometryImpossible: no such crank, or the piston does not reach that position.

    >>> round(crank_degrees(2.54, 35, 125), 10)
    19.4427906346
    """
    require_crank(throw, rod)
    if not (isfinite(position) and 0 <= position <= 2 * throw):
        raise GeometryImpossible(f"the piston never stands {position} below top dead centre in a stroke of {2 * throw}")
    below, above = position, 2 * throw - position
    return degrees(2 * atan2(sqrt(below * (2 * rod - below)), sqrt(above * (2 * rod + above))))


def degrees_per_length(position: float, throw: float, rod: float) -> float:
    """How many degrees of crank one unit of piston travel is at a position: what a reading's last digit is worth.

    Lengths in one unit; at the dead centres themselves it is without bound and refused.

    Raises:
        GeometryImpossible: no such crank, or the position is not inside the stroke.

    >>> round(degrees_per_length(2.54, 35, 125), 4)
    3.8871
    """
    if not 0 < position < 2 * throw:
        raise GeometryImpossible(f"{position} is not inside a stroke of {2 * throw}")
    return degrees(1 / travel_per_radian(radians(crank_degrees(position, throw, rod)), throw, rod))


def travel_per_radian(angle: float, throw: float, rod: float) -> float:
    """How far the piston moves for a radian of crank at an angle in radians from top dead centre.

    Lengths in one unit, which is also the result's; for a crank that can turn. Nought at the dead centres.

    >>> travel_per_radian(0.0, 35, 125)
    0.0
    """
    across = throw * sin(angle)
    return across + across * throw * cos(angle) / sqrt((rod - across) * (rod + across))
