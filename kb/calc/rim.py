"""The flywheel rim: degrees to distance along it and across it, and back; degrees between the numbered marks.

Plain geometry of the circle. The chord of an Nth of a circle is the diameter times sin(pi/N): "spacing of divisions on
a circle", 12: 0.2588, 36: 0.0872 (machinists' handbooks).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, degrees, radians, sqrt

from kb.calc.circle import sine
from kb.calc.finite import require_finite
from kb.errors import GeometryImpossible
from kb.frozen import record


def _require_diameter(diameter: float) -> None:
    require_finite(diameter)
    if diameter <= 0:
        raise GeometryImpossible(f"the diameter of a rim is positive, not {diameter}")


def _tape_radius(diameter: float, tape_thickness: float) -> float:
    """The radius of a tape around the rim, at the middle of its thickness."""
    _require_diameter(diameter)
    require_finite(tape_thickness)
    if tape_thickness < 0:
        raise GeometryImpossible(f"a tape is not {tape_thickness} thick")
    return (diameter + tape_thickness) / 2


def arc(angle: float, diameter: float, tape_thickness: float = 0.0) -> float:
    """The distance along the rim, by tape, of an angle.

    ``angle`` in degrees, any sign (the result has its sign); ``diameter`` and ``tape_thickness`` in one unit of
    length, which is also the result's. A tape of thickness h lies at the radius R + h/2.

    Raises:
        GeometryImpossible: the diameter is not positive, or the tape's thickness is negative.
        NotFinite: a number is not finite.

    >>> round(arc(10, 240), 9)
    20.943951024
    """
    require_finite(angle)
    return radians(angle) * _tape_radius(diameter, tape_thickness)


def angle_of_arc(distance: float, diameter: float, tape_thickness: float = 0.0) -> float:
    """The angle in degrees of a distance along the rim, by tape; lengths in one unit.

    Raises:
        GeometryImpossible: the diameter is not positive, or the tape's thickness is negative.
        NotFinite: a number is not finite.

    >>> round(angle_of_arc(62.0, 240), 9)
    29.602819415
    """
    require_finite(distance)
    return degrees(distance / _tape_radius(diameter, tape_thickness))


def chord(angle: float, diameter: float) -> float:
    """The straight distance between two marks on the rim, by callipers.

    ``angle`` between them in degrees, from -180 to 180; ``diameter`` in the unit of the result, which has the
    angle's sign.

    Raises:
        GeometryImpossible: the diameter is not positive, or the angle is more than half a turn.
        NotFinite: a number is not finite.

    >>> round(chord(60, 240), 9)
    120.0
    """
    _require_diameter(diameter)
    require_finite(angle)
    if abs(angle) > 180:
        raise GeometryImpossible(f"callipers cannot measure {angle} degrees: half a turn is the most")
    return diameter * sine(angle / 2)


def angle_of_chord(distance: float, diameter: float) -> float:
    """The angle in degrees between two marks that are ``distance`` apart by callipers; lengths in one unit.

    Raises:
        GeometryImpossible: the diameter is not positive, or the distance is more than it.
        NotFinite: a number is not finite.

    >>> round(angle_of_chord(62.0, 240), 9)
    29.942381992
    """
    _require_diameter(diameter)
    require_finite(distance)
    if abs(distance) > diameter:
        raise GeometryImpossible(f"no two marks on a rim of diameter {diameter} are {distance} apart")
    return degrees(2 * atan2(distance, sqrt((diameter - distance) * (diameter + distance))))


@record()
class FromMark:
    """Where a degree lies, counted from a numbered mark.

    ``mark`` and ``beyond`` are signed degrees, before top dead centre positive: the degree is ``mark + beyond``.
    ``divisions`` is how many divisions that is, where the size of one is known. ``extrapolated`` says that the degree
    lies outside the numbered marks.
    """

    mark: float
    beyond: float
    divisions: float | None
    extrapolated: bool


def from_nearest_mark(angle: float, marks: Sequence[float], division: float | None = None) -> FromMark:
    """Where a degree lies, counted from the nearest numbered mark.

    All in signed degrees, before top dead centre positive. Of two marks equally near the earlier one is taken.
    Divisions are counted only where ``division``, the size of one, is known.

    Raises:
        GeometryImpossible: there are no marks, or a division is not positive.
        NotFinite: the angle, a mark or a division is not a finite number.

    >>> from_nearest_mark(19, [21], 1)
    FromMark(mark=21, beyond=-2, divisions=2.0, extrapolated=True)
    """
    require_finite(angle, *marks, *(() if division is None else (division,)))
    if not marks:
        raise GeometryImpossible("no mark has a number to count from")
    if division is not None and division <= 0:
        raise GeometryImpossible(f"a division is not worth {division} degrees")
    nearest = min(marks, key=lambda mark: (abs(angle - mark), -mark))
    beyond = angle - nearest
    ticks = None if division is None else abs(beyond) / division
    return FromMark(nearest, beyond, ticks, not min(marks) <= angle <= max(marks))


def between_marks(distance: float, first: tuple[float, float], second: tuple[float, float]) -> tuple[float, bool]:
    """The degree at a distance along the rim, linear between two numbered marks, and whether it is extrapolated.

    ``distance`` along the rim from any one point; ``first`` and ``second`` are each a mark's distance from that point
    and its signed degrees. The distances are in one unit.

    Raises:
        GeometryImpossible: both marks stand at one place.
        NotFinite: a number is not finite.

    >>> between_marks(15.0, (10.0, 9.0), (30.0, 18.0))
    (11.25, False)
    """
    require_finite(distance, *first, *second)
    (start, low), (end, high) = first, second
    if start == end:
        raise GeometryImpossible("the two marks are at the same place")
    part = (distance - start) / (end - start)
    return low + (high - low) * part, not 0 <= part <= 1
