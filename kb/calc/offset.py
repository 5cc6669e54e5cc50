"""A crank with an offset wrist pin: its dead centres, piston position from crank angle, and back.

``height = r cos t + sqrt(l^2 - (r sin t - e)^2)`` with t from the upright throw, positive to the side of the offset;
R. S. Khurmi and J. K. Gupta, *Theory of Machines*, 14th ed., ch. 15, for the crank without offset. True top dead
centre is where throw and rod lie in one line, at ``asin(e / (l + r))``. Angles here are counted from there.
"""

from __future__ import annotations

from math import asin, atan2, cos, degrees, hypot, radians, sqrt

from kb.calc.circle import sine, within_half_a_turn
from kb.calc.crank import pin_heights
from kb.calc.dead_centre import offset_bias
from kb.calc.finite import require_finite
from kb.frozen import record


@record()
class DeadCentres:
    """Where the piston turns back, in degrees from the upright throw to the side of the offset, and the stroke."""

    top: float
    bottom: float
    stroke: float


def dead_centres(throw: float, rod: float, offset: float) -> DeadCentres:
    """The two dead centres and the stroke, a little more than two throws; lengths in one unit.

    Raises:
        GeometryImpossible: no such crank.
        NotFinite: a number is not finite.

    >>> found = dead_centres(35, 125, 1)
    >>> round(found.top, 11), round(found.bottom, 8), round(found.stroke, 6)
    (0.35810095337, 180.63663287, 70.002431)
    """
    top, bottom = pin_heights(throw, rod, offset)
    return DeadCentres(
        degrees(atan2(offset, top)), 180 + degrees(atan2(offset, bottom)), 4 * rod * throw / (top + bottom)
    )


def offset_piston_position(angle: float, throw: float, rod: float, offset: float) -> float:
    """How far the piston is below its own top, ``angle`` degrees of crank from true top dead centre.

    ``angle`` is positive to the side of the offset, of any size; lengths in one unit, which is also the result's.
    Valid for ``throw + |offset| < rod``. ``2 r sin(d/2) sin((d + f)/2) / cos((p + q)/2)``, with f the angle
    that the rod has swung since the top and p, q its tilt now and then: no difference of lengths, so no digit is lost.

    Raises:
        GeometryImpossible: no such crank.
        NotFinite: a number is not finite.

    >>> round(offset_piston_position(25.3673969126 - 0.35810095337, 35, 125, 1), 9)
    4.157483142
    """
    require_finite(angle)
    angle = within_half_a_turn(angle)
    top, _ = pin_heights(throw, rod, offset)
    start = atan2(offset, top)
    across = throw * sine(angle + degrees(start)) - offset
    tilt = atan2(across, sqrt(rod - across) * sqrt(rod + across))
    upright = cos((tilt - start) / 2)
    half_swing = asin(throw * cos(radians(angle / 2) + start) * sine(angle / 2) / (rod * upright))
    return 2 * throw * sine(angle / 2) * sine(angle / 2 + degrees(half_swing)) / upright


def offset_crank_degrees(position: float, throw: float, rod: float, offset: float) -> tuple[float, float]:
    """The two crank angles from true top dead centre at which the piston is ``position`` below its own top.

    The first on the side of the offset (positive, 0 to 180 and a little more), the second on the other (negative).
    Lengths in one unit; ``position`` from 0 to the stroke of ``dead_centres``. Both lie evenly about the line from the
    crank's centre to the pin, which lies ``offset_bias`` from true top dead centre.

    Raises:
        GeometryImpossible: no such crank, or the piston does not reach that position.
        NotFinite: a number is not finite.

    >>> one, other = offset_crank_degrees(4.1574831422, 35, 125, 1)
    >>> round(one + 0.35810095337, 8), round(other + 0.35810095337, 8)
    (25.36739691, -24.63208869)
    """
    middle = offset_bias(offset, position, throw, rod)
    top, bottom = pin_heights(throw, rod, offset)
    above = 4 * rod * throw / (top + bottom) - position
    height = bottom + above
    away = hypot(offset, height)
    near_sine = position * (2 * top - position) / (rod + throw + away) * (rod + away - throw)
    near_cosine = above * (height + bottom) / (away + rod - throw) * (away + throw + rod)
    half = degrees(2 * atan2(sqrt(near_sine), sqrt(max(near_cosine, 0.0))))
    return middle + half, middle - half
