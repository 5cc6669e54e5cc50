"""Throttle plates: how much of the bore is open at a plate angle, and how the air of two plates compares.

J. B. Heywood, *Internal Combustion Engine Fundamentals* (1988), eq. 7.18 (from memory; the tests check the projected
area by quadrature, not the formula).
"""

from __future__ import annotations

from math import atan2, pi, sin, sqrt

from kb.calc.circle import cosine, sine
from kb.calc.finite import require_finite
from kb.errors import GeometryImpossible


def open_part(angle: float, closed_angle: float = 10.0, shaft_ratio: float = 0.2) -> float:
    """The open area as a share of the bore's.

    ``angle`` of the plate in degrees from square across the bore, from ``closed_angle`` (where it touches) to 90;
    ``shaft_ratio`` is shaft over bore diameter, 0 to under 1. At the closed angle it is 0; once only the shaft is in
    the way it grows no further. With ``sin a`` the shaft's ratio and ``sin b`` that over ``k = cos t / cos c``, the
    crescent beside the plate and the strip beside the shaft are a sum of positive terms, which keeps its digits from
    the first crack to wide open.

    Raises:
        GeometryImpossible: an angle or the ratio is out of its range.
        NotFinite: a number is not finite.

    >>> round(open_part(20), 10), round(open_part(13) / open_part(12), 6)
    (0.0456420322, 1.567153)
    """
    require_finite(angle, closed_angle, shaft_ratio)
    if not 0 <= closed_angle < 90 or not closed_angle <= angle <= 90:
        raise GeometryImpossible(f"a plate that closes at {closed_angle} degrees does not stand at {angle}")
    if not 0 <= shaft_ratio < 1:
        raise GeometryImpossible(f"a shaft is 0 to under 1 of the bore, not {shaft_ratio}")
    a, beside = shaft_ratio, sqrt((1 - shaft_ratio) * (1 + shaft_ratio))
    gap = 2 * sine((angle + closed_angle) / 2) * sine((angle - closed_angle) / 2) / cosine(closed_angle)  # 1 - k
    k = cosine(angle) / cosine(closed_angle)
    over = (1 - a) - gap  # how far the plate's shadow tops the shaft's
    if over <= 0 or k <= a:
        left = atan2(beside, a)  # the shaft alone is in the way
        return 2 / pi * (_less_its_sine(left) + 2 * beside * sin(left / 2) ** 2)
    seen = sqrt(over * (k + a))  # k cos b
    swing = atan2(a * gap * (1 + k) / (beside + seen), beside * seen + a * a)  # b - a
    crescent = gap * (atan2(seen, a) + a * seen / (k * k))
    strip = _less_its_sine(swing) + 2 * a * (seen + beside) / k * sin(swing / 2) ** 2
    return 2 / pi * (crescent + strip)


def _less_its_sine(angle: float) -> float:
    """``x - sin x`` for 0 <= x < pi, by its series where the difference would lose digits."""
    if angle > 1:
        return angle - sin(angle)
    square, term, total, place = angle * angle, angle**3 / 6, 0.0, 3
    while abs(term) > 1e-18 * total:
        total += term
        term *= -square / ((place + 1) * (place + 2))
        place += 2
    return total


def air_ratio(angle: float, other: float, closed_angle: float = 10.0, shaft_ratio: float = 0.2) -> float:
    """The air through the second plate over the air through the first, by open area, at the same pressure.

    Raises:
        GeometryImpossible: as ``open_part``, or the first plate is shut.
        NotFinite: a number is not finite.

    >>> round(air_ratio(30, 31), 10)
    1.0745017283
    """
    one = open_part(angle, closed_angle, shaft_ratio)
    if one <= 0:
        raise GeometryImpossible("the first plate is shut: no air passes it to compare with")
    return open_part(other, closed_angle, shaft_ratio) / one


def angle_for_part(part: float, closed_angle: float = 10.0, shaft_ratio: float = 0.2) -> float:
    """The plate's angle in degrees at which ``part`` of the bore is first open: the reverse of ``open_part``.

    ``part`` from 0 to what the shaft leaves; the other two as there. Found by bisection, to the last place.

    Raises:
        GeometryImpossible: an angle or the ratio is out of its range, or the shaft leaves less open than that.
        NotFinite: a number is not finite.

    >>> round(angle_for_part(0.0456420322017), 9)
    20.0
    """
    require_finite(part)
    most = open_part(90, closed_angle, shaft_ratio)
    if not 0 <= part <= most:
        raise GeometryImpossible(f"a shaft of {shaft_ratio} bores leaves 0 to {most} of the bore, never {part}")
    low, high = closed_angle, 90.0
    while low < (middle := (low + high) / 2) < high:
        if open_part(middle, closed_angle, shaft_ratio) < part:
            low = middle
        else:
            high = middle
    return high if part else closed_angle
