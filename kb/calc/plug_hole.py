"""A rod or gauge in a plug hole that leans: what it travels along the hole, and how far the piston moved.

Plain geometry of a line and a plane. A hole that leans by a meets a crown whose slope faces it by b at
``s = x cos b / cos(a - b)``; on a flat crown ``x = s cos a``.
"""

from __future__ import annotations

from kb.calc.circle import cosine
from kb.calc.finite import require_finite
from kb.errors import GeometryImpossible


def position_of_travel(travel: float, tilt: float, crown_slope: float = 0.0) -> float:
    """How far the piston moved along its bore when the rod in the hole moved by ``travel``.

    ``travel`` in any unit of length, which is the result's, and counted from top dead centre; ``tilt`` of the hole from
    the bore and ``crown_slope`` of the crown in degrees, positive where the crown is turned to face the hole. Each
    under 90 degrees, and the hole meets the crown by less than 90 degrees from square.

    Raises:
        GeometryImpossible: the hole does not meet the crown at those angles.
        NotFinite: a number is not finite.

    >>> round(position_of_travel(2.0, 30), 11), round(position_of_travel(2.0, 30, 30), 11)
    (1.73205080757, 2.30940107676)
    """
    return travel * _share(travel, tilt, crown_slope)


def travel_of_position(position: float, tilt: float, crown_slope: float = 0.0) -> float:
    """How far the rod in the hole moves while the piston moves by ``position``; the reverse, with the same limits.

    Raises:
        GeometryImpossible: the hole does not meet the crown at those angles.
        NotFinite: a number is not finite.

    >>> round(travel_of_position(1.73205080757, 30), 10)
    2.0
    """
    return position / _share(position, tilt, crown_slope)


def _share(length: float, tilt: float, crown_slope: float) -> float:
    """The piston's movement over the rod's."""
    require_finite(length, tilt, crown_slope)
    if not max(abs(tilt), abs(crown_slope), abs(tilt - crown_slope)) < 90:
        raise GeometryImpossible(f"a hole leaning {tilt} degrees does not meet a crown that slopes by {crown_slope}")
    return cosine(tilt - crown_slope) / cosine(crown_slope)
