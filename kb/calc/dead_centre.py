"""True top dead centre by bisecting two equal piston positions, and the pointer's error.

J. Rose, *Modern Machine-Shop Practice*, figs 2551-2552; A. Sinclair, *Locomotive Engine Running and Management*,
"Finding the Dead Centers"; Maggard, *Rough and Tumble Engineering* (turn in one direction only). The peak itself is
never used: near it a piston moves less than a gauge shows over several degrees.
"""

from __future__ import annotations

from math import atan2, degrees, hypot

from kb.calc.crank import pin_heights, travel_per_radian
from kb.calc.finite import require_finite
from kb.errors import GeometryImpossible
from kb.frozen import record

TYPE_CHECKING = False
if TYPE_CHECKING:
    from fractions import Fraction
    from typing import TypeVar

    Angle = TypeVar("Angle", float, Fraction)

STOP_JOB_BEYOND = 3.0
"""Degrees of dead-centre reading beyond which the job stops: look at the flywheel key, the flywheel, the cylinder.

Common practice, no source."""


@record()
class DeadCentre:
    """What the pointer shows at true top dead centre, in signed degrees (before positive), and its uncertainty.

    ``standard`` is the standard uncertainty; the expanded one is twice that (k = 2).
    """

    reading: float
    standard: float

    @property
    def expanded(self) -> float:
        """The expanded uncertainty, k = 2, in degrees."""
        return 2 * self.standard


def dead_centre(
    first: float, second: float, first_uncertainty: float = 0.25, second_uncertainty: float | None = None
) -> DeadCentre:
    """The reading at true top dead centre from the readings at the two contacts with a piston stop.

    Signed degrees as the pointer shows them, before top dead centre positive; uncertainties are standard ones. Exact
    whatever the rod, the depth of the stop or the tilt of its hole, if pin and bore have no offset. The same holds for
    two equal readings of a dial gauge.

    Raises:
        GeometryImpossible: both readings are the same, or an uncertainty is negative.
        NotFinite: a number is not finite.

    >>> dead_centre(31, -27).reading
    2.0
    """
    second_uncertainty = first_uncertainty if second_uncertainty is None else second_uncertainty
    require_finite(first, second, first_uncertainty, second_uncertainty)
    if first == second:
        raise GeometryImpossible("both contacts read the same: turn the other way for the second")
    if min(first_uncertainty, second_uncertainty) < 0:
        raise GeometryImpossible("an uncertainty is not negative")
    return DeadCentre((first + second) / 2, hypot(first_uncertainty, second_uncertainty) / 2)


def true_angle(indicated: Angle, dead_centre_reading: Angle) -> Angle:
    """The true angle of an indicated one: both signed degrees, before top dead centre positive.

    Raises:
        NotFinite: a number is not finite.

    >>> true_angle(21, 2)
    19
    """
    require_finite(indicated, dead_centre_reading)
    return indicated - dead_centre_reading


def indicated_angle(true: Angle, dead_centre_reading: Angle) -> Angle:
    """What the pointer shows at a true angle: both signed degrees, before top dead centre positive.

    Raises:
        NotFinite: a number is not finite.

    >>> indicated_angle(19, 2)
    21
    """
    require_finite(true, dead_centre_reading)
    return true + dead_centre_reading


def shift_error(shift: float, contact: float, throw: float, rod: float) -> float:
    """The error of the middle between two contacts, in degrees, when the stop gives way by ``shift`` on one side only.

    ``contact`` in degrees from top dead centre, up to 180 either side; lengths in one unit. To first order: the shift
    is small against the position.

    Raises:
        GeometryImpossible: the crank cannot turn, or the piston is still at the contact.
        NotFinite: the shift or the contact is not a finite number.

    >>> round(shift_error(0.05, 10, 35, 125), 3)
    0.185
    """
    require_finite(shift)
    slope = travel_per_radian(abs(contact), throw, rod)
    if slope <= 0:
        raise GeometryImpossible("at dead centre itself the piston does not move")
    return degrees(abs(shift) / slope) / 2


def offset_bias(offset: float, position: float, throw: float, rod: float) -> float:
    """How far the middle of two equal piston positions lies from true top dead centre, in degrees.

    ``position`` is how far the piston is below its own top, from 0 to the stroke; lengths in one unit. Positive to
    the side of the offset. The two positions lie evenly about the line from the crank's centre to the pin, at
    ``atan(e / H)`` with H the pin's height, while true top dead centre lies at ``asin(e / (l + r))``; the formula used
    takes no difference of the two.

    Raises:
        GeometryImpossible: no such crank, or the piston does not reach that position.
        NotFinite: a number is not finite.

    >>> round(offset_bias(1, 4.1574831422, 35, 125), 10)
    0.0095531581
    """
    top, bottom = pin_heights(throw, rod, offset)
    require_finite(position)
    stroke = 4 * rod * throw / (top + bottom)
    if not 0 <= position <= stroke:
        raise GeometryImpossible(f"the piston never gets {position} below its top in a stroke of {stroke}")
    return degrees(atan2(offset * position, (top - position) * top + offset * offset))
