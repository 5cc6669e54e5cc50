"""When each cylinder fires, for engines that fire at even intervals; and means of angles on a circle."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, degrees, fsum, hypot

from kb.calc.circle import cosine, sine, within_half_a_turn
from kb.calc.finite import require_finite
from kb.errors import GeometryImpossible, OddFire


def firing_angles(order: Sequence[int], *, even_fire: bool | None, four_stroke: bool = False) -> dict[int, float]:
    """Degrees of the flywheel from the top dead centre of the first cylinder in the order to that of each cylinder.

    ``order`` lists the cylinders in the order in which they fire. The interval is 360/n for a two-stroke and 720/n
    for a four-stroke, read modulo 360 at the flywheel. The place in the order counts, not the cylinder's number.

    Raises:
        OddFire: the engine does not fire at even intervals, or that is not known (``None``).
        GeometryImpossible: the order is not each cylinder once.

    >>> firing_angles([1, 3, 2], even_fire=True)
    {1: 0.0, 3: 120.0, 2: 240.0}
    """
    if not order or sorted(order) != list(range(1, len(order) + 1)):
        raise GeometryImpossible(f"{'-'.join(map(str, order))} does not name each cylinder once")
    if len(order) > 1 and even_fire is not True:
        why = "it is not known to fire at even intervals" if even_fire is None else "it fires at uneven intervals"
        raise OddFire(f"{why}: the firing order alone does not show where each cylinder fires")
    turn = 720.0 if four_stroke else 360.0
    return {cylinder: place * turn / len(order) % 360 for place, cylinder in enumerate(order)}


def on_marks_of_the_first(
    angle: float, cylinder: int, order: Sequence[int], *, even_fire: bool | None, four_stroke: bool = False
) -> float:
    """What the marks of the order's first cylinder show while another stands at ``angle``; signed degrees.

    ``angle`` and the result before top dead centre positive; the result from -180 (excluded) to 180. The bank does not
    matter: where an engine fires at even intervals the order alone decides. The reverse is the angle plus what
    ``firing_angles`` gives.

    Raises:
        OddFire: the engine does not fire at even intervals, or that is not known (``None``).
        GeometryImpossible: the order is not each cylinder once, or has no such cylinder.
        NotFinite: the angle is not a finite number.

    >>> on_marks_of_the_first(24, 3, [1, 3, 2], even_fire=True)
    -96.0
    """
    require_finite(angle)
    places = firing_angles(order, even_fire=even_fire, four_stroke=four_stroke)
    if cylinder not in places:
        raise GeometryImpossible(f"there is no cylinder {cylinder} in {'-'.join(map(str, order))}")
    return within_half_a_turn(angle - places[cylinder])


def mean_angle(angles: Sequence[float]) -> float:
    """The mean of angles on a circle, in degrees from -180 (excluded) to 180.

    Raises:
        GeometryImpossible: there are none, or they are spread evenly around the circle and have no mean.
        NotFinite: an angle is not finite.

    >>> mean_angle([359, 1]), mean_angle([170, -170])
    (0.0, 180.0)
    """
    require_finite(*angles)
    if not angles:
        raise GeometryImpossible("there are no angles to take the mean of")
    x = fsum(cosine(angle) for angle in angles)
    y = fsum(sine(angle) for angle in angles)
    if hypot(x, y) < 1e-9 * len(angles):
        raise GeometryImpossible("these angles are spread evenly around the circle and have no mean")
    mean = degrees(atan2(y, x))
    return 180.0 if mean == -180.0 else mean
