"""Crank geometry: piston position to crank angle and back, for a crank without wrist-pin offset.

J. B. Heywood, *Internal Combustion Engine Fundamentals* (1988), eq. 2.4 to 2.6 (from memory); R. S. Khurmi and
J. K. Gupta, *Theory of Machines*, 14th ed., ch. 15.
"""

from __future__ import annotations

from math import atan2, degrees, hypot, pi, sqrt

from kb.calc.circle import cosine, sine
from kb.calc.finite import require_finite
from kb.errors import GeometryImpossible


def require_crank(throw: float, rod: float) -> None:
    """Raise unless a crank of that throw can turn on that rod, both in one unit of length.

    Raises:
        GeometryImpossible: the rod is not longer than the throw, or the throw is not positive.
        NotFinite: a number is not finite.

    >>> require_crank(35, 125)
    """
    require_finite(throw, rod)
    if not 0 < throw < rod:
        raise GeometryImpossible(f"a rod of {rod} on a crank throw of {throw} cannot turn; the rod is the longer one")


def piston_position(degrees: float, throw: float, rod: float) -> float:
    """How far the piston is below top dead centre.

    ``degrees`` of crank from top dead centre, either side; ``throw`` (half the stroke) and ``rod`` (centre to centre)
    in one unit of length, which is also the result's. Valid for ``0 < throw < rod``. The form used keeps its digits
    near top dead centre, where ``l + r - r cos t - sqrt(l^2 - r^2 sin^2 t)`` loses them all.

    Raises:
        GeometryImpossible: the rod is not longer than the throw.
        NotFinite: a number is not finite.

    >>> round(piston_position(20, 35, 125), 10)
    2.6852696401
    """
    require_crank(throw, rod)
    require_finite(degrees)
    across = throw * sine(degrees)
    return 2 * throw * sine(degrees / 2) ** 2 + across**2 / (rod + _rod_upright(degrees, throw, rod))


def crank_degrees(position: float, throw: float, rod: float) -> float:
    """The crank angle, 0 to 180 degrees from top dead centre, at which the piston is ``position`` below it.

    All lengths in one unit. Valid for ``0 < throw < rod`` and ``0 <= position <= 2 * throw``. The half angle is taken
    from its sine and cosine, ``x (2l - x)`` and ``(2r - x) (2l + 2r - x)``, which keeps its digits at both centres.

    Raises:
        GeometryImpossible: no such crank, or the piston does not reach that position.
        NotFinite: a number is not finite.

    >>> round(crank_degrees(2.54, 35, 125), 10)
    19.4427906346
    """
    require_crank(throw, rod)
    require_finite(position)
    if not 0 <= position <= 2 * throw:
        raise GeometryImpossible(f"the piston never gets {position} below top dead centre in a stroke of {2 * throw}")
    half_sine, half_cosine = _half_angle(position, throw, rod)
    return degrees(2 * atan2(half_sine, half_cosine))


def degrees_per_length(position: float, throw: float, rod: float) -> float:
    """How many degrees of crank one unit of piston travel is at a position: what a reading's last digit is worth.

    Lengths in one unit; at the dead centres themselves it is infinite, and refused.

    Raises:
        GeometryImpossible: no such crank, or the position is not inside the stroke.
        NotFinite: a number is not finite.

    >>> round(degrees_per_length(2.54, 35, 125), 4)
    3.8871
    """
    require_crank(throw, rod)
    require_finite(position)
    if not 0 < position < 2 * throw:
        raise GeometryImpossible(f"{position} is not inside a stroke of {2 * throw}")
    half_sine, half_cosine = _half_angle(position, throw, rod)
    height = throw + rod - position
    return degrees((height * height + (rod - throw) * (rod + throw)) / height / half_sine / half_cosine)


def travel_per_radian(degrees: float, throw: float, rod: float) -> float:
    """How far the piston moves for a radian of crank at an angle in degrees from top dead centre.

    Lengths in one unit, which is also the result's, positive on the way down from 0 to 180 degrees and zero at the
    dead centres. Valid for ``0 < throw < rod``.

    Raises:
        GeometryImpossible: the rod is not longer than the throw.
        NotFinite: a number is not finite.

    >>> travel_per_radian(90, 35, 125)
    35.0
    """
    require_crank(throw, rod)
    require_finite(degrees)
    upright, along = _rod_upright(degrees, throw, rod), throw * cosine(degrees)
    # The wrist pin's height over the crank's centre; below it the sum would be a difference.
    height = upright + along if along >= 0 else (rod - throw) * (rod + throw) / (upright - along)
    return throw * sine(degrees) * height / upright


def piston_speed(degrees: float, throw: float, rod: float, rpm: float) -> float:
    """The piston's speed, in the lengths' unit per second, at an angle in degrees after top dead centre.

    ``throw`` and ``rod`` in one unit; ``rpm`` in revolutions per minute, not negative. Positive on the way down. R. S.
    Khurmi and J. K. Gupta, *Theory of Machines*, 14th ed., ch. 15, whose examples use an approximation.

    Raises:
        GeometryImpossible: the rod is not longer than the throw, or the speed is negative.
        NotFinite: a number is not finite.

    >>> round(piston_speed(75, 0.3, 1, 200), 9)
    6.561455258
    """
    require_finite(rpm)
    if rpm < 0:
        raise GeometryImpossible(f"a crank cannot turn at {rpm} revolutions a minute; the speed must not be negative")
    return travel_per_radian(degrees, throw, rod) * (rpm * pi / 30)


def pin_heights(throw: float, rod: float, offset: float) -> tuple[float, float]:
    """How high the wrist pin stands over the crank's centre, along the bore, at the top and at the bottom.

    ``offset`` is how far the pin's line passes by the crank's centre; lengths in one unit. True top dead centre is
    where throw and rod lie in one line: ``sqrt((l + r)^2 - e^2)``, and ``sqrt((l - r)^2 - e^2)`` at the bottom.

    Raises:
        GeometryImpossible: the rod is not longer than throw and offset together.
        NotFinite: a number is not finite.

    >>> pin_heights(35, 125, 0)
    (160.0, 90.0)
    """
    require_crank(throw, rod)
    require_finite(offset)
    longest, shortest = rod + throw, rod - throw
    if abs(offset) >= shortest:
        raise GeometryImpossible(f"a rod of {rod} on a throw of {throw} cannot turn with its pin {offset} aside")
    return (sqrt((longest - offset) * (longest + offset)), sqrt((shortest - offset) * (shortest + offset)))


def _rod_upright(degrees: float, throw: float, rod: float) -> float:
    """The rod's length along the cylinder, ``sqrt(l^2 - r^2 sin^2 t)``, as a sum of squares that loses no digits."""
    return hypot(sqrt((rod - throw) * (rod + throw)), throw * cosine(degrees))


def _half_angle(position: float, throw: float, rod: float) -> tuple[float, float]:
    """Sine and cosine of half the crank angle, both times ``2 sqrt(throw * height)``."""
    above = 2 * throw - position
    return sqrt(position * (2 * rod - position)), sqrt(above * (2 * rod + above))
